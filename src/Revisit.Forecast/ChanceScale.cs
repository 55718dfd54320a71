namespace Revisit.Forecast;

/// <summary>
/// Turns raw scores into chances: logistic in the score and its square, p = 1 / (1 + exp(−(level + slope·z + bend·z²))), z the score in standard
/// deviations, its square held beyond 2.5 of them and beyond what was fitted to. Fitted to smoothed targets by Newton's method with step halving, as in Platt's calibration
/// (Lin, Lin and Weng, "A note on Platt's probabilistic outputs for support vector machines", Machine Learning 68, 2007, from memory), which
/// has no bend; the bend is left out where it would make a higher score a lower chance.
/// </summary>
/// <param name="Middle">Mean of the raw scores.</param>
/// <param name="Width">Their standard deviation.</param>
/// <param name="Level">Log odds at the mean.</param>
/// <param name="Slope">Log odds a standard deviation.</param>
/// <param name="Bend">Log odds a standard deviation squared.</param>
/// <param name="Low">Where the square is held below.</param>
/// <param name="High">Where it is held above.</param>
public sealed record ChanceScale(double Middle, double Width, double Level, double Slope, double Bend, double Low, double High)
{
    private const double Far = 2.5;

    /// <summary>Chance for a raw score.</summary>
    public double Of(double score)
    {
        var z = (score - Middle) / Width;
        var held = Math.Clamp(z, Low, High);
        return 1 / (1 + Math.Exp(-(Level + Slope * z + Bend * held * held)));
    }

    /// <summary>Fits to raw scores and answers of rows that have a weight, where those are enough to fit on; else of all rows alike.</summary>
    /// <param name="held">Rows and their raw scores.</param>
    /// <param name="settings">How many rows and corrections are enough.</param>
    public static ChanceScale Fit(IReadOnlyList<HeldOut> held, ForecastSettings settings)
    {
        if (!EnoughPlanned(held.Select(h => h.Row), settings))
        {
            return Fit([.. held.Select(h => h.Score)], [.. held.Select(h => h.Row.Needed)]);
        }

        var at = held.Where(h => h.Row.Weight > 0).ToList();
        var mean = at.Average(h => h.Row.Weight);
        return Fit([.. at.Select(h => h.Score)], [.. at.Select(h => h.Row.Needed)], [.. at.Select(h => h.Row.Weight / mean)]);
    }

    /// <summary>Whether enough rows have a weight to calibrate on them.</summary>
    public static bool EnoughPlanned(IEnumerable<LabelledInstall> rows, ForecastSettings settings)
    {
        var weighted = rows.Where(r => r.Weight > 0).ToList();
        var positives = weighted.Count(r => r.Needed);
        return settings.WeighPlannedChecks && weighted.Count >= settings.FewestLabels && positives >= settings.FewestPositives && weighted.Count - positives >= settings.FewestPositives;
    }

    /// <summary>Fits to raw scores and answers.</summary>
    /// <param name="scores">Raw scores.</param>
    /// <param name="needed">Answers.</param>
    /// <param name="weights">How often each row counts; once where not given.</param>
    /// <exception cref="ArgumentException">The lengths differ or there are no scores.</exception>
    public static ChanceScale Fit(IReadOnlyList<double> scores, IReadOnlyList<bool> needed, IReadOnlyList<double>? weights = null)
    {
        if (scores.Count == 0 || scores.Count != needed.Count)
        {
            throw new ArgumentException($"{scores.Count} scores and {needed.Count} answers", nameof(scores));
        }

        var sum = weights?.Sum() ?? scores.Count;
        double[] share = [.. scores.Select((_, i) => (weights?[i] ?? 1) / sum)];
        var middle = scores.Select((s, i) => share[i] * s).Sum();
        var width = Math.Sqrt(scores.Select((s, i) => share[i] * (s - middle) * (s - middle)).Sum());
        width = width > 1e-9 ? width : 1;
        var positives = sum * needed.Select((n, i) => n ? share[i] : 0).Sum();
        var (high, low) = ((positives + 1) / (positives + 2), 1 / (sum - positives + 2));
        double[] z = [.. scores.Select(s => (s - middle) / width)], target = [.. needed.Select(n => n ? high : low)];
        var (from, to) = (Math.Max(-Far, z.Min()), Math.Min(Far, z.Max()));
        double[] square = [.. z.Select(v => Math.Clamp(v, from, to) is var held ? held * held : 0)];
        var bent = Newton(z, square, target, share, terms: 3);
        var b = bent[1] + 2 * bent[2] * from > 0 && bent[1] + 2 * bent[2] * to > 0 ? bent : Newton(z, square, target, share, terms: 2);
        return new(middle, width, b[0], b[1], b[2], from, to);
    }

    /// <summary>Least logarithmic loss over level, slope and, with three terms, bend.</summary>
    private static double[] Newton(double[] z, double[] square, double[] target, double[] share, int terms)
    {
        double[] b = [0, 0, 0], x = new double[3];
        var loss = Loss(z, square, target, share, b);
        for (var iteration = 0; iteration < 100; iteration++)
        {
            var slopes = new double[3, 4];
            for (var i = 0; i < z.Length; i++)
            {
                (x[0], x[1], x[2]) = (1, z[i], square[i]);
                var p = 1 / (1 + Math.Exp(-(b[0] + b[1] * x[1] + b[2] * x[2])));
                for (var r = 0; r < terms; r++)
                {
                    for (var c = 0; c < terms; c++)
                    {
                        slopes[r, c] += share[i] * p * (1 - p) * x[r] * x[c];
                    }

                    slopes[r, 3] += share[i] * (target[i] - p) * x[r];
                }
            }

            if (Enumerable.Range(0, terms).All(r => Math.Abs(slopes[r, 3]) < 1e-9))
            {
                break;
            }

            var step = Solve(slopes, terms);
            var size = 1.0;
            for (; size >= 1e-10; size /= 2)
            {
                double[] trial = [b[0] + size * step[0], b[1] + size * step[1], b[2] + size * step[2]];
                if (Loss(z, square, target, share, trial) is var less && less < loss)
                {
                    (b, loss) = (trial, less);
                    break;
                }
            }

            if (size < 1e-10)
            {
                break;
            }
        }

        return b;
    }

    /// <summary>Gauss elimination of the leading terms; a hair on the diagonal keeps equal scores solvable.</summary>
    private static double[] Solve(double[,] a, int terms)
    {
        for (var r = 0; r < terms; r++)
        {
            a[r, r] += 1e-9;
        }

        for (var k = 0; k < terms; k++)
        {
            for (var r = 0; r < terms; r++)
            {
                var factor = r == k ? 0 : a[r, k] / a[k, k];
                for (var c = k; c < 4 && factor != 0; c++)
                {
                    a[r, c] -= factor * a[k, c];
                }
            }
        }

        return [.. Enumerable.Range(0, 3).Select(r => r < terms ? a[r, 3] / a[r, r] : 0)];
    }

    private static double Loss(double[] z, double[] square, double[] target, double[] share, double[] b)
    {
        double sum = 0;
        for (var i = 0; i < z.Length; i++)
        {
            var f = b[0] + b[1] * z[i] + b[2] * square[i];
            sum += share[i] * (Math.Max(f, 0) - target[i] * f + Math.Log(1 + Math.Exp(-Math.Abs(f))));
        }

        return sum;
    }
}
