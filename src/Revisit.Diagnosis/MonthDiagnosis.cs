using Revisit.Records;

namespace Revisit.Diagnosis;

/// <summary>What one month of readings gives; metrics and findings in row groups.</summary>
/// <param name="Metrics">Rows of the metrics table.</param>
/// <param name="Findings">Rows of the findings table.</param>
/// <param name="Outcomes">Rows of the table of visit outcomes.</param>
/// <param name="Sound">What the month's sound readings say of the expected values, judged by the equipment model alone.</param>
internal sealed record MonthDiagnosis(IReadOnlyList<Batch> Metrics, IReadOnlyList<Batch> Findings, Batch Outcomes, FleetExpectation Sound)
{
    private const int RowsPerGroup = 65_536;

    /// <summary>Readings that one core takes at a time.</summary>
    private const int RowsAtOnce = 4_096;

    /// <summary>Judges a month, on all cores. Ingest keeps a visit's readings together in one month.</summary>
    /// <param name="readings">The month's readings.</param>
    /// <param name="installs">Every install.</param>
    /// <param name="fleet">What sound readings of earlier months add to the expected values.</param>
    public static MonthDiagnosis Of(Batch readings, InstallTable installs, FleetExpectation fleet)
    {
        var columns = new ReadingColumns(readings, installs);
        var order = columns.InKeyOrder();
        // In the order of places: the first reading of a class settles what the class may differ by.
        var shifts = Array.ConvertAll(order, row => fleet.KnownShift(columns.FleetClass(row)) ?? fleet.ShiftOf(columns.At(row)));
        var groups = Enumerable.Range(0, (order.Length + RowsPerGroup - 1) / RowsPerGroup)
            .Select(g => Math.Min(RowsPerGroup, order.Length - g * RowsPerGroup))
            .Select(rows => (Metrics: new MetricRows(rows), Findings: new FindingRows(rows))).ToArray();
        var outcomes = new OutcomeRows(columns, order);
        var alike = columns.AlikeTogether(order);
        var sound = new FleetExpectation();
        Parallel.For(0, (order.Length + RowsAtOnce - 1) / RowsAtOnce, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount },
            () => new Worker(),
            (block, _, worker) =>
            {
                var (start, end) = (block * RowsAtOnce, Math.Min(order.Length, (block + 1) * RowsAtOnce));
                foreach (var i in alike.AsSpan(start..end))
                {
                    var x = columns.At(order[i]);
                    ReadingMetrics.Compute(x, worker.Metrics);
                    worker.Rules.JudgeAndLearn(x, worker.Metrics, worker.Judged, shifts[i], worker.Sound);
                    var group = groups[i / RowsPerGroup];
                    group.Metrics.Put(i % RowsPerGroup, columns, order[i], worker.Metrics);
                    group.Findings.Put(i % RowsPerGroup, columns, order[i], worker.Judged);
                    outcomes.Keep(i, x, worker.Metrics, worker.Judged, worker.Rules.Residuals);
                }

                return worker;
            },
            worker =>
            {
                lock (sound)
                {
                    sound.Add(worker.Sound);
                }
            });
        return new([.. groups.Select(g => g.Metrics.Batch)], [.. groups.Select(g => g.Findings.Batch)], outcomes.ToBatch(), sound);
    }

    /// <summary>What one core needs of its own.</summary>
    private sealed class Worker
    {
        public readonly MetricSet Metrics = new();
        public readonly FindingRules Rules = new();
        public readonly Judgement Judged = new();
        public readonly FleetExpectation Sound = new();
    }
}
