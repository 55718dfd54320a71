using MathNet.Numerics;
using MathNet.Numerics.Distributions;

namespace Revisit.Fleet.Statistics;

/// <summary>Tail probabilities and the control of false discoveries.</summary>
public static class Tails
{
    /// <summary>Exact chance of at least <paramref name="some"/> hits in <paramref name="of"/> tries with chance <paramref name="p"/> each (binomial distribution).</summary>
    public static double BinomialAtLeast(int some, int of, double p) => some <= 0 ? 1 : some > of ? 0 : SpecialFunctions.BetaRegularized(some, of - some + 1, p);

    /// <summary>Chance that a chi-square with some degrees of freedom is at most <paramref name="value"/>.</summary>
    public static double ChiSquareAtMost(double value, double degrees) => value > 0 ? SpecialFunctions.GammaLowerRegularized(degrees / 2, value / 2) : 0;

    /// <summary>Chance that a chi-square with some degrees of freedom is at least <paramref name="value"/>.</summary>
    public static double ChiSquareAtLeast(double value, double degrees) => value > 0 ? SpecialFunctions.GammaUpperRegularized(degrees / 2, value / 2) : 1;

    /// <summary>Chance, on both sides together, of a normal deviate as far from 0.</summary>
    public static double TwoSided(double z) => SpecialFunctions.Erfc(Math.Abs(z) / Constants.Sqrt2);

    /// <summary>Chances of at most and of at least so many hits in independent tries with chances of their own (Poisson-binomial distribution). Exact but for rounding; the work grows with the square of the tries.</summary>
    public static (double AtMost, double AtLeast) Hits(int some, IReadOnlyList<double> chances)
    {
        ArgumentNullException.ThrowIfNull(chances);
        var at = new double[chances.Count + 1];
        at[0] = 1;
        for (var i = 0; i < chances.Count; i++)
        {
            var chance = chances[i];
            for (var k = i + 1; k > 0; k--)
            {
                at[k] = at[k] * (1 - chance) + at[k - 1] * chance;
            }

            at[0] *= 1 - chance;
        }

        return (at.Take(some + 1).Sum(), at.Skip(some).Reverse().Sum());
    }

    /// <summary>
    /// The normal deviate whose tail is the exact chance of as many hits or more, or of as many or fewer, whichever side the hits lie on; 0 where both are likely. On the careful side, since hits come in
    /// whole numbers.
    /// </summary>
    public static double HitsDeviate(int some, IReadOnlyList<double> chances)
    {
        var (atMost, atLeast) = Hits(some, chances);
        return atLeast < 0.5 ? Deviate(atLeast) : atMost < 0.5 ? -Deviate(atMost) : 0;
    }

    /// <summary>The normal deviate that is exceeded with a chance; finite for chances of 0 and 1 to the precision of a double.</summary>
    public static double Deviate(double chanceAtLeast) => -Normal.InvCDF(0, 1, Math.Clamp(chanceAtLeast, 1e-300, 1 - 1e-16));

    /// <summary>Adjusted p-values of Benjamini and Hochberg (1995), J. R. Stat. Soc. B 57:289: those at most q are false in a share of at most q.</summary>
    public static double[] BenjaminiHochberg(IReadOnlyList<double> p)
    {
        ArgumentNullException.ThrowIfNull(p);
        var order = Enumerable.Range(0, p.Count).OrderBy(i => p[i]).ToArray();
        var q = new double[p.Count];
        var least = 1.0;
        for (var rank = p.Count; rank >= 1; rank--)
        {
            least = Math.Min(least, p[order[rank - 1]] * p.Count / rank);
            q[order[rank - 1]] = least;
        }

        return q;
    }
}
