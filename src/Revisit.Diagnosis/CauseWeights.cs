using System.Runtime.Intrinsics;
using Revisit.Physics;

namespace Revisit.Diagnosis;

/// <summary>
/// Weighs every cause against the residuals of one reading: the signatures of the equipment model at five severities, and everything
/// between two of them along a straight line, each with a prior; airflow and charge off together besides. Faults up to the first
/// severity (10 % of airflow, 5 % of charge, and their like) are what the trade lets pass: they count as in line.
/// Not for use from several threads at once: it reuses its arrays.
/// </summary>
internal sealed class CauseWeights
{
    private const int Values = SignatureTable.Values, Severities = 5;

    private static readonly int Row = (SignatureTable.Levels.Count + 3) / 4 * 4;

    /// <summary>Where a line from one severity to the next is looked at: the middles of its quarters, all four at once.</summary>
    private static readonly Vector256<double> Steps = Vector256.Create(0.125, 0.375, 0.625, 0.875);
    private static readonly double[] LevelSeverity = [.. SignatureTable.Levels.Select(l => l.Severity)];
    private static readonly double[] LevelAirflow = [.. SignatureTable.Levels.Select(l => l.Kind switch { FaultKind.AirflowLow => -l.Severity, FaultKind.AirflowHigh => l.Severity, _ => 0 })];

    // Of in line: right on, or off by less than the first severity of a fault; airflow and charge more often than the rest.
    private const double RightOn = 0.5;
    private static readonly FaultKind[] Kinds = Enum.GetValues<FaultKind>();
    private static readonly int Single = Kinds.Length * Severities;
    private static readonly double[] TolerableShare = [.. Kinds.Select(k => RightOn * (k is FaultKind.AirflowLow or FaultKind.AirflowHigh or FaultKind.ChargeLow or FaultKind.ChargeHigh ? 0.2 : 0.04))];

    /// <summary>All bits where a level's line starts at another level, none where it starts at a sound system.</summary>
    private static readonly double[] HasStart = [.. Enumerable.Range(0, (Single + 3) / 4 * 4).Select(l => l % Severities == 0 ? 0 : BitConverter.Int64BitsToDouble(-1))];
    private static readonly double[] PairPrior = [.. SignatureTable.Levels.Skip(Single).Select(l => Causes.BaseRates[Causes.Of(l.Kind)] * Causes.BaseRates[Causes.Of(l.With!.Value)] * PairShare(l))];
    private static readonly (int Cause, double Prior)[] LinePrior = [.. Enumerable.Range(0, Single).Select(l => Kinds[l / Severities] is var kind && l % Severities is var s && s == 0
        ? (Causes.InLine, Causes.BaseRates[Causes.InLine] * TolerableShare[l / Severities])
        : (Causes.Of(kind), Causes.RateOf(kind) * Causes.SeverityShare[s]))];

    /// <summary>How far a unit's answer to a fault lies around the model's, as a share of it (judgement).</summary>
    private const double SignatureSpread = 0.2;

    private readonly float[] shifts = new float[SignatureTable.Levels.Count * Values];

    // The levels side by side, a row a residual; room for what reads four beyond the last.
    private readonly double[] natural = new double[ResidualSet.Count * Row], whitened = new double[ResidualSet.Count * Row];
    private readonly double[] perCause = new double[Causes.All.Count];
    private readonly double[] severity = new double[Causes.All.Count], capacity = new double[Causes.All.Count], power = new double[Causes.All.Count];
    private readonly Best[] best = new Best[Causes.All.Count];
    private readonly double[] chargeBeside = new double[2];
    private Vector256<double> least;
    private int present;

    /// <summary>What explains the reading best under one cause: a share of the way from one level to the next.</summary>
    private record struct Best(double Weight, int From, int To, double Share);

    /// <summary>Weight of each cause, summing to 1, in the order of <see cref="Causes.All"/>.</summary>
    public ReadOnlySpan<double> PerCause => perCause;

    /// <summary>Share of the weight of an airflow cause in which charge is low, or high, as well.</summary>
    public (double Low, double High) ChargeBeside => (chargeBeside[0], chargeBeside[1]);

    /// <summary>Square of the distance from the reading to the best explanation there is, in uncertainties.</summary>
    public double LeastSquare => Math.Min(Math.Min(least[0], least[1]), Math.Min(least[2], least[3]));

