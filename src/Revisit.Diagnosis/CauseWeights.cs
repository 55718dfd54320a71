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

    /// <summary>Where a line from one severity to the next is looked at: the middles of its quarters, all four at once.</summary>
    private static readonly Vector256<double> Steps = Vector256.Create(0.125, 0.375, 0.625, 0.875);
    private static readonly double[] LevelSeverity = [.. SignatureTable.Levels.Select(l => l.Severity)];
    private static readonly double[] LevelAirflow = [.. SignatureTable.Levels.Select(l => l.Kind switch { FaultKind.AirflowLow => -l.Severity, FaultKind.AirflowHigh => l.Severity, _ => 0 })];

    // Of in line: right on, or off by less than the first severity of a fault; airflow and charge more often than the rest.
    private const double RightOn = 0.5;
    private static readonly FaultKind[] Kinds = Enum.GetValues<FaultKind>();
    private static readonly int Single = Kinds.Length * Severities;
    private static readonly double[] TolerableShare = [.. Kinds.Select(k => RightOn * (k is FaultKind.AirflowLow or FaultKind.AirflowHigh or FaultKind.ChargeLow or FaultKind.ChargeHigh ? 0.2 : 0.04))];

    /// <summary>How far a unit's answer to a fault lies around the model's, as a share of it (judgement).</summary>
    private const double SignatureSpread = 0.2;

    private readonly float[] shifts = new float[SignatureTable.Levels.Count * Values];
    private readonly double[] natural = new double[ResidualSet.Count];
    private readonly double[] whitened = new double[SignatureTable.Levels.Count * ResidualSet.Count];
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
        Span<double> one = stackalloc double[ResidualSet.Count];
        foreach (var (level, share) in (ReadOnlySpan<(int, double)>)[(b.From, 1 - b.Share), (b.To, b.Share)])
        {
            if (level >= 0)
            {
                Natural(level, one);
                for (var r = 0; r < to.Length; r++)
                {
                    to[r] += share * one[r];
                }
            }
        }
    }

    /// <summary>Weighs a reading; false where the model has no signatures for its conditions.</summary>
    public bool Weigh(MetricSet m, ResidualSet residuals)
    {
        if (!m.Equipment!.Shifts(m.Conditions, m.ScfmPerTon, m.Sound, shifts))
        {
            return false;
        }

        Array.Clear(perCause);
        Array.Clear(severity);
        Array.Clear(capacity);
        Array.Clear(power);
        Array.Clear(best);
        Array.Clear(chargeBeside);
        least = Vector256.Create(double.PositiveInfinity);
        var w = residuals.Whitened;
        var n = present = w.Length;
        for (var level = 0; level < SignatureTable.Levels.Count; level++)
        {
            Natural(level, natural);
            residuals.Whiten(natural, whitened.AsSpan(level * ResidualSet.Count, n));
        }

        var zero = ResidualSet.Square(w);
        NoteOne(Causes.InLine, Causes.BaseRates[Causes.InLine] * RightOn, zero, 0, -1);
        for (var kind = 0; kind < Kinds.Length; kind++)
        {
            var cause = Causes.Of(Kinds[kind]);
            var rate = Causes.RateOf(Kinds[kind]);
            for (var s = 0; s < Severities; s++)
            {
                var level = kind * Severities + s;
                var prior = s == 0 ? Causes.BaseRates[Causes.InLine] * TolerableShare[kind] : rate * Causes.SeverityShare[s];
                Line(s == 0 ? Causes.InLine : cause, prior, w, s == 0 ? -1 : level - 1, level);
            }
        }

        for (var level = Single; level < SignatureTable.Levels.Count; level++)
        {
            Pair(level, w);
        }

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
        return true;
    }

    /// <summary>Everything from one level to the next: the square of the distance is a square in the share of the way gone.</summary>
    private void Line(int cause, double prior, ReadOnlySpan<double> w, int from, int to)
    {
        double a = 0, b = 0, c = 0, start2 = 0, cross = 0;
        for (var i = 0; i < w.Length; i++)
        {
            var start = from < 0 ? 0 : whitened[from * ResidualSet.Count + i];
            var step = whitened[to * ResidualSet.Count + i] - start;
            var off = w[i] - start;
            a += off * off;
            b += off * step;
            c += step * step;
            start2 += start * start;
            cross += start * step;
        }

        var bend = Steps * Steps * c;
        Note(cause, Vector256.Create(prior / 4), Vector256.Create(a) - 2 * b * Steps + bend, Vector256.Create(start2) + 2 * cross * Steps + bend, Steps, from, to);
    }

    /// <summary>Airflow and charge off together, as often as if one had nothing to do with the other; it counts to airflow, which is put right first.</summary>
    private void Pair(int level, ReadOnlySpan<double> w)
    {
        double square = 0, moved = 0;
        for (var i = 0; i < w.Length; i++)
        {
            var shift = whitened[level * ResidualSet.Count + i];
            square += (w[i] - shift) * (w[i] - shift);
            moved += shift * shift;
        }

        var pair = SignatureTable.Levels[level];
        var (airflow, charge) = (Causes.Of(pair.Kind), Causes.Of(pair.With!.Value));
        var weight = NoteOne(airflow, Causes.BaseRates[airflow] * Causes.BaseRates[charge] / 4, square, moved, level);
        chargeBeside[charge == Causes.ChargeLow ? 0 : 1] += weight;
    }

    /// <summary>Adds one explanation, a level itself, or −1 for none.</summary>
    private double NoteOne(int cause, double prior, double square, double moved, int level) =>
        Note(cause, Vector256.CreateScalar(prior), Vector256.Create(square), Vector256.Create(moved), Vector256<double>.One, level, level);

    /// <summary>Adds four explanations: their distances from the reading and how far they move the readings, both as squares of uncertainties.</summary>
    /// <returns>Their weight together.</returns>
    private double Note(int cause, Vector256<double> prior, Vector256<double> square, Vector256<double> moved, Vector256<double> share, int from, int to)
    {
        // A unit answers a fault as the model says give or take a share, so what moves the readings far is less certain of where to.
        var wider = Vector256<double>.One + SignatureSpread * SignatureSpread / present * moved;
        var volume = wider;
        for (var r = 1; r < present; r++)
        {
            volume *= wider;
        }

        square /= wider;
        var weights = prior * Vector256.Exp(-0.5 * ResidualSet.Bent(square)) / Vector256.Sqrt(volume);
        least = Vector256.Min(least, square);
        if (Vector256.GreaterThanAny(weights, Vector256.Create(best[cause].Weight)))
        {
            for (var k = 0; k < Vector256<double>.Count; k++)
            {
                if (weights[k] > best[cause].Weight)
                {
                    best[cause] = new(weights[k], from, to, share[k]);
                }
            }
        }

        var weight = Vector256.Sum(weights);
        perCause[cause] += weight;
        if (to >= 0 && cause != Causes.InLine)
        {
            var end = Vector256.Dot(weights, share);
            severity[cause] += (weight - end) * Severity(from) + end * Severity(to);
            capacity[cause] += (weight - end) * Change(from, 6) + end * Change(to, 6);
            power[cause] += (weight - end) * Change(from, 7) + end * Change(to, 7);
        }

        return weight;
    }

    private static double Severity(int level) => level < 0 ? 0 : LevelSeverity[level];

    private double Change(int level, int value) => level < 0 ? 0 : shifts[level * Values + value];

    /// <summary>A level's changes in the order of <see cref="Residual"/>; the table has them in the order of <see cref="EquipmentShift"/>.</summary>
    private void Natural(int level, Span<double> to)
    {
        var s = shifts.AsSpan(level * Values, Values);
        to[(int)Residual.Evaporating] = s[0];
        to[(int)Residual.CondensingOverOutdoor] = s[1];
        to[(int)Residual.Superheat] = s[2];
        to[(int)Residual.Subcooling] = s[3];
        to[(int)Residual.DischargeLine] = s[4];
        to[(int)Residual.Split] = s[5];
        to[(int)Residual.LiquidOverOutdoor] = s[1] - s[3];
        to[(int)Residual.AirflowShare] = LevelAirflow[level];
    }
}
