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
    public static MonthDiagnosis Of(Batch readings, InstallTable installs)
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
                rules.Judge(x, m, judged);
                metricRows.Put(i, columns, row, m);
                findingRows.Put(i, columns, row, judged);
                outcomes.Add(columns, row, x, m, judged, rules.Residuals);
            }

            metrics.Add(metricRows.Batch);
            findings.Add(findingRows.Batch);
        }

        return new(metrics, findings, outcomes.ToBatch());
    }
}