    /// <summary>Mean severity, change of capacity over nominal and change of power over rated of a cause, as weighed.</summary>
    public (double Severity, double Capacity, double Power) Mean(int cause) =>
        (severity[cause] / perCause[cause], capacity[cause] / perCause[cause], power[cause] / perCause[cause]);

    /// <summary>What the best explanation under a cause moves, in the order of <see cref="Residual"/>.</summary>
    public void Shift(int cause, Span<double> to)
    {
        to.Clear();
        var b = best[cause];
        foreach (var (level, share) in (ReadOnlySpan<(int, double)>)[(b.From, 1 - b.Share), (b.To, b.Share)])
        {
            if (level >= 0)
            {
                for (var r = 0; r < to.Length; r++)
                {
                    to[r] += share * natural[r * Row + level];
                }
            }
        }
    }

    /// <summary>Looks up what every fault would move, in the form of the residuals; false where the model has no signatures for the conditions.</summary>
    public bool Prepare(MetricSet m, ResidualSet residuals)
    {
        if (!m.Equipment!.Shifts(m.Conditions, m.ScfmPerTon, m.Sound, shifts))
        {
            return false;
        }

        for (var level = 0; level < SignatureTable.Levels.Count; level++)
        {
            var s = shifts.AsSpan(level * Values, Values);
            natural[(int)Residual.Evaporating * Row + level] = s[0];
            natural[(int)Residual.CondensingOverOutdoor * Row + level] = s[1];
            natural[(int)Residual.Superheat * Row + level] = s[2];
            natural[(int)Residual.Subcooling * Row + level] = s[3];
            natural[(int)Residual.DischargeLine * Row + level] = s[4];
            natural[(int)Residual.Split * Row + level] = s[5];
            natural[(int)Residual.LiquidOverOutdoor * Row + level] = s[1] - s[3];
            natural[(int)Residual.AirflowShare * Row + level] = LevelAirflow[level];
        }

        residuals.WhitenRows(natural, whitened, Row);
        return true;
    }

    /// <summary>Weighs the residuals of the reading that was prepared.</summary>
    public void Weigh(ResidualSet residuals)
    {
        Array.Clear(perCause);
        Array.Clear(severity);
        Array.Clear(capacity);
        Array.Clear(power);
        Array.Clear(best);
        Array.Clear(chargeBeside);
        least = Vector256.Create(double.PositiveInfinity);
        var w = residuals.Whitened;
        present = w.Length;
        NoteOne(Causes.InLine, Causes.BaseRates[Causes.InLine] * RightOn, ResidualSet.Square(w));
        Lines(w);
        Pairs(w);
        var sum = 0.0;
        foreach (var p in perCause)
        {
            sum += p;
        }

        for (var c = 0; c < perCause.Length; c++)
        {
            perCause[c] /= sum;
            (severity[c], capacity[c], power[c]) = (severity[c] / sum, capacity[c] / sum, power[c] / sum);
        }

        (chargeBeside[0], chargeBeside[1]) = (chargeBeside[0] / sum, chargeBeside[1] / sum);
    }

    /// <summary>Everything from each level to the next: the square of the distance is a square in the share of the way gone.</summary>
    private void Lines(ReadOnlySpan<double> w)
    {
        for (var first = 0; first < Single; first += 4)
        {
            Vector256<double> a = default, b = default, c = default, start2 = default, cross = default;
            for (var i = 0; i < w.Length; i++)
            {
                // The level before; the first line of all starts at a sound system, like that of every kind.
                var from = Vector256.Create(HasStart, first) & (first == 0
                    ? Vector256.Create(0, whitened[i * Row], whitened[i * Row + 1], whitened[i * Row + 2])
                    : Vector256.Create(whitened, i * Row + first - 1));
                var step = Vector256.Create(whitened, i * Row + first) - from;
                var off = Vector256.Create(w[i]) - from;
                a += off * off;
                b += off * step;
                c += step * step;
                start2 += from * from;
                cross += from * step;
            }

            for (var k = 0; k < 4 && first + k < Single; k++)
            {
                var line = first + k;
                var (cause, prior) = LinePrior[line];
                var bend = Steps * Steps * c[k];
                Note(cause, Vector256.Create(prior / 4), Vector256.Create(a[k]) - 2 * b[k] * Steps + bend, Vector256.Create(start2[k]) + 2 * cross[k] * Steps + bend, line % Severities == 0 ? -1 : line - 1, line);
            }
        }
    }

