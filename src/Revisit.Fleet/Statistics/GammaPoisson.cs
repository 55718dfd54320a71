using MathNet.Numerics;

namespace Revisit.Fleet.Statistics;

/// <summary>
/// Empirical-Bayes shrinkage of ratios observed/expected: the ratios of all crews come from one gamma distribution, fitted by maximum likelihood to the counts
/// (negative binomial), and each crew's ratio is pulled towards its mean the more the less was expected of it. Robbins (1956); Clayton and Kaldor (1987), Biometrics 43:671;
/// Efron and Hastie (2016), Computer Age Statistical Inference, 6.1.
/// </summary>
/// <param name="Shape">Shape of the gamma distribution; where the counts vary no more than chance makes them, <see cref="MostShape"/>.</param>
/// <param name="Rate">Its rate; the mean ratio is shape over rate.</param>
public readonly record struct GammaPoisson(double Shape, double Rate)
{
    /// <summary>Shape that stands for no variation between crews: a spread of the ratios of 0.1 %.</summary>
    public const double MostShape = 1e6;

    /// <summary>Fits the distribution of the ratios.</summary>
    /// <param name="observed">Counts; scaled ones where the count varies less than a Poisson count.</param>
    /// <param name="expected">Expected counts, above 0, scaled alike.</param>
    public static GammaPoisson Fit(IReadOnlyList<double> observed, IReadOnlyList<double> expected)
    {
        ArgumentNullException.ThrowIfNull(observed);
        ArgumentNullException.ThrowIfNull(expected);
        if (observed.Sum() == 0)
        {
            return new(MostShape, MostShape / Math.Max(1e-6, 0.5 / expected.Sum()));
        }

        // The profile likelihood over the logarithm of the shape has one top: golden section.
        double Likelihood(double log) => LogLikelihood(observed, expected, Math.Exp(log), RateOf(observed, expected, Math.Exp(log)));
        const double Golden = 0.6180339887498949;
        var (low, high) = (Math.Log(1e-3), Math.Log(MostShape));
        var (a, b) = (high - Golden * (high - low), low + Golden * (high - low));
        var (atA, atB) = (Likelihood(a), Likelihood(b));
        while (high - low > 1e-7)
        {
            if (atA < atB)
            {
                (low, a, atA, b) = (a, b, atB, a + Golden * (high - a));
                atB = Likelihood(b);
            }
            else
            {
                (high, b, atB, a) = (b, a, atA, b - Golden * (b - low));
                atA = Likelihood(a);
            }
        }

        var shape = Math.Exp((low + high) / 2);
        return new(shape, RateOf(observed, expected, shape));
    }

    /// <summary>Shrunken ratio: the posterior mean.</summary>
    public double Mean(double observed, double expected) => (Shape + observed) / (Rate + expected);

    /// <summary>Posterior interval of the ratio. It leaves out that the distribution itself was fitted.</summary>
    public Interval Posterior(double observed, double expected, double level = 0.95)
    {
        var (shape, rate) = (Shape + observed, Rate + expected);
        if (shape >= 10_000)
        {
            var half = Intervals.TwoSided(level) / Math.Sqrt(shape);
            return new(shape / rate * (1 - half), shape / rate * (1 + half));
        }

        return new(Intervals.GammaQuantile(shape, (1 - level) / 2) / rate, Intervals.GammaQuantile(shape, (1 + level) / 2) / rate);
    }

    /// <summary>The rate that fits best with a shape, by bisection of the slope of the likelihood.</summary>
    private static double RateOf(IReadOnlyList<double> observed, IReadOnlyList<double> expected, double shape)
    {
        // d/d log(rate) of the log likelihood: shape·n − Σ (shape + observed)·rate/(rate + expected), falling in the rate.
        var mean = observed.Sum() / expected.Sum();
        var (low, high) = (Math.Log(shape / mean) - 7, Math.Log(shape / mean) + 7);
        for (var i = 0; i < 50; i++)
        {
            var rate = Math.Exp((low + high) / 2);
            var slope = 0.0;
            for (var k = 0; k < observed.Count; k++)
            {
                slope += shape - (shape + observed[k]) * rate / (rate + expected[k]);
            }

            (low, high) = slope > 0 ? ((low + high) / 2, high) : (low, (low + high) / 2);
        }

        return Math.Exp((low + high) / 2);
    }

    private static double LogLikelihood(IReadOnlyList<double> observed, IReadOnlyList<double> expected, double shape, double rate)
    {
        var sum = 0.0;
        for (var k = 0; k < observed.Count; k++)
        {
            // ln Γ(shape + o) − ln Γ(shape), its whole steps as a sum of logarithms: differences of large log gammas lose digits.
            var part = observed[k] > 10_000 ? observed[k] : observed[k] - Math.Floor(observed[k]);
            for (var at = shape + part; at < shape + observed[k] - 0.5; at++)
            {
                sum += Math.Log(at);
            }

            sum += part == 0 ? 0 : SpecialFunctions.GammaLn(shape + part) - SpecialFunctions.GammaLn(shape);
            sum -= observed[k] * Math.Log(rate + expected[k]) + shape * SpecialFunctions.Log1p(expected[k] / rate);
        }

        return sum;
    }
}
