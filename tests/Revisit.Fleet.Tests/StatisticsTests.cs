using Revisit.Fleet.Statistics;
using Revisit.Simulator;

namespace Revisit.Fleet.Tests;

/// <summary>Each statistical method against numbers that others published, named beside the check.</summary>
public sealed class StatisticsTests
{
    /// <summary>
    /// Newcombe (1998), Stat. Med. 17:857, table I, method 3, as <see cref="WilsonTests"/> holds the SQL to (copied from memory of the table); 5 of 10 at 90 %: 0.2692718 and 0.7307282, as the tests of the
    /// R package tern print them.
    /// </summary>
    [Theory]
    [InlineData(81, 263, 0.2553, 0.3662)]
    [InlineData(15, 148, 0.0624, 0.1605)]
    [InlineData(0, 20, 0.0, 0.1611)]
    [InlineData(1, 29, 0.0061, 0.1718)]
    public void Wilson(int hits, int of, double low, double high)
    {
        var found = Interval.OfShare(hits, of);
        Assert.Equal((low, high), (Math.Round(found.Low, 4), Math.Round(found.High, 4)));
        Assert.Equal(0.2692718, Records.Wilson.Interval(5, 10, Intervals.TwoSided(0.9)).Low, 1e-7);
        Assert.Equal(0.7307282, Records.Wilson.Interval(5, 10, Intervals.TwoSided(0.9)).High, 1e-7);
    }

    /// <summary>
    /// Limits of the standardised ratio for 15, 20 and 30 observed and as many expected, as the tests of FunnelPlotR print them (test-poisson_limits.R, there at 0.95 and 0.998); and 30
    /// counts in table 7.5 of Biological Effects of Low Level Exposures to Chemical and Radiation (1992): 20.24 and 42.83.
    /// </summary>
    [Theory]
    [InlineData(15, 0.95, 0.5596924, 1.649348)]
    [InlineData(20, 0.95, 0.6108260, 1.544419)]
    [InlineData(30, 0.95, 0.6746958, 1.427562)]
    [InlineData(15, 0.998, 0.3862650, 2.082907)]
    [InlineData(20, 0.998, 0.4479107, 1.902094)]
    [InlineData(30, 0.998, 0.5289724, 1.702771)]
    public void Exact_Poisson(int count, double level, double low, double high)
    {
        var found = Intervals.PoissonExact(count, level).Over(count);
        Assert.Equal(low, found.Low, 5e-7);
        Assert.Equal(high, found.High, 1e-6);
        var table = Intervals.PoissonExact(30);
        Assert.Equal((20.24, 42.83), (Math.Round(table.Low, 2), Math.Round(table.High, 2)));
        Assert.Equal(0, Intervals.PoissonExact(0).Low);
        Assert.Equal(3.689, Intervals.PoissonExact(0).High, 1e-3); // −ln 0.025
        Assert.Equal(0, Funnel.RatioLimits(2.5, 1, 0.998).Low);
        Assert.True(Funnel.RatioLimits(10, 1, 0.998).Low > 0);
    }

    /// <summary>
    /// 100 observed, 90 expected, z = 1.96: upper limit 121.628347 of the count and 1.351426 of the ratio, lower limit 0.904020 of the ratio, as the documentation of the
    /// Ruby library "byar" prints them. "Within 0.2 % of the exact value for numerators of 10 or more": Public Health England, Technical Guide Confidence Intervals (2018).
    /// </summary>
    [Fact]
    public void Byar()
    {
        var found = Intervals.PoissonByar(100);
        Assert.Equal(121.628347, found.High, 1e-3);
        Assert.Equal(1.351426, found.Over(90).High, 1e-5);
        Assert.Equal(0.904020, found.Over(90).Low, 1e-5);
        for (var count = 10; count < 500; count++)
        {
            var (byar, exact) = (Intervals.PoissonByar(count), Intervals.PoissonExact(count));
            Assert.InRange(byar.Low / exact.Low, 0.998, 1.002);
            Assert.InRange(byar.High / exact.High, 0.998, 1.002);
        }
    }

    /// <summary>
    /// Benjamini and Hochberg (1995), J. R. Stat. Soc. B 57:289, section 3.2: fifteen p-values, at 0.05 the four smallest rejected where Bonferroni rejects three (values as reprinted in
    /// several libraries; one of them writes 0.6719 for 0.5719, which changes nothing here).
    /// </summary>
    [Fact]
    public void Benjamini_and_Hochberg()
    {
        double[] p = [0.0201, 0.7590, 0.0344, 0.0278, 0.0095, 0.0298, 0.5719, 1.0, 0.0001, 0.4262, 0.0004, 0.6528, 0.3240, 0.0459, 0.0019];
        var q = Tails.BenjaminiHochberg(p);
        Assert.Equal([0.0001, 0.0004, 0.0019, 0.0095], p.Where((_, i) => q[i] <= 0.05).Order());
        Assert.Equal(3, p.Count(v => v <= 0.05 / p.Length));
        Assert.Equal(0.0095 * 15 / 4, q[4], 1e-12);
    }

