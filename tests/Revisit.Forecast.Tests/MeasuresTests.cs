namespace Revisit.Forecast.Tests;

public sealed class MeasuresTests
{
    private static readonly double[] Scores = [0.9, 0.8, 0.7, 0.6, 0.5];
    private static readonly bool[] Needed = [true, false, true, false, false];

    [Fact]
    public void Average_precision_by_hand() => Assert.Equal((1.0 / 1 + 2.0 / 3) / 2, Measures.AveragePrecision(Scores, Needed), 12);

    [Fact]
    public void Equal_scores_give_the_rate() => Assert.Equal(0.4, Measures.AveragePrecision([1, 1, 1, 1, 1], Needed), 12);

    [Fact]
    public void Order_of_rows_does_not_matter() =>
        Assert.Equal(Measures.AveragePrecision(Scores, Needed), Measures.AveragePrecision([.. Scores.Reverse()], [.. Needed.Reverse()]), 12);

    [Fact]
    public void A_weight_of_two_is_a_row_twice() =>
        Assert.Equal(Measures.AveragePrecision([0.9, 0.9, 0.8, 0.7], [true, true, false, true]), Measures.AveragePrecision([0.9, 0.8, 0.7], [true, false, true], [2, 1, 1]), 12);

    [Fact]
    public void Brier_by_hand() => Assert.Equal((0.01 + 0.64 + 0.09 + 0.36 + 0.25) / 5, Measures.Brier(Scores, Needed), 12);

    [Fact]
    public void Lift_by_hand()
    {
        Assert.Equal(1 / 0.4, Measures.Lift(Scores, Needed, 0.2), 12);
        Assert.Equal(0.5 / 0.4, Measures.Lift(Scores, Needed, 0.4), 12);
        Assert.Equal(1, Measures.Lift([1, 1, 1, 1, 1], Needed, 0.2), 12);
    }

    [Fact]
    public void Calibration_error_by_hand() =>
        Assert.Equal((Math.Abs(0.5 - 1) + Math.Abs(0.3 - 0)) / 3, Measures.CalibrationError([0.25, 0.25, 0.3], [true, false, false]), 12);

    [Fact]
    public void Nothing_needed_gives_no_precision() => Assert.True(double.IsNaN(Measures.AveragePrecision(Scores, new bool[5])));

    [Fact]
    public void The_interval_holds_the_value_and_repeats()
    {
        var random = new SeededRandom(3);
        var chances = Enumerable.Range(0, 400).Select(_ => random.Next()).ToArray();
        var needed = chances.Select(c => random.Next() < c).ToArray();
        var a = Measures.Of(chances, needed, 200, 5);
        Assert.Equal(["brier", "calibration_error", "caught_top_10_pct", "caught_top_20_pct", "lift_top_10_pct", "lift_top_20_pct", "pr_auc"], a.Keys);
        Assert.All(["brier", "pr_auc"], m => Assert.InRange(a[m].Value!.Value, a[m].Low!.Value, a[m].High!.Value));
        Assert.Equal(a, Measures.Of(chances, needed, 200, 5));
    }

    [Fact]
    public void A_gain_over_the_same_scores_is_none_and_over_worse_ones_is_clear()
    {
        var random = new SeededRandom(4);
        var chances = Enumerable.Range(0, 500).Select(_ => random.Next()).ToArray();
        var needed = chances.Select(c => random.Next() < c * c).ToArray();
        var noise = chances.Select(_ => random.Next()).ToArray();
        Assert.Equal(new Measured(0, 0, 0), Measures.PrecisionGain(chances, chances, needed, 100, 1));
        Assert.True(Measures.PrecisionGain(chances, noise, needed, 100, 1).Low > 0.1);
        Assert.True(Measures.PrecisionGain(noise, chances, needed, 100, 1).High < -0.1);
    }

    [Theory]
    [InlineData(1.5, 0)]
    [InlineData(1.5, 0.2)]
    public void Calibration_brings_back_a_known_curve(double slope, double bend)
    {
        var random = new SeededRandom(11);
        double Curve(double s) => 1 / (1 + Math.Exp(-(slope * s + bend * s * s - 1)));
        var scores = Enumerable.Range(0, 20_000).Select(_ => 6 * random.Next() - 3).ToArray();
        var scale = ChanceScale.Fit(scores, scores.Select(s => random.Next() < Curve(s)).ToArray());
        Assert.All(Enumerable.Range(-30, 61), s => Assert.Equal(Curve(s / 10.0), scale.Of(s / 10.0), 0.03));
    }

    [Fact]
    public void A_higher_score_is_never_a_lower_chance()
    {
        // Right in the middle alone: a bend would turn the curve.
        double[] scores = [.. Enumerable.Range(0, 400).Select(i => i / 400.0)];
        var scale = ChanceScale.Fit(scores, [.. scores.Select(s => s is > 0.3 and < 0.8)]);
        Assert.All(Enumerable.Range(0, 100), i => Assert.True(scale.Of((i + 1) / 100.0) >= scale.Of(i / 100.0)));
        Assert.Equal(0, scale.Bend);
    }
}
