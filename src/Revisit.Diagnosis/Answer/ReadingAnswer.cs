using Revisit.Records;

namespace Revisit.Diagnosis;

/// <summary>
/// One reading, one answer, for the technician at the unit: metrics with uncertainty, the finding and how sure it is, what to check
/// first and in which order, what the proposed correction should change, and how near the coil is to freezing.
/// </summary>
public sealed class ReadingAnswer
{
    private ReadingAnswer(in ReadingInputs inputs, MetricSet metrics, Judgement judged)
    {
        (Inputs, Metrics, Judged) = (inputs, metrics, judged);
        Checks = NextChecks.For(inputs, judged);
        Change = CorrectionForecast.Of(inputs, metrics, judged);
        Freeze = FreezeWatch.Of(metrics, judged, Change);
        Cautions = CautionsFor(inputs, judged);
        Lacking = LackingOf(metrics);
    }

    public ReadingInputs Inputs { get; }

    public MetricSet Metrics { get; }

    public Judgement Judged { get; }

    /// <summary>What to check or do, in order.</summary>
    public IReadOnlyList<string> Checks { get; }

    /// <summary>What the proposed correction should change; null where none is proposed.</summary>
    public CorrectionForecast? Change { get; }

    /// <summary>How near the coil is to freezing; null where the suction pressure is not known.</summary>
    public FreezeWatch? Freeze { get; }

    /// <summary>What can hurt, for what is proposed.</summary>
    public IReadOnlyList<string> Cautions { get; }

    /// <summary>By reason, the metrics that are missing for it: what a value that was not taken costs.</summary>
    public IReadOnlyList<(string Reason, IReadOnlyList<string> Metrics)> Lacking { get; }

    /// <summary>Answers one reading.</summary>
    /// <param name="inputs">The reading; what is not known is NaN or null.</param>
    public static ReadingAnswer Of(in ReadingInputs inputs)
    {
        var (metrics, judged) = (new MetricSet(), new Judgement());
        ReadingMetrics.Compute(inputs, metrics);
        new FindingRules().Judge(inputs, metrics, judged);
        return new(inputs, metrics, judged);
    }

    /// <summary>Answers every reading of a table of readings.</summary>
    /// <param name="readings">Rows of <see cref="Tables.Readings"/>.</param>
    /// <param name="installs">Rows of <see cref="Tables.Installs"/>.</param>
    public static IEnumerable<(string Visit, int Reading, ReadingAnswer Answer)> Of(Batch readings, Batch installs)
    {
        var columns = new ReadingColumns(readings, new InstallTable(installs));
        return columns.InKeyOrder().Select(row => (columns.VisitId[row]!, columns.ReadingNo[row] ?? 0, Of(columns.At(row))));
    }

    private static List<string> CautionsFor(in ReadingInputs x, Judgement judged)
    {
        var cautions = new List<string> { Caution.PowerOff, Caution.Capacitors, Caution.Attic, Caution.Refrigerant };
        if (Caution.Of(x.Refrigerant) is { } flammable)
        {
            cautions.Add(flammable);
        }

        if (judged.Finding is "airflow_high")
        {
            cautions.Add(Caution.Freezing);
        }

        cautions.Add(Caution.MakerFirst);
        cautions.Add(Caution.Licensed);
        return cautions;
    }

    private static List<(string, IReadOnlyList<string>)> LackingOf(MetricSet metrics) =>
        [.. Enum.GetValues<MetricId>()
            .Where(id => !metrics[id].Has)
            .GroupBy(id => metrics[id].Missing!, StringComparer.Ordinal)
            .Select(g => (g.Key, (IReadOnlyList<string>)[.. g.Select(id => Tables.MetricColumns[(int)id])]))];
}
