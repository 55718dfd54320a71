namespace Revisit.Forecast;

/// <summary>A measure with the 95 % percentile interval of its bootstrap, moved by the mean error of the resamples; null where it cannot be given.</summary>
public sealed record Measured(double? Value, double? Low, double? High);

/// <summary>How well scores put first what needed a correction, and whether chances mean what they say.</summary>
public static class Measures
{
    /// <summary>Area under precision and recall: average precision, equal scores taken together.</summary>
    /// <param name="scores">Scores, higher first.</param>
    /// <param name="needed">Answers.</param>
    /// <param name="weights">How often each row counts; once where not given.</param>
    /// <returns>[0–1]; NaN when nothing needed a correction.</returns>
    public static double AveragePrecision(double[] scores, bool[] needed, int[]? weights = null) =>
        AveragePrecision(Order(scores), scores, needed, weights);

    /// <summary>Rate of needed corrections in the share of installs scored highest, over the rate in all. Equal scores at the edge count in proportion.</summary>
    public static double Lift(double[] scores, bool[] needed, double share, int[]? weights = null) =>
        Lift(Order(scores), scores, needed, share, weights);

    /// <summary>Mean squared difference of chance and answer.</summary>
    public static double Brier(double[] chances, bool[] needed, int[]? weights = null)
    {
        double sum = 0, all = 0;
        for (var i = 0; i < chances.Length; i++)
        {
            double w = weights?[i] ?? 1, d = chances[i] - (needed[i] ? 1 : 0);
            sum += w * d * d;
            all += w;
        }

        return sum / all;
    }

    /// <summary>Expected calibration error over ten bins of equal width.</summary>
    public static double CalibrationError(double[] chances, bool[] needed, int[]? weights = null)
    {
        var chance = new double[10];
        var hits = new double[10];
        double all = 0;
        for (var i = 0; i < chances.Length; i++)
        {
            var bin = Math.Clamp((int)(chances[i] * 10), 0, 9);
            double w = weights?[i] ?? 1;
            chance[bin] += w * chances[i];
            hits[bin] += needed[i] ? w : 0;
            all += w;
        }

        return chance.Zip(hits, (c, h) => Math.Abs(c - h)).Sum() / all;
    }

    /// <summary>The measures of one set of scores, each with its bootstrap interval over installs.</summary>
    /// <param name="scores">Chances [0–1].</param>
    /// <param name="needed">Answers.</param>
    /// <param name="resamples">Bootstrap resamples.</param>
    /// <param name="seed">Seed of the bootstrap.</param>
    public static SortedDictionary<string, Measured> Of(double[] scores, bool[] needed, int resamples, int seed)
    {
        var order = Order(scores);
        string[] names = ["pr_auc", "lift_top_10_pct", "lift_top_20_pct", "caught_top_10_pct", "caught_top_20_pct", "brier", "calibration_error"];
        double[] All(int[]? w)
        {
            var (tenth, fifth) = (Lift(order, scores, needed, 0.1, w), Lift(order, scores, needed, 0.2, w));
            return [AveragePrecision(order, scores, needed, w), tenth, fifth, 0.1 * tenth, 0.2 * fifth, Brier(scores, needed, w), CalibrationError(scores, needed, w)];
        }

        var measured = Bootstrapped(All, names.Length, scores.Length, resamples, seed);
        return new(names.Zip(measured).ToDictionary(m => m.First, m => m.Second), StringComparer.Ordinal);
    }

    /// <summary>How much higher the average precision of some scores is than that of others on the same installs, resampled in pairs.</summary>
    public static Measured PrecisionGain(double[] scores, double[] others, bool[] needed, int resamples, int seed)
    {
        var (first, second) = (Order(scores), Order(others));
        double Gain(int[]? w) => AveragePrecision(first, scores, needed, w) - AveragePrecision(second, others, needed, w);
        return Bootstrapped(w => [Gain(w)], 1, scores.Length, resamples, seed)[0];
    }

