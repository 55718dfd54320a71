namespace Revisit.Forecast;

/// <summary>
/// Platt's calibration p = 1 / (1 + exp(a·s + b)) fitted by Newton's method with step halving and smoothed targets,
/// after Lin, Lin and Weng, "A note on Platt's probabilistic outputs for support vector machines", Machine Learning 68 (2007), from memory.
/// </summary>
public sealed record PlattScale(double A, double B)
{
    /// <summary>Chance for a raw score.</summary>
    public double Of(double score) => 1 / (1 + Math.Exp(A * score + B));

    /// <summary>
    /// Fits to raw scores and answers of rows that have a weight, where those are enough to fit on; else of all rows alike.
    /// </summary>
    /// <param name="scores">Raw scores.</param>
    /// <param name="rows">Their rows.</param>
    /// <param name="settings">How many rows and corrections are enough.</param>
    public static PlattScale Fit(IReadOnlyList<double> scores, IReadOnlyList<LabelledInstall> rows, ForecastSettings settings)
    {
        if (!EnoughPlanned(rows, settings))
        {
            return Fit(scores, [.. rows.Select(r => r.Needed)]);
        }

        int[] at = [.. Enumerable.Range(0, rows.Count).Where(i => rows[i].Weight > 0)];
        var mean = at.Average(i => rows[i].Weight);
        return Fit([.. at.Select(i => scores[i])], [.. at.Select(i => rows[i].Needed)], [.. at.Select(i => rows[i].Weight / mean)]);
    }

    /// <summary>Whether enough rows have a weight to calibrate on them.</summary>
    public static bool EnoughPlanned(IReadOnlyList<LabelledInstall> rows, ForecastSettings settings)
    {
        var weighted = rows.Where(r => r.Weight > 0).ToList();
        var positives = weighted.Count(r => r.Needed);
        return settings.WeighPlannedChecks && weighted.Count >= settings.FewestLabels && positives >= settings.FewestPositives && weighted.Count - positives >= settings.FewestPositives;
    }

    /// <summary>Fits to raw scores and answers.</summary>
    /// <exception cref="ArgumentException">The lengths differ or there are no scores.</exception>
    public static PlattScale Fit(IReadOnlyList<double> scores, IReadOnlyList<bool> needed, double[]? weights = null)
    {
        if (scores.Count == 0 || scores.Count != needed.Count)
        {
            throw new ArgumentException($"{scores.Count} scores and {needed.Count} answers", nameof(scores));
        }

        double Weight(int i) => weights?[i] ?? 1;
        double positives = 0, negatives = 0;
        for (var i = 0; i < needed.Count; i++)
        {
            positives += needed[i] ? Weight(i) : 0;
            negatives += needed[i] ? 0 : Weight(i);
        }

        var target = needed.Select(n => n ? (positives + 1.0) / (positives + 2.0) : 1.0 / (negatives + 2.0)).ToArray();
        double a = 0, b = Math.Log((negatives + 1.0) / (positives + 1.0));
        var loss = Loss(scores, target, weights, a, b);
        for (var iteration = 0; iteration < 100; iteration++)
        {
            double h11 = 1e-12, h22 = 1e-12, h21 = 0, g1 = 0, g2 = 0;
            for (var i = 0; i < target.Length; i++)
            {
                var p = 1 / (1 + Math.Exp(a * scores[i] + b));
                var d2 = p * (1 - p);
                var w = Weight(i);
                h11 += w * scores[i] * scores[i] * d2;
                h22 += w * d2;
                h21 += w * scores[i] * d2;
                g1 += w * scores[i] * (target[i] - p);
                g2 += w * (target[i] - p);
            }

            if (Math.Abs(g1) < 1e-5 && Math.Abs(g2) < 1e-5)
            {
                break;
            }

            var det = h11 * h22 - h21 * h21;
            var (da, db) = (-(h22 * g1 - h21 * g2) / det, -(-h21 * g1 + h11 * g2) / det);
            var descent = g1 * da + g2 * db;
            var step = 1.0;
            for (; step >= 1e-10; step /= 2)
            {
                var trial = Loss(scores, target, weights, a + step * da, b + step * db);
                if (trial < loss + 1e-4 * step * descent)
                {
                    (a, b, loss) = (a + step * da, b + step * db, trial);
                    break;
                }
            }

            if (step < 1e-10)
            {
                break;
            }
        }

        return new(a, b);
    }

    private static double Loss(IReadOnlyList<double> scores, double[] target, double[]? weights, double a, double b)
    {
        double sum = 0;
        for (var i = 0; i < target.Length; i++)
        {
            var f = scores[i] * a + b;
            sum += (weights?[i] ?? 1) * (f >= 0 ? target[i] * f + Math.Log(1 + Math.Exp(-f)) : (target[i] - 1) * f + Math.Log(1 + Math.Exp(f)));
        }

        return sum;
    }
}
