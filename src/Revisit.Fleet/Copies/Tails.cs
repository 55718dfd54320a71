namespace Revisit.Fleet.Copies;

/// <summary>Tail probabilities and the control of false discoveries.</summary>
public static class Tails
{
    /// <summary>Exact chance of at least <paramref name="some"/> hits in <paramref name="of"/> tries with chance <paramref name="p"/> each (binomial distribution).</summary>
    public static double BinomialAtLeast(int some, int of, double p)
    {
        if (some <= 0)
        {
            return 1;
        }

        var log = of * Math.Log(1 - p);
        var sum = 0.0;
        for (var k = 0; k <= of; k++)
        {
            if (k >= some)
            {
                var term = Math.Exp(log);
                sum += term;
                if (k > of * p && term < sum * 1e-17)
                {
                    break;
                }
            }

            log += Math.Log((of - k) / (k + 1.0)) + Math.Log(p / (1 - p));
        }

        return Math.Min(1, sum);
    }

    /// <summary>Chance that a chi-square with some degrees of freedom is at most <paramref name="value"/>: the regularised lower incomplete gamma function, NIST DLMF 8.7.1 and 8.9.2.</summary>
    public static double ChiSquareAtMost(double value, double degrees)
    {
        var (a, x) = (degrees / 2, value / 2);
        if (!(x > 0))
        {
            return 0;
        }

        var front = Math.Exp(a * Math.Log(x) - x - LogGamma(a));
        return x < a + 1 ? Series(a, x, front) : 1 - Fraction(a, x, front);
    }

    /// <summary>Chance that a chi-square with some degrees of freedom is at least <paramref name="value"/>.</summary>
    public static double ChiSquareAtLeast(double value, double degrees)
    {
        var (a, x) = (degrees / 2, value / 2);
        if (!(x > 0))
        {
            return 1;
        }

        var front = Math.Exp(a * Math.Log(x) - x - LogGamma(a));
        return x < a + 1 ? 1 - Series(a, x, front) : Fraction(a, x, front);
    }

    /// <summary>Adjusted p-values of Benjamini and Hochberg (1995), J. R. Stat. Soc. B 57:289: those at most q are false in a share of at most q.</summary>
    public static double[] BenjaminiHochberg(IReadOnlyList<double> p)
    {
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

    private static double Series(double a, double x, double front)
    {
        var (term, sum) = (1 / a, 1 / a);
        for (var n = 1; term > sum * 1e-16 && n < 10_000; n++)
        {
            term *= x / (a + n);
            sum += term;
        }

        return Math.Min(1, front * sum);
    }

    private static double Fraction(double a, double x, double front)
    {
        // Lentz's method.
        var b = x + 1 - a;
        var (c, d) = (1e300, 1 / b);
        var h = d;
        for (var i = 1; i < 10_000; i++)
        {
            var an = -i * (i - a);
            b += 2;
            d = 1 / (an * d + b);
            c = b + an / c;
            h *= d * c;
            if (Math.Abs(d * c - 1) < 1e-15)
            {
                break;
            }
        }

        return Math.Min(1, front * h);
    }

    /// <summary>Stirling's series (NIST DLMF 5.11.1) after raising the argument above 12.</summary>
    private static double LogGamma(double x)
    {
        var below = 0.0;
        for (; x < 12; x++)
        {
            below += Math.Log(x);
        }

        var r = 1 / (x * x);
        return (x - 0.5) * Math.Log(x) - x + 0.5 * Math.Log(2 * Math.PI) + (1 / 12.0 - r * (1 / 360.0 - r * (1 / 1260.0 - r / 1680))) / x - below;
    }
}