    /// <summary>
    /// Robbins' motor claims in Efron and Hastie (2016), Computer Age Statistical Inference, table 6.1: 9461 policies by claims in a year; gamma prior by maximum likelihood with ν = 0.7015 and
    /// σ = 0.3056 (as a public course solution prints them; the book rounds to 0.702 and 0.306), expected claims of next year .164, .398, .633, .87, 1.10, 1.34, 1.57 (book, from memory).
    /// </summary>
    [Fact]
    public void Empirical_Bayes()
    {
        int[] policies = [7840, 1317, 239, 42, 14, 4, 4, 1];
        double[] claims = [.. policies.SelectMany((n, k) => Enumerable.Repeat((double)k, n))];
        var prior = GammaPoisson.Fit(claims, [.. claims.Select(_ => 1.0)]);
        Assert.Equal(0.7014887, prior.Shape, 2e-4);
        Assert.Equal(0.3055760, 1 / prior.Rate, 1e-4);
        double[] printed = [0.164, 0.398, 0.633, 0.87, 1.10, 1.34, 1.57];
        for (var k = 0; k < printed.Length; k++)
        {
            Assert.Equal(printed[k], prior.Mean(k, 1), k < 3 ? 1e-3 : 6e-3);
        }
    }

    /// <summary>Counts that vary no more than chance are drawn to one ratio; with much evidence and a flat prior the posterior interval is that of the counts.</summary>
    [Fact]
    public void Empirical_Bayes_without_differences()
    {
        var prior = GammaPoisson.Fit([10, 11, 9, 10], [10, 10, 10, 10]);
        Assert.Equal(1, prior.Mean(11, 10), 1e-3);
        var wide = new GammaPoisson(0.001, 0.001);
        var exact = Intervals.PoissonExact(400).Over(400);
        Assert.Equal(exact.Low, wide.Posterior(400, 400).Low, 2e-3);
        Assert.Equal(exact.High, wide.Posterior(400, 400).High, 4e-3);
        Assert.Equal(0.5, GammaPoisson.Fit([0, 0], [0.5, 0.5]).Mean(0, 0.5), 1e-3);
        double[] observed = [3, 9, 20, 4], expected = [8, 8, 9, 8];
        var whole = GammaPoisson.Fit(observed, expected);
        var nearly = GammaPoisson.Fit([.. observed.Select(o => o + 1e-6)], expected);
        Assert.Equal(whole.Shape, nearly.Shape, 1e-3);
    }

    /// <summary>
    /// Dispersion of six units, observed 100, 150, 180, 80, 120, 225 of 108, 112, 165, 95, 100, 220 expected, by the logarithm: 2.948033, as the tests of FunnelPlotR print it
    /// (test-classes_methods.R; nothing is trimmed of six).
    /// </summary>
    [Fact]
    public void Dispersion_of_a_funnel()
    {
        double[] observed = [100, 150, 180, 80, 120, 225], expected = [108, 112, 165, 95, 100, 220];
        var z = observed.Zip(expected, Funnel.LogZ).ToArray();
        Assert.Equal(2.948033, Funnel.Dispersion(z), 5e-7);
    }

    /// <summary>Winsorising as in Spiegelhalter (2005): one wild crew among twenty widens the limits little; φ is 1 on the average where z-scores are normal.</summary>
    [Fact]
    public void Winsorised_dispersion_resists_one_wild_crew()
    {
        double[] z = [.. Enumerable.Range(1, 20).Select(i => Tails.Deviate((i - 0.5) / 20))];
        double[] wild = [.. z[..19], 25];
        Assert.True(Funnel.Dispersion(wild) > 30);
        Assert.InRange(Funnel.Dispersion(Funnel.Winsorise(wild)), 0.65, 1.35);
        Assert.Equal(1.0, Funnel.RatioLimits(25, 0.5, 0.95).High / Funnel.RatioLimits(25, 1, 0.95).High, 1e-12);
    }

