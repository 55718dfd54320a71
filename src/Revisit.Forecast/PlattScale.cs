namespace Revisit.Forecast;

/// <summary>
/// Platt's calibration p = 1 / (1 + exp(a·s + b)) fitted by Newton's method with step halving and smoothed targets,
/// after Lin, Lin and Weng, "A note on Platt's probabilistic outputs for support vector machines", Machine Learning 68 (2007), from memory.
/// </summary>
public sealed record PlattScale(double A, double B)
{
    /// <summary>Chance for a raw score.</summary>
    public double Of(double score) => 1 / (1 + Math.Exp(A * score + B));

    /// <summary>Fits to raw scores and answers.</summary>
    /// <exception cref="ArgumentException">The lengths differ or there are no scores.</exception>
    public static PlattScale Fit(IReadOnlyList<double> scores, IReadOnlyList<bool> needed)
    {
        if (scores.Count == 0 || scores.Count != needed.Count)
        {
            throw new ArgumentException($"{scores.Count} scores and {needed.Count} answers", nameof(scores));
        }

        var positives = needed.Count(n => n);
        var negatives = needed.Count - positives;
        var target = needed.Select(n => n ? (positives + 1.0) / (positives + 2.0) : 1.0 / (negatives + 2.0)).ToArray();
        double a = 0, b = Math.Log((negatives + 1.0) / (positives + 1.0));
        var loss = Loss(scores, target, a, b);
        for (var iteration = 0; iteration < 100; iteration++)
        {
            double h11 = 1e-12, h22 = 1e-12, h21 = 0, g1 = 0, g2 = 0;
            for (var i = 0; i < target.Length; i++)
            {
                var p = 1 / (1 + Math.Exp(a * scores[i] + b));
                var d2 = p * (1 - p);
                h11 += scores[i] * scores[i] * d2;
                h22 += d2;
                h21 += scores[i] * d2;
                g1 += scores[i] * (target[i] - p);
                g2 += target[i] - p;
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
                var trial = Loss(scores, target, a + step * da, b + step * db);
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

    private static double Loss(IReadOnlyList<double> scores, double[] target, double a, double b)
    {
        double sum = 0;
        for (var i = 0; i < target.Length; i++)
        {
            var f = scores[i] * a + b;
            sum += f >= 0 ? target[i] * f + Math.Log(1 + Math.Exp(-f)) : (target[i] - 1) * f + Math.Log(1 + Math.Exp(f));
        }

        return sum;
    }
}
