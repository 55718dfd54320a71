using MathNet.Numerics;

namespace Revisit.Fleet.Statistics;

/// <summary>Confidence limits of counts; those of shares are <see cref="Records.Wilson"/>'s.</summary>
public static class Intervals
{
    /// <summary>
    /// Exact limits of a Poisson mean: half of the chi-square quantiles at 2·count and 2·count + 2 degrees of freedom; Ulm (1990), Am. J. Epidemiol. 131:373.
    /// </summary>
    public static Interval PoissonExact(int count, double level = 0.95)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(count);
        var tail = (1 - level) / 2;
        return new(count == 0 ? 0 : GammaQuantile(count, tail), GammaQuantile(count + 1, 1 - tail));
    }

    /// <summary>
    /// Byar's approximation to the exact limits of a Poisson mean: Breslow and Day (1987), Statistical Methods in Cancer Research II, eq. 2.13 (number from memory). Within 0.2 %
    /// of the exact limits at 95 % from 10 counts on, as the public-health guides that use it say; far off for a count or two.
    /// </summary>
    public static Interval PoissonByar(int count, double level = 0.95)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(count);
        var z = TwoSided(level);
        return new(count == 0 ? 0 : Math.Max(0, Limit(count, -z)), Limit(count + 1, z));
    }

    /// <summary>Normal deviate of a two-sided level: 1.96 at 0.95.</summary>
    public static double TwoSided(double level) => Constants.Sqrt2 * SpecialFunctions.ErfInv(level);

    /// <summary>Quantile of a gamma distribution of rate 1, by bisection: the library's inverse fails for some shapes ("value must not be negative", version 5.0.0).</summary>
    internal static double GammaQuantile(double shape, double chance)
    {
        var (low, high) = (0.0, shape + 12 * Math.Sqrt(shape) + 40);
        for (var i = 0; i < 70; i++)
        {
            var middle = (low + high) / 2;
            (low, high) = SpecialFunctions.GammaLowerRegularized(shape, middle) < chance ? (middle, high) : (low, middle);
        }

        return (low + high) / 2;
    }

    private static double Limit(double count, double z) => count * Math.Pow(1 - 1 / (9 * count) + z / (3 * Math.Sqrt(count)), 3);
}
