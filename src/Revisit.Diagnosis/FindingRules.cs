namespace Revisit.Diagnosis;

/// <summary>
/// From a reading to a finding. Usability first; then every cause is weighed (<see cref="CauseWeights"/>) by how well the equipment
/// model's signature of it explains measured − expected, within the uncertainty of instruments, weather and sound systems; missing
/// values drop out. The rules of the trade hold: airflow is put right before charge is judged, and the finding is charge only when
/// subcooling (valve) or superheat (fixed orifice) itself lies outside its uncertainty, never by suction pressure or split alone.
/// Not for use from several threads at once: it reuses its arrays.
/// </summary>
public sealed class FindingRules
{
    /// <summary>Below this probability nothing is found: a crew is not sent, nor a system called in line, on the toss of a coin (judgement).</summary>
    public const double LeastProbability = 0.55;

    private readonly ResidualSet residuals = new();
    private readonly CauseWeights weights = new();
    private readonly double[] bestShift = new double[ResidualSet.Count], rivalShift = new double[ResidualSet.Count];
    private readonly ReasonText text = new();
    private string? complaint;

    /// <summary>The residuals of the last reading judged.</summary>
    public ResidualSet Residuals => residuals;

    /// <summary>Judges a reading.</summary>
    /// <param name="x">The reading.</param>
    /// <param name="m">Its metrics.</param>
    /// <param name="result">Filled; whatever it held is replaced.</param>
    /// <param name="fleet">What the fleet's sound readings add to the expected values, in the order of <see cref="Residual"/>; may be empty.</param>
    public void Judge(in ReadingInputs x, MetricSet m, Judgement result, ReadOnlySpan<double> fleet = default)
    {
        Look(x, m, fleet);
        Judge(x, m, result);
    }

    /// <summary>Fills the residuals and looks up what each fault would move.</summary>
    private void Look(in ReadingInputs x, MetricSet m, ReadOnlySpan<double> fleet)
    {
        residuals.Fill(x, m, fleet, double.IsNaN(x.MinutesRunning) ? Usability.DoubtWithoutMinutes : 1);
        complaint = Usability.Complaint(x, m) ?? (weights.Prepare(m, residuals) ? null : "no steady state is known for these conditions: read again in usual cooling weather");
        if (complaint is null)
        {
            weights.Weigh(residuals);
        }
    }

    /// <summary>Judges a reading and, besides, keeps what it says of sound systems where the model alone finds it in line.</summary>
    internal void JudgeAndLearn(in ReadingInputs x, MetricSet m, Judgement result, ReadOnlySpan<double> fleet, FleetExpectation learned)
    {
        Look(x, m, default);
        if (complaint is null && FindsInLine())
        {
            learned.AddSound(x, residuals);
        }

        // The uncertainty does not hang on what the fleet adds, so only the distances are weighed again.
        if (fleet.Length > 0)
        {
            residuals.Move(fleet);
            if (complaint is null)
            {
                weights.Weigh(residuals);
            }
        }

        Judge(x, m, result);
    }

    private bool FindsInLine()
    {
        Span<double> p = stackalloc double[Causes.All.Count];
        Normalise(weights.PerCause, p);
        return BestTwo(p).First == Causes.InLine && !FitsNothing && p[Causes.InLine] >= LeastProbability;
    }

    private void Judge(in ReadingInputs x, MetricSet m, Judgement result)
    {
        result.Clear();
        if (complaint is not null)
        {
            result.CannotJudgeBecause = complaint;
            result.Reasons = ReasonText.FilterFirst(x.FilterState);
            return;
        }

        Normalise(weights.PerCause, result.Probabilities);
        var (first, second) = BestTwo(result.Probabilities);
        weights.Shift(first, bestShift);
        weights.Shift(second, rivalShift);
        var beside = weights.ChargeBeside;
        result.ChargeBeside = first is Causes.AirflowHigh or Causes.AirflowLow && beside.Low + beside.High > 0.5 * result.Probabilities[first]
            ? beside.Low > beside.High ? "charge_low" : "charge_high"
            : null;
        result.Reasons = text.Write(x, residuals, first, bestShift, second, rivalShift, result);
        result.CannotJudgeBecause = Doubts(x, result.Probabilities, first, second);
        if (result.CannotJudgeBecause is null)
        {
            result.Finding = Causes.All[first];
            result.Probability = result.Probabilities[first];
            Cost(m, result, first);
        }
    }

    /// <summary>The square of the distance is as many as there are residuals, give or take; far more means that no cause explains the reading.</summary>
    private bool FitsNothing => weights.LeastSquare > residuals.Present + 4 * Math.Sqrt(2 * residuals.Present);

    private string? Doubts(in ReadingInputs x, double[] probabilities, int first, int second)
    {
        if (FitsNothing)
        {
            return "the readings fit no cause: look for two faults at once or a wrong value, then measure again";
        }

        if (probabilities[first] < LeastProbability)
        {
            return $"cannot tell {ReasonText.Plain(first)} from {ReasonText.Plain(second)} apart: {ReasonText.TellApart(first, second)}";
        }

        var tells = x.HasOrifice ? Residual.Superheat : Residual.Subcooling;
        if (first is Causes.ChargeLow or Causes.ChargeHigh && Math.Abs(residuals.Value(tells)) < residuals.Sd(tells))
        {
            return $"{ReasonText.Plain(first)} is suggested, but {(x.HasOrifice ? "superheat" : "subcooling")}, which alone judges charge here, is inside its uncertainty: put airflow right, then read it again";
        }

        return null;
    }

    /// <summary>Millionths that sum to one million; what rounding leaves goes to the largest.</summary>
    private static void Normalise(ReadOnlySpan<double> weights, Span<double> probabilities)
    {
        var left = 1_000_000;
        var largest = 0;
        Span<int> millionths = stackalloc int[probabilities.Length];
        for (var c = 0; c < probabilities.Length; c++)
        {
            millionths[c] = (int)Math.Round(weights[c] * 1_000_000);
            left -= millionths[c];
            largest = weights[c] > weights[largest] ? c : largest;
        }

        millionths[largest] += left;
        for (var c = 0; c < probabilities.Length; c++)
        {
            probabilities[c] = millionths[c] / 1_000_000.0;
        }
    }

    private static (int First, int Second) BestTwo(ReadOnlySpan<double> p)
    {
        var first = 0;
        for (var c = 1; c < p.Length; c++)
        {
            first = p[c] > p[first] ? c : first;
        }

        var second = first == 0 ? 1 : 0;
        for (var c = 0; c < p.Length; c++)
        {
            second = c != first && p[c] > p[second] ? c : second;
        }

        return (first, second);
    }

    /// <summary>What the fault costs, by the model; a charge too high is not quantified, since published sources disagree on its sign.</summary>
    private void Cost(MetricSet m, Judgement result, int cause)
    {
        if (cause == Causes.InLine)
        {
            (result.Severity, result.CapacityLossPct, result.ExtraEnergyPct) = (0, 0, 0);
            return;
        }

        var (severity, capacity, power) = weights.Mean(cause);
        result.Severity = Math.Round(severity, 3);
        if (cause == Causes.ChargeHigh)
        {
            return;
        }

        var loss = -capacity / m.Sound.CapacityRatio;
        result.CapacityLossPct = Math.Round(100 * loss, 1) + 0.0;
        result.ExtraEnergyPct = Math.Round(100 * ((1 + power / m.Sound.PowerRatio) / (1 - loss) - 1), 1) + 0.0;
    }
}
