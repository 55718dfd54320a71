using Revisit.Fleet.Statistics;

namespace Revisit.Fleet.Copies;

/// <summary>
/// Last digits of a crew's quarter against even ones by Pearson's chi-square with 9 degrees of freedom (Pearson 1900, Phil. Mag. 50:157). Digits are those of the step in which the crew writes
/// a column; a column is left out where no step is seen (converted absolute pressures) or where it spreads over too few steps for even last digits: a normal
/// wrapped on a circle of ten steps with a deviation of 0.7 turns is even within 2 exp(−2π² 0.7²) = 0.01 %.
/// </summary>
internal static class LastDigits
{
    private const int FewestValues = 30, FewestDigits = 100;
    private const double FewestTurns = 0.7, OnStep = 0.98;

    /// <summary>Steps in which instruments and exports write, coarse first, with where they start: °F, °C, psi, bar, hundredths of an inch, Pa.</summary>
    private static readonly Dictionary<string, (double Step, double From)[]> Steps = new()
    {
        ["_f"] = [(1, 0), (0.5, 0), (0.9, 32), (0.1, 0), (0.18, 32), (0.018, 32)],
        ["_psig"] = [(1, 0), (0.5, 0), (1.450377377, 0), (0.1, 0), (0.1450377377, 0)],
        ["_inwc"] = [(0.01, 0), (0.00401463, 0)],
        ["_cfm"] = [(10, 0), (1, 0)],
        ["_w"] = [(10, 0), (1, 0)],
    };

    /// <summary>The step and start of each column as a crew writes it; step 0 where none is seen.</summary>
    /// <param name="written">The values of one reading a visit by column, without those that are missing.</param>
    public static (double Step, double From)[] StepsOf(double[][] written) => [.. CopyReading.Columns.Select((name, c) => StepOf(name, written[c]))];

    /// <summary>Counts the digits of one reading a visit and tests them.</summary>
    public static (int Digits, double ChiSquare, double Chance) Test(IEnumerable<CopyReading> visits, (double Step, double From)[] steps)
    {
        var counts = new int[10];
        foreach (var reading in visits)
        {
            for (var c = 0; c < steps.Length; c++)
            {
                if (steps[c].Step > 0 && !double.IsNaN(reading.Values[c]))
                {
                    counts[(int)(((long)Math.Round((reading.Values[c] - steps[c].From) / steps[c].Step) % 10 + 10) % 10)]++;
                }
            }
        }

        var n = counts.Sum();
        if (n < FewestDigits)
        {
            return (n, double.NaN, double.NaN);
        }

        var chi = counts.Sum(k => Math.Pow(k - n / 10.0, 2)) / (n / 10.0);
        return (n, chi, Tails.ChiSquareAtLeast(chi, 9));
    }

    private static (double Step, double From) StepOf(string name, double[] values)
    {
        if (values.Length < FewestValues || Steps.FirstOrDefault(s => name.EndsWith(s.Key, StringComparison.Ordinal)).Value is not { } steps)
        {
            return default;
        }

        var mean = values.Average();
        var deviation = Math.Sqrt(values.Average(v => (v - mean) * (v - mean)));
        foreach (var (step, from) in steps)
        {
            if (IsWrittenIn(values, step, from))
            {
                return deviation >= FewestTurns * 10 * step ? (step, from) : default;
            }
        }

        return default;
    }

    private static bool IsWrittenIn(double[] values, double step, double from)
    {
        // A tenth of a step either way holds a fifth of values written in finer steps, so it soon shows that too many lie off.
        var (on, left) = (0, values.Length);
        foreach (var value in values)
        {
            var steps = (value - from) / step;
            on += Math.Abs(steps - Math.Round(steps)) <= 0.1 ? 1 : 0;
            if (on + --left < OnStep * values.Length)
            {
                return false;
            }
        }

        return true;
    }
}
