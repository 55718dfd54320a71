using System.Globalization;
using System.Text;
using Revisit.Physics;
using Revisit.Records;

namespace Revisit.Diagnosis;

/// <summary>
/// How the method does on readings whose truth is known, in the terms of Yuill and Braun (Purdue 2012; definitions in
/// diagnosis_outcomes.csv of the physics tests): no response, correct, false alarm, missed detection, misdiagnosis; and whether its
/// stated probabilities come true.
/// </summary>
public sealed class MethodScore
{
    private readonly List<(double Stated, bool Right, bool Several)> stated = [];
    private readonly FindingRules rules = new();
    private readonly MetricSet metrics = new();
    private readonly Judgement judged = new();

    /// <summary>Rows of the table: a fault at a severity and how often each outcome came.</summary>
    public List<Row> Rows { get; } = [];

    /// <summary>One fault at one severity; sound systems have no fault.</summary>
    public sealed record Row(string Fault, double Severity, int Readings, int NoResponse, int Correct, int FalseAlarm, int Missed, int Misdiagnosed);

    /// <summary>
    /// Stated probability, to the nearest tenth, and the share of findings that were right, where at least 30 were made. With several faults
    /// at once each of them would be right, though they share the probability, so more come true than is stated.
    /// </summary>
    /// <param name="several">Of systems with several faults, or of those with one or none.</param>
    public IEnumerable<(double Stated, double Right, int Findings)> Calibration(bool several) => stated
        .Where(s => s.Several == several).GroupBy(s => Math.Round(10 * s.Stated)).Where(g => g.Count() >= 30).OrderBy(g => g.Key)
        .Select(g => (g.Average(s => s.Stated), g.Average(s => s.Right ? 1.0 : 0), g.Count()));

    /// <summary>Judges one reading.</summary>
    public string Judge(in ReadingInputs x) => JudgeWhole(x).Finding;

    /// <summary>Scores sound systems and every fault at every severity.</summary>
    /// <param name="sample">Where readings come from.</param>
    /// <param name="each">Readings a row.</param>
    /// <param name="progress">Told each row; may be null.</param>
    public static MethodScore Of(PerturbedSample sample, int each, IProgress<string>? progress = null)
    {
        var score = new MethodScore();
        score.Score(sample, null, 0, 5 * each);
        foreach (var kind in Enum.GetValues<FaultKind>())
        {
            var severities = kind is FaultKind.ChargeLow or FaultKind.ChargeHigh ? (double[])[0.05, 0.10, 0.15, 0.20, 0.30] : kind is FaultKind.AirflowLow or FaultKind.AirflowHigh ? [0.05, 0.10, 0.15, 0.20, 0.30, 0.40] : [0.1, 0.2, 0.3, 0.5];
            foreach (var severity in severities)
            {
                score.Score(sample, kind, severity, each);
            }

            progress?.Report($"{kind} scored");
        }

        for (var i = 0; i < 20 * each; i++)
        {
            var s = sample.NextOfPrior();
            var judged = score.JudgeWhole(s.Inputs);
            score.Calibrate(s.Truth == Causes.InLine ? [] : [Causes.All[s.Truth]], judged.Finding, judged.Probability);
        }

        return score;
    }

    /// <summary>The table and the calibration as text.</summary>
    public string ToText()
    {
        var text = new StringBuilder();
        text.Append("fault                  severity  readings  no response  correct             false alarm         missed  misdiagnosed\n");
        foreach (var r in Rows)
        {
            text.Append(CultureInfo.InvariantCulture,
                $"{r.Fault,-22} {(r.Severity > 0 ? r.Severity.ToString("0 %", CultureInfo.InvariantCulture) : ""),8} {r.Readings,9} {Share(r.NoResponse, r),12} {Interval(r.Correct, r.Readings),-19} {Interval(r.FalseAlarm, r.Readings),-19} {Share(r.Missed, r),6} {Share(r.Misdiagnosed, r),13}\n");
        }

        foreach (var several in (bool[])[false, true])
        {
            var bands = Calibration(several).ToList();
            if (bands.Count > 0)
            {
                text.Append(CultureInfo.InvariantCulture, $"\nstated probability  right               findings   {(several ? "several faults, each of which would be right" : "one fault or none")}\n");
            }

            foreach (var (said, came, findings) in bands)
            {
                text.Append(CultureInfo.InvariantCulture, $"{said,18:0.00}  {Interval((int)Math.Round(came * findings), findings),-19} {findings,8}\n");
            }
        }

        return text.ToString();
    }

    private static string Share(int n, Row r) => (100.0 * n / r.Readings).ToString("0.0 '%'", CultureInfo.InvariantCulture);

    /// <summary>Share with its Wilson interval, 95 %.</summary>
    private static string Interval(int n, int of)
    {
        var (low, high) = Wilson.Interval(n, of);
        return string.Create(CultureInfo.InvariantCulture, $"{100.0 * n / of:0.0} % ({100 * low:0.0}–{100 * high:0.0})");
    }

    /// <summary>Counts one finding in the row of its fault and severity; a row stands where its first finding came.</summary>
    /// <param name="fault">Name of the row.</param>
    /// <param name="severity">Severity of the row; 0 for sound systems.</param>
    /// <param name="truth">Findings that would be right; none for a sound system.</param>
    /// <param name="finding">What was found.</param>
    public void Count(string fault, double severity, IReadOnlyList<string> truth, string finding)
    {
        var i = Rows.FindIndex(r => r.Fault == fault && r.Severity == severity);
        if (i < 0)
        {
            (i, var none) = (Rows.Count, new Row(fault, severity, 0, 0, 0, 0, 0, 0));
            Rows.Add(none);
        }

        // Told by the fault that is there, however small: a small one that is called in line is missed, though nobody would mind.
        var row = Rows[i];
        row = row with { Readings = row.Readings + 1 };
        Rows[i] = finding == "cannot_judge" ? row with { NoResponse = row.NoResponse + 1 }
            : IsRight(truth, finding) ? row with { Correct = row.Correct + 1 }
            : truth.Count == 0 ? row with { FalseAlarm = row.FalseAlarm + 1 }
            : finding == "in_line" ? row with { Missed = row.Missed + 1 }
            : row with { Misdiagnosed = row.Misdiagnosed + 1 };
    }

    /// <summary>Keeps whether a finding with a stated probability was right.</summary>
    /// <param name="truth">Findings that would be right; none for a sound system.</param>
    /// <param name="finding">What was found.</param>
    /// <param name="probability">What was stated.</param>
    public void Calibrate(IReadOnlyList<string> truth, string finding, double probability)
    {
        if (finding != "cannot_judge")
        {
            stated.Add((probability, IsRight(truth, finding), truth.Count > 1));
        }
    }

    private static bool IsRight(IReadOnlyList<string> truth, string finding) => truth.Count == 0 ? finding == "in_line" : truth.Contains(finding);

    private void Score(PerturbedSample sample, FaultKind? kind, double severity, int readings)
    {
        var fault = kind is { } f ? Causes.All[Causes.Of(f)] + (f == FaultKind.EfficiencyLoss ? " (worn)" : "") : "sound";
        string[] truth = kind is { } k ? [Causes.All[Causes.Of(k)]] : [];
        for (var i = 0; i < readings; i++)
        {
            Count(fault, severity, truth, Judge(sample.Next(kind, severity).Inputs));
        }
    }

    private Judgement JudgeWhole(in ReadingInputs x)
    {
        ReadingMetrics.Compute(x, metrics);
        rules.Judge(x, metrics, judged);
        return judged;
    }
}
