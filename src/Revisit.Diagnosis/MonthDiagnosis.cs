using Revisit.Records;

namespace Revisit.Diagnosis;

/// <summary>What one month of readings gives; metrics and findings in row groups.</summary>
internal sealed record MonthDiagnosis(IReadOnlyList<Batch> Metrics, IReadOnlyList<Batch> Findings, Batch Outcomes)
{
    private const int RowsPerGroup = 65_536;

    /// <summary>
    /// Judges a month. A visit whose readings fall into two months is compared within each month only; ingest dates a visit's
    /// readings minutes apart, so this concerns visits at midnight of a month's end.
    /// </summary>
    /// <param name="readings">The month's readings.</param>
    /// <param name="installs">Every install.</param>
    /// <param name="fleet">What sound readings of earlier months add to the expected values.</param>
    public static MonthDiagnosis Of(Batch readings, InstallTable installs, FleetExpectation fleet)
    {
        var columns = new ReadingColumns(readings, installs);
        var order = columns.InKeyOrder();
        var metrics = new List<Batch>();
        var findings = new List<Batch>();
        var outcomes = new OutcomeRows();
        var m = new MetricSet();
        var rules = new FindingRules();
        var judged = new Judgement();
        for (var start = 0; start < order.Length; start += RowsPerGroup)
        {
            var count = Math.Min(RowsPerGroup, order.Length - start);
            var metricRows = new MetricRows(count);
            var findingRows = new FindingRows(count);
            for (var i = 0; i < count; i++)
            {
                var row = order[start + i];
                var x = columns.At(row);
                ReadingMetrics.Compute(x, m);
                rules.Judge(x, m, judged, fleet.ShiftFor(x));
                metricRows.Put(i, columns, row, m);
                findingRows.Put(i, columns, row, judged);
                outcomes.Add(columns, row, x, m, judged, rules.Residuals);
            }

            metrics.Add(metricRows.Batch);
            findings.Add(findingRows.Batch);
        }

        return new(metrics, findings, outcomes.ToBatch());
    }

    /// <summary>What the sound readings of a month say of the expected values, judged by the equipment model alone.</summary>
    public static FleetExpectation SoundReadings(Batch readings, InstallTable installs)
    {
        var columns = new ReadingColumns(readings, installs);
        var (m, rules, judged, fleet) = (new MetricSet(), new FindingRules(), new Judgement(), new FleetExpectation());
        for (var row = 0; row < columns.Rows; row++)
        {
            var x = columns.At(row);
            ReadingMetrics.Compute(x, m);
            rules.Judge(x, m, judged);
            fleet.Add(x, rules.Residuals, judged);
        }

        return fleet;
    }
}
