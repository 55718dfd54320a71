namespace Revisit.Physics.Tests;

/// <summary>What holds for every refrigerant: ranges, order of the lines, round trips, columns, lookup.</summary>
public class RefrigerantTests
{
    public static TheoryData<string> Designations => [.. Refrigerants.All.Select(r => r.Designation)];

    [Fact]
    public void The_six_refrigerants_are_there() =>
        Assert.Equal(["R-134a", "R-22", "R-32", "R-407C", "R-410A", "R-454B"], Refrigerants.All.Select(r => r.Designation).Order(StringComparer.Ordinal));

    [Theory]
    [MemberData(nameof(Designations))]
    public void Just_inside_works_and_just_outside_is_refused_with_value_and_range(string designation)
    {
        Refrigerant r = Find(designation);
        Check(r.DewTemperature, r.MinDewPressurePa, r.MaxDewPressurePa, r.MinTemperatureK, r.MaxTemperatureK);
        Check(r.BubbleTemperature, r.MinBubblePressurePa, r.MaxBubblePressurePa, r.MinTemperatureK, r.MaxTemperatureK);
        Check(r.DewPressure, r.MinTemperatureK, r.MaxTemperatureK, r.MinDewPressurePa, r.MaxDewPressurePa);
        Check(r.BubblePressure, r.MinTemperatureK, r.MaxTemperatureK, r.MinBubblePressurePa, r.MaxBubblePressurePa);
        Assert.False(r.TryDewTemperature(r.MinDewPressurePa * (1 - 1e-9), out double kelvin));
        Assert.True(double.IsNaN(kelvin));
        Assert.False(r.TryBubbleTemperature(double.NaN, out _));
        Assert.True(r.TryBubbleTemperature(r.MaxBubblePressurePa, out _));
    }

    private static void Check(Func<double, double> f, double low, double high, double atLow, double atHigh)
    {
        Assert.InRange(f(low) / atLow, 1 - 1e-9, 1 + 1e-9);
        Assert.InRange(f(high) / atHigh, 1 - 1e-9, 1 + 1e-9);
        foreach (double outside in new[] { low * (1 - 1e-9), high * (1 + 1e-9), double.NaN, double.PositiveInfinity, 0, -1 })
        {
            var error = Assert.Throws<ArgumentOutOfRangeException>(() => f(outside));
            Assert.Contains("allowed:", error.Message, StringComparison.Ordinal);
            Assert.Equal(outside, error.ActualValue);
        }
    }

    [Theory]
    [MemberData(nameof(Designations))]
    public void The_range_is_minus_40_to_150_F(string designation)
    {
        Refrigerant r = Find(designation);
        Assert.Equal(Records.Units.KelvinFromFahrenheit(-40), r.MinTemperatureK, 1e-12);
        Assert.Equal(Records.Units.KelvinFromFahrenheit(150), r.MaxTemperatureK, 1e-12);
    }

    [Theory]
    [MemberData(nameof(Designations))]
    public void Lines_rise_round_trip_and_bubble_lies_over_dew(string designation)
    {
        Refrigerant r = Find(designation);
        bool pure = designation is "R-32" or "R-22" or "R-134a";
        double lastDew = 0, lastBubble = 0;
        for (double kelvin = r.MinTemperatureK + 0.001; kelvin < r.MaxTemperatureK; kelvin += 0.0937)
        {
            double dew = r.DewPressure(kelvin), bubble = r.BubblePressure(kelvin);
            Assert.True(dew > lastDew && bubble > lastBubble);
            Assert.True(pure ? bubble == dew : bubble > dew);
            Assert.Equal(kelvin, r.DewTemperature(dew), 1e-6);
            Assert.Equal(kelvin, r.BubbleTemperature(bubble), 1e-6);
            (lastDew, lastBubble) = (dew, bubble);
        }
    }

    [Theory]
    [MemberData(nameof(Designations))]
    public void Columns_equal_the_single_values_and_mark_what_is_out_of_range(string designation)
    {
        Refrigerant r = Find(designation);
        double[] pascal = [double.NaN, 0, r.MinDewPressurePa * 0.999, .. Enumerable.Range(0, 97).Select(i => r.MinBubblePressurePa * Math.Pow(r.MaxDewPressurePa / r.MinBubblePressurePa, (i + 0.5) / 97.0)), r.MaxBubblePressurePa * 1.001];
        double[] dew = new double[pascal.Length], bubble = new double[pascal.Length];
        r.DewTemperatures(pascal, dew);
        r.BubbleTemperatures(pascal, bubble);
        for (int i = 0; i < pascal.Length; i++)
        {
            Assert.Equal(r.TryDewTemperature(pascal[i], out double one) ? one : double.NaN, dew[i]);
            Assert.Equal(r.TryBubbleTemperature(pascal[i], out one) ? one : double.NaN, bubble[i]);
        }

        Assert.Equal(4, dew.Count(double.IsNaN));
        Assert.Throws<ArgumentException>(() => r.DewTemperatures(pascal, new double[3]));
    }

    [Theory]
    [InlineData("R-410A", "R-410A")]
    [InlineData("r410a", "R-410A")]
    [InlineData(" R 454b ", "R-454B")]
    [InlineData("22", "R-22")]
    [InlineData("R-134A", "R-134a")]
    public void A_designation_is_found_however_it_is_written(string written, string designation)
    {
        Assert.True(Refrigerants.TryFind(written, out var refrigerant));
        Assert.Equal(designation, refrigerant.Designation);
    }

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("R")]
    [InlineData("R-12")]
    [InlineData("RR-22")]
    public void An_unknown_designation_is_not_found(string? written) => Assert.False(Refrigerants.TryFind(written, out _));

    [Fact]
    public void Safety_groups_composition_and_source_are_given()
    {
        Assert.Equal(["R-32", "R-454B"], Refrigerants.All.Where(r => r.SafetyGroup == "A2L").Select(r => r.Designation).Order(StringComparer.Ordinal));
        Assert.All(Refrigerants.All, r => Assert.True(r.SafetyGroup is "A1" or "A2L"));
        Assert.All(Refrigerants.All, r => Assert.True(r.Source.Length > 40 && r.Composition.Length > 5));
    }

    private static Refrigerant Find(string designation)
    {
        Assert.True(Refrigerants.TryFind(designation, out var refrigerant));
        return refrigerant;
    }
}
