namespace Revisit.Fleet.Statistics;

/// <summary>
/// Funnel limits with over-dispersion: Spiegelhalter (2005), Stat. Med. 24:1185, and Qual. Saf. Health Care 14:347. The z-scores of all crews are winsorised, their mean square is the
/// dispersion φ; where it is above 1 the limits are √φ wider, for crews then differ by more than chance and the model of their work explain.
/// </summary>
public static class Funnel
{
    /// <summary>Share of the z-scores drawn in at each end; 10 % as in the paper.</summary>
    public const double Winsorised = 0.1;

    /// <summary>z-score of a ratio by the square-root transformation, 2(√observed − √expected): its variance is 1 for a Poisson count.</summary>
    public static double RootZ(double observed, double expected) => 2 * (Math.Sqrt(observed) - Math.Sqrt(expected));

    /// <summary>z-score of a ratio by the logarithm, √expected·ln(observed/expected).</summary>
    public static double LogZ(double observed, double expected) => Math.Sqrt(expected) * Math.Log(observed / expected);

    /// <summary>z-scores with the outermost share at each end drawn in to the quantile there (linear between order statistics).</summary>
    public static double[] Winsorise(IReadOnlyList<double> z, double share = Winsorised)
    {
        ArgumentNullException.ThrowIfNull(z);
        double[] ordered = [.. z.Order()];
        return [.. z.Select(v => Math.Clamp(v, Quantile(ordered, share), Quantile(ordered, 1 - share)))];
    }

    /// <summary>Dispersion: the mean square of z-scores; about 1 where crews differ by chance alone.</summary>
    public static double Dispersion(IReadOnlyList<double> z)
    {
        ArgumentNullException.ThrowIfNull(z);
        return z.Count == 0 ? 1 : z.Sum(v => v * v) / z.Count;
    }

    /// <summary>
    /// Limits of a ratio whose target is 1, by the square-root transformation: (1 ± z·√φ/(2√expected))². The lower one is 0 where a Poisson count of 0 is likelier than the tail: there
    /// the transformation misleads.
    /// </summary>
    /// <param name="expected">Expected count; where the count varies less than a Poisson count, the count whose Poisson spread the ratio has.</param>
    /// <param name="dispersion">φ; taken as 1 where it is below.</param>
    /// <param name="level">0.95 or, as is usual for the outer limits, 0.998.</param>
    public static Interval RatioLimits(double expected, double dispersion, double level)
    {
        var effective = expected / Math.Max(1, dispersion);
        var half = Intervals.TwoSided(level) / (2 * Math.Sqrt(effective));
        return new(Math.Exp(-effective) > (1 - level) / 2 ? 0 : Math.Pow(Math.Max(0, 1 - half), 2), Math.Pow(1 + half, 2));
    }

    private static double Quantile(double[] ordered, double share)
    {
        var at = share * (ordered.Length - 1);
        var below = (int)Math.Floor(at);
        return ordered[below] + (at - below) * (ordered[Math.Min(below + 1, ordered.Length - 1)] - ordered[below]);
    }
}