    /// <summary>√-limits of a ratio lie near the exact Poisson limits: within 2 % at 50 expected (own arithmetic).</summary>
    [Fact]
    public void Funnel_limits_agree_with_exact_ones()
    {
        var funnel = Funnel.RatioLimits(50, 1, 0.95);
        var (low, high) = (CountAt(0.025) / 50.0, CountAt(0.975) / 50.0);
        Assert.Equal(low, funnel.Low, 0.03);
        Assert.Equal(high, funnel.High, 0.03);
        static int CountAt(double share) => Enumerable.Range(0, 200).First(k => Tails.ChiSquareAtLeast(2 * 50, 2 * (k + 1)) >= share);
    }

    /// <summary>
    /// Scores of Steiner et al. (2000), p. 446, logit risk −3.68 + 0.077·Parsonnet score, odds doubled: −0.024 and 0.67 at a score of 0, −0.43 and 0.26 at 50; odds halved as Steiner (2014), p. 234,
    /// gives them: 0.012, −0.681, 0.316, −0.377 (all as reprinted in the tests of vlad, test-llr_score.R).
    /// </summary>
    [Theory]
    [InlineData(2, 0, false, -0.024)]
    [InlineData(2, 0, true, 0.669)]
    [InlineData(2, 50, false, -0.433)]
    [InlineData(2, 50, true, 0.26)]
    [InlineData(0.5, 0, false, 0.012)]
    [InlineData(0.5, 0, true, -0.681)]
    [InlineData(0.5, 50, false, 0.316)]
    [InlineData(0.5, 50, true, -0.377)]
    public void Cusum_scores(double oddsRatio, int parsonnet, bool died, double score) =>
        Assert.Equal(score, Math.Round(new RiskAdjustedCusum(oddsRatio).Score(1 / (1 + Math.Exp(3.68 - 0.077 * parsonnet)), died), 3));

    /// <summary>
    /// Average run length in control at a limit of 4.5 where the risk score is 71 times a beta(1, 3) variable and the logit −3.6798 + 0.0768·score: 4485.2 for odds doubled and 5731.8 for odds halved
    /// (integral equation of Knoth, Wittenberg and Gan 2019, Stat. Med. 38:2206, as the tests of vlad print it, test-racusum_beta_arl_int.R), and the limit for a run of 500: 2.5178.
    /// </summary>
    [Theory]
    [InlineData(2, 4.5, 4485.203)]
    [InlineData(0.5, 4.5, 5731.772)]
    [InlineData(2, 2.5178, 500)]
    public void Cusum_run_length(double oddsRatio, double limit, double run)
    {
        // Quantiles of beta(1, 3): 1 − (1 − u)^(1/3).
        double[] mix = [.. Enumerable.Range(0, 400).Select(i => 1 / (1 + Math.Exp(3.6798 - 0.0768 * 71 * (1 - Math.Cbrt(1 - (i + 0.5) / 400)))))];
        Assert.Equal(1, new RiskAdjustedCusum(oddsRatio).AverageRunLength(limit, mix, states: 400) / run, 0.02);
    }

    /// <summary>The chance of a signal within a sequence agrees with simulation, in control and where odds are halved; the limit for a chance gives that chance.</summary>
    [Fact]
    public void Cusum_signals_as_often_as_stated()
    {
        double[] chances = [.. Enumerable.Range(0, 60).Select(i => 0.15 + 0.3 * (i % 7) / 6)];
        var cusum = new RiskAdjustedCusum(0.5);
        var limit = cusum.LimitFor(chances, 0.05, 0);
        Assert.Equal(0.05, cusum.SignalWithin(limit, chances), 2e-3);
        var random = new Rng(7, 1, 1);
        foreach (var truth in new[] { 1.0, 0.4 })
        {
            var signals = 0;
            for (var run = 0; run < 4_000; run++)
            {
                bool[] happened = [.. chances.Select(p => random.Uniform() < truth * p / (1 - p + truth * p))];
                signals += cusum.Path(chances, happened).Any(s => s >= limit) ? 1 : 0;
            }

            Assert.Equal(cusum.SignalWithin(limit, chances, truth), signals / 4_000.0, 0.03);
        }
    }

    /// <summary>
    /// p-chart of ten samples of 200 with 320 defectives: centre 0.16, limits 0.0822 and 0.2378 (An Introduction to Business Statistics, example 16.6); thirty samples of 200 with 567: 0.0325 and 0.1565
    /// (Devore, Probability and Statistics for Engineering and the Sciences, 9th ed., section 16.4, exercise 22).
    /// </summary>
    [Theory]
    [InlineData(0.16, 0.0822, 0.2378)]
    [InlineData(0.0945, 0.0325, 0.1565)]
    public void P_chart(double centre, double low, double high)
    {
        foreach (var limits in new[] { PChart.Limits(centre, 200), PChart.Limits([.. Enumerable.Repeat(centre, 200)]) })
        {
            Assert.Equal(low, limits.Low, 1.1e-4);
            Assert.Equal(high, limits.High, 1.1e-4);
        }
    }