    /// <summary>
    /// How much more likely the chances make the answers than others do [nats an answer], resampled in pairs: the gain in logarithmic score,
    /// which no chances but the right ones make largest in the mean (Gneiting and Raftery, "Strictly proper scoring rules, prediction, and
    /// estimation", Journal of the American Statistical Association 102, 2007, from memory). Chances are held within a ten-thousandth of 0 and 1.
    /// </summary>
    public static Measured LogScoreGain(double[] chances, double[] others, bool[] needed, int resamples, int seed)
    {
        double LogScore(double chance, bool answer) => Math.Log(Math.Clamp(answer ? chance : 1 - chance, 1e-4, 1 - 1e-4));
        double[] gains = [.. needed.Select((n, i) => LogScore(chances[i], n) - LogScore(others[i], n))];
        double Mean(int[]? w)
        {
            double sum = 0;
            for (var i = 0; i < gains.Length; i++)
            {
                sum += (w?[i] ?? 1) * gains[i];
            }

            return sum / gains.Length;
        }

        return Bootstrapped(w => [Mean(w)], 1, gains.Length, resamples, seed)[0];
    }

    /// <summary>Measures of the rows as they are, each with the interval of its values on resampled rows.</summary>
    /// <param name="of">The measures, given how often each row counts (once when null).</param>
    /// <param name="measures">How many it gives.</param>
    /// <param name="rows">Rows.</param>
    /// <param name="resamples">Bootstrap resamples.</param>
    /// <param name="seed">Seed of the bootstrap.</param>
    private static Measured[] Bootstrapped(Func<int[]?, double[]> of, int measures, int rows, int resamples, int seed)
    {
        if (rows == 0)
        {
            return [.. Enumerable.Repeat(new Measured(null, null, null), measures)];
        }

        var random = new SeededRandom((ulong)seed);
        var drawn = new List<double[]>();
        for (var b = 0; b < resamples; b++)
        {
            var weights = new int[rows];
            for (var i = 0; i < weights.Length; i++)
            {
                weights[random.Below(weights.Length)]++;
            }

            drawn.Add(of(weights));
        }

        return [.. of(null).Select((value, m) =>
        {
            var finite = drawn.Select(d => d[m]).Where(double.IsFinite).Order().ToList();
            if (finite.Count == 0)
            {
                return new Measured(Rounded(value), null, null);
            }

            // Rows drawn twice make a ranking look better than it is; the mean of the resamples shows by how much, and is taken off.
            var bias = finite.Average() - value;
            return new(Rounded(value), Rounded(finite[(int)(0.025 * (finite.Count - 1))] - bias), Rounded(finite[(int)Math.Ceiling(0.975 * (finite.Count - 1))] - bias));
        })];
    }

    private static double? Rounded(double value) => double.IsFinite(value) ? Math.Round(value, 6) : null;

    private static int[] Order(double[] scores) => Array.Exists(scores, double.IsNaN)
        ? throw new ArgumentException("a score is not a number", nameof(scores))
        : [.. Enumerable.Range(0, scores.Length).OrderByDescending(i => scores[i]).ThenBy(i => i)];

    private static double AveragePrecision(int[] order, double[] scores, bool[] needed, int[]? weights)
    {
        double hits = 0, taken = 0, sum = 0;
        for (var i = 0; i < order.Length;)
        {
            double groupHits = 0;
            var score = scores[order[i]];
            for (; i < order.Length && scores[order[i]] == score; i++)
            {
                double w = weights?[order[i]] ?? 1;
                taken += w;
                groupHits += needed[order[i]] ? w : 0;
            }

            hits += groupHits;
            sum += groupHits > 0 ? groupHits * (hits / taken) : 0;
        }

        return hits > 0 ? sum / hits : double.NaN;
    }

    private static double Lift(int[] order, double[] scores, bool[] needed, double share, int[]? weights)
    {
        double all = 0, allHits = 0;
        for (var i = 0; i < needed.Length; i++)
        {
            double w = weights?[i] ?? 1;
            all += w;
            allHits += needed[i] ? w : 0;
        }

        double room = share * all, hits = 0;
        for (var i = 0; i < order.Length && room > 1e-9;)
        {
            double group = 0, groupHits = 0;
            var score = scores[order[i]];
            for (; i < order.Length && scores[order[i]] == score; i++)
            {
                double w = weights?[order[i]] ?? 1;
                group += w;
                groupHits += needed[order[i]] ? w : 0;
            }

            var part = group > 0 ? Math.Min(1, room / group) : 0;
            hits += part * groupHits;
            room -= part * group;
        }

        return allHits > 0 ? hits / (share * all) / (allHits / all) : double.NaN;
    }
}
