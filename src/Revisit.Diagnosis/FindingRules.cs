namespace Revisit.Diagnosis;

/// <summary>
/// From a reading to a finding by rules of the trade. Usability first; then each cause is weighed by how well its
/// <see cref="Signatures"/> at several severities explains measured − expected, each residual in units of its own uncertainty and
/// missing ones left out, times its <see cref="Signatures.BaseRates"/>. Charge is never found by suction pressure or split alone: the
/// finding is charge only when subcooling (valve) or superheat (fixed orifice) itself lies outside its uncertainty.
/// Not for use from several threads at once: it reuses its arrays.
/// </summary>
public sealed class FindingRules
{
    /// <summary>Below this probability the best cause is not told apart from the next.</summary>
    public const double LeastProbability = 0.4;

    // Beyond three uncertainties a residual counts linearly: one wild value must not outvote the rest.
    private const double Bend = 3.0;

    private readonly ResidualSet residuals = new();
    private readonly Prepared valve = new(Signatures.Valve);
    private readonly Prepared orifice = new(Signatures.Orifice);
    private readonly double[] weights = new double[Math.Max(Signatures.Valve.Count, Signatures.Orifice.Count)];
    private readonly double[] perCause = new double[Signatures.Causes.Count];
    private readonly ReasonText text = new();

    /// <summary>The residuals of the last reading judged.</summary>
    public ResidualSet Residuals => residuals;

    /// <summary>Judges a reading.</summary>
    /// <param name="x">The reading.</param>
    /// <param name="m">Its metrics.</param>
    /// <param name="result">Filled; whatever it held is replaced.</param>
    public void Judge(in ReadingInputs x, MetricSet m, Judgement result)
    {
        result.Clear();
        residuals.Fill(x, m, double.IsNaN(x.MinutesRunning) ? Usability.DoubtWithoutMinutes : 1);
        if (Usability.Complaint(x, m) is { } complaint)
        {
            result.CannotJudgeBecause = complaint;
            result.Reasons = ReasonText.FilterFirst(x.FilterState);
            return;
        }

        var set = x.HasOrifice ? orifice : valve;
        var between = Math.Clamp((x.OutdoorDb - 82) / 13, 0, 1);
        Weigh(set, between);
        Normalise(result.Probabilities);
        var (first, second) = BestTwo(result.Probabilities);
        var best = set.BestOf(first, weights);
        var rival = set.BestOf(second, weights);
        result.Reasons = text.Write(x, residuals, set, between, best, rival, result.Probabilities);
        result.CannotJudgeBecause = Doubts(x, set, between, result.Probabilities, first, second, best);
        if (result.CannotJudgeBecause is null)
        {
            result.Finding = Signatures.Causes[first];
            result.Probability = result.Probabilities[first];
            Cost(result, set, between, first);
        }
    }

    private string? Doubts(in ReadingInputs x, Prepared set, double between, double[] probabilities, int first, int second, int best)
    {
        if (probabilities[first] < LeastProbability)
        {
            return $"cannot tell {ReasonText.Plain(first)} from {ReasonText.Plain(second)} apart: {ReasonText.TellApart(first, second)}";
        }

        // Half a unit a residual is what chance gives; far more means that no single cause explains the reading.
        var count = 0;
        foreach (var value in residuals.Values)
        {
            count += double.IsNaN(value) ? 0 : 1;
        }

        if (-LogLikelihood(set, best, between) > 4 + 1.5 * count)
        {
            return "the readings fit no single cause: look for two faults at once or a wrong value, then measure again";
        }

        var cause = Signatures.Causes[first];
        var tells = x.HasOrifice ? Residual.Superheat : Residual.Subcooling;
        if (cause is "charge_low" or "charge_high" && Math.Abs(residuals.Value(tells)) < residuals.Sd(tells))
        {
            return $"{ReasonText.Plain(first)} is suggested, but {(x.HasOrifice ? "superheat" : "subcooling")}, which alone judges charge here, is inside its uncertainty: put airflow right, then read it again";
        }

        return null;
    }

    private void Weigh(Prepared set, double between)
    {
        var greatest = double.NegativeInfinity;
        for (var h = 0; h < set.Count; h++)
        {
            weights[h] = set.LogPrior[h] + LogLikelihood(set, h, between);
            greatest = Math.Max(greatest, weights[h]);
        }

        Array.Clear(perCause);
        for (var h = 0; h < set.Count; h++)
        {
            weights[h] = Math.Exp(weights[h] - greatest);
            perCause[set.Cause[h]] += weights[h];
        }
    }

    private double LogLikelihood(Prepared set, int hypothesis, double between)
    {
        var values = residuals.Values;
        var sds = residuals.Sds;
        var floors = residuals.Floors;
        var sum = 0.0;
        for (var r = 0; r < ResidualSet.Count; r++)
        {
            if (double.IsNaN(values[r]))
            {
                continue;
            }

            var z = Math.Abs(values[r] - set.Mean(hypothesis, r, between, floors[r])) / sds[r];
            sum -= z < Bend ? 0.5 * z * z : Bend * (z - 0.5 * Bend);
        }

        return sum;
    }

    /// <summary>Millionths that sum to one million; what rounding leaves goes to the largest.</summary>
    private void Normalise(double[] probabilities)
    {
        var sum = 0.0;
        foreach (var p in perCause)
        {
            sum += p;
        }

        var left = 1_000_000;
        var largest = 0;
        Span<int> millionths = stackalloc int[probabilities.Length];
        for (var c = 0; c < probabilities.Length; c++)
        {
            millionths[c] = (int)Math.Round(perCause[c] / sum * 1_000_000);
            left -= millionths[c];
            largest = perCause[c] > perCause[largest] ? c : largest;
        }

        millionths[largest] += left;
        for (var c = 0; c < probabilities.Length; c++)
        {
            probabilities[c] = millionths[c] / 1_000_000.0;
        }
    }

    private static (int First, int Second) BestTwo(double[] p)
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

    private void Cost(Judgement result, Prepared set, double between, int cause)
    {
        double total = 0, severity = 0, capacity = 0, energy = 0;
        for (var h = 0; h < set.Count; h++)
        {
            if (set.Cause[h] == cause)
            {
                var s = set.Signatures[h];
                total += weights[h];
                severity += weights[h] * s.Severity;
                capacity += weights[h] * (s.CapacityChange82 + between * (s.CapacityChange95 - s.CapacityChange82));
                energy += weights[h] * s.ExtraEnergy;
            }
        }

        result.Severity = Math.Round(severity / total, 3);
        result.CapacityLossPct = Math.Round(-100 * capacity / total, 1) + 0.0;
        result.ExtraEnergyPct = Math.Round(100 * energy / total, 1);
    }
}