    /// <summary>Carpenter, London School of Hygiene and Tropical Medicine, "Introduction to inverse probability weighting" (2005): seen 1 of three, 3 of three and 2 of three; 13/6 unweighted, 2 weighted.</summary>
    [Fact]
    public void Weights_of_one_over_the_chance_to_be_seen()
    {
        (int Response, double Chance)[] seen = [(1, 1 / 3.0), (2, 1), (2, 1), (2, 1), (3, 2 / 3.0), (3, 2 / 3.0)];
        double Mean(Func<double, double> chance) => Enumerable.Range(1, 3).Sum(r => r * WeightedShare.Of(seen.Select(s => (s.Response == r, chance(s.Chance)))).Share);
        Assert.Equal(13 / 6.0, Mean(_ => 1), 1e-12);
        Assert.Equal(2, Mean(c => c), 1e-12);
        Assert.Equal(6, WeightedShare.Of(seen.Select(s => (true, 0.5))).Effective, 1e-12);
    }

    /// <summary>A logistic fit with a two-valued column gives the log odds of its table, here 5:15 against 12:8; unpenalised, by hand.</summary>
    [Fact]
    public void Logistic_fit_of_a_two_by_two_table()
    {
        var rows = Enumerable.Range(0, 40).Select(i => new[] { 1.0, i < 20 ? 0 : 1 }).ToArray();
        bool[] happened = [.. Enumerable.Range(0, 40).Select(i => i < 20 ? i < 5 : i < 32)];
        var fit = LogisticFit.Of(rows, happened, 1e-9);
        Assert.Equal(Math.Log(5.0 / 15), fit.Coefficients[0], 1e-6);
        Assert.Equal(Math.Log(12.0 / 8 / (5.0 / 15)), fit.Coefficients[1], 1e-6);
        Assert.Equal(0.25, fit.ChanceOf(rows[0]), 1e-7);
        Assert.Equal(0, fit.Score(rows[..20]).Variance, 1e-5);
        Assert.All(LogisticFit.Of(rows, [.. happened.Select((h, i) => i < 20 && h)], 1).Coefficients, b => Assert.InRange(b, -4, 4));
    }

    /// <summary>
    /// The Challenger's O-rings: 23 flights, joint temperature and whether an O-ring failed; logit 15.0429 − 0.2322·°F
    /// (Dalal, Fowlkes and Hoadley 1989, J. Am. Stat. Assoc. 84:945; data and values from memory).
    /// </summary>
    [Fact]
    public void Logistic_fit_of_the_challenger_flights()
    {
        int[] temperatures = [66, 70, 69, 68, 67, 72, 73, 70, 57, 63, 70, 78, 67, 53, 67, 75, 70, 81, 76, 79, 75, 76, 58];
        int[] failed = [0, 1, 0, 0, 0, 0, 0, 0, 1, 1, 1, 0, 0, 1, 0, 0, 0, 0, 0, 0, 1, 0, 1];
        var fit = LogisticFit.Of([.. temperatures.Select(t => new[] { 1.0, (t - 70) / 10.0 })], [.. failed.Select(f => f == 1)], 1e-9);
        Assert.Equal(-0.2322, fit.Coefficients[1] / 10, 5e-5);
        Assert.Equal(15.0429, fit.Coefficients[0] - 7 * fit.Coefficients[1], 5e-4);
    }

    /// <summary>With one chance for all, hits are binomial; with two, by hand.</summary>
    [Fact]
    public void Hits_with_chances_of_their_own()
    {
        var same = Enumerable.Repeat(0.3, 25).ToArray();
        var (atMost, atLeast) = Tails.Hits(10, same);
        Assert.Equal(Tails.BinomialAtLeast(10, 25, 0.3), atLeast, 1e-12);
        Assert.Equal(1 - Tails.BinomialAtLeast(11, 25, 0.3), atMost, 1e-12);
        Assert.Equal(0.2 * 0.5 + 0.2 * 0.5 + 0.8 * 0.5, Tails.Hits(1, [0.2, 0.5]).AtLeast, 1e-12);
        Assert.Equal(atLeast, Tails.TwoSided(Tails.HitsDeviate(10, same)) / 2, 1e-9);
        Assert.True(Tails.HitsDeviate(2, same) < -1.9);
        Assert.Equal(0, Tails.HitsDeviate(0, [0.01]));
        Assert.Equal(1.959964, Tails.Deviate(0.025), 1e-6);
        Assert.Equal(0.05, Tails.TwoSided(1.959964), 1e-6);
    }
}