    /// <summary>Airflow and charge off together, as often as if one had nothing to do with the other; it counts to airflow, which is put right first.</summary>
    private void Pairs(ReadOnlySpan<double> w)
    {
        for (var first = Single; first < SignatureTable.Levels.Count; first += 4)
        {
            Vector256<double> square = default, moved = default;
            for (var i = 0; i < w.Length; i++)
            {
                var shift = Vector256.Create(whitened, i * Row + first);
                var off = Vector256.Create(w[i]) - shift;
                square += off * off;
                moved += shift * shift;
            }

            var weights = Weights(Vector256.Create(PairPrior, first - Single), ref square, moved);
            for (var k = 0; k < 4; k++)
            {
                var pair = SignatureTable.Levels[first + k];
                var airflow = Causes.Of(pair.Kind);
                Keep(airflow, weights[k], first + k);
                chargeBeside[Causes.Of(pair.With!.Value) == Causes.ChargeLow ? 0 : 1] += weights[k];
            }
        }
    }

    /// <summary>Adds that nothing is off.</summary>
    private void NoteOne(int cause, double prior, double square)
    {
        var squares = Vector256.Create(square);
        Keep(cause, Weights(Vector256.Create(prior), ref squares, default)[0], -1);
    }

    /// <summary>Adds one explanation: a level itself, or −1 for none.</summary>
    private void Keep(int cause, double weight, int level)
    {
        if (weight > best[cause].Weight)
        {
            best[cause] = new(weight, level, level, 1);
        }

        perCause[cause] += weight;
        if (level >= 0)
        {
            severity[cause] += weight * Severity(level);
            capacity[cause] += weight * Change(level, 6);
            power[cause] += weight * Change(level, 7);
        }
    }

    /// <summary>Adds four explanations on the way from one level to the next: their distances from the reading and how far they move the readings, both as squares of uncertainties.</summary>
    private void Note(int cause, Vector256<double> prior, Vector256<double> square, Vector256<double> moved, int from, int to)
    {
        var weights = Weights(prior, ref square, moved);
        if (Vector256.GreaterThanAny(weights, Vector256.Create(best[cause].Weight)))
        {
            for (var k = 0; k < Vector256<double>.Count; k++)
            {
                if (weights[k] > best[cause].Weight)
                {
                    best[cause] = new(weights[k], from, to, Steps[k]);
                }
            }
        }

        var weight = Vector256.Sum(weights);
        perCause[cause] += weight;
        if (cause != Causes.InLine)
        {
            var end = Vector256.Dot(weights, Steps);
            severity[cause] += (weight - end) * Severity(from) + end * Severity(to);
            capacity[cause] += (weight - end) * Change(from, 6) + end * Change(to, 6);
            power[cause] += (weight - end) * Change(from, 7) + end * Change(to, 7);
        }
    }

    /// <summary>Weights of four explanations; their squares become what is left when the spread of answers is counted in.</summary>
    private Vector256<double> Weights(Vector256<double> prior, ref Vector256<double> square, Vector256<double> moved)
    {
        // A unit answers a fault as the model says give or take a share, so what moves the readings far is less certain of where to.
        var wider = Vector256<double>.One + SignatureSpread * SignatureSpread / present * moved;
        var volume = wider;
        for (var r = 1; r < present; r++)
        {
            volume *= wider;
        }

        square /= wider;
        least = Vector256.Min(least, square);
        return prior * Vector256.Exp(-0.5 * ResidualSet.Bent(square)) / Vector256.Sqrt(volume);
    }

    /// <summary>Share of a pair's rate at each of its severities: of airflow the two alike, of charge the smaller more often, as single faults are (judgement).</summary>
    private static double PairShare(FaultLevel pair) => 0.5 * pair.WithSeverity switch { < 0.15 => 0.55, < 0.3 => 0.35, _ => 0.1 };

    private static double Severity(int level) => level < 0 ? 0 : LevelSeverity[level];

    private double Change(int level, int value) => level < 0 ? 0 : shifts[level * Values + value];
}
