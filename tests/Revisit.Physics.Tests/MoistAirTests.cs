namespace Revisit.Physics.Tests;

/// <summary>Ranges, round trips and columns of moist air; the agreement with sources is in <see cref="AgreementTable"/>.</summary>
public class MoistAirTests
{
    private const double SeaLevelPa = 101_325.0;

    public static TheoryData<string, Func<double, double>, double, double> Ranges => new()
    {
        { "elevation", MoistAir.StandardPressure, MoistAir.MinElevationM, MoistAir.MaxElevationM },
        { "saturation temperature", MoistAir.SaturationPressure, MoistAir.MinSaturationC, MoistAir.MaxSaturationC },
        { "dry bulb of RH", t => MoistAir.HumidityRatioFromRelativeHumidity(t, 0.5, SeaLevelPa), -40, 60 },
        { "dry bulb of enthalpy", t => MoistAir.Enthalpy(t, 0.001), -40, 60 },
        { "dry bulb of enthalpy, IP", t => MoistAir.EnthalpyBtuLb(t, 0.001), -40, 140 },
        { "dry bulb of volume", t => MoistAir.SpecificVolume(t, 0.001, SeaLevelPa), -40, 60 },
        { "dry bulb of density", t => MoistAir.Density(t, 0.001, SeaLevelPa), -40, 60 },
        { "dry bulb of wet bulb", t => MoistAir.WetBulb(t, 1e-5, SeaLevelPa), -40, 60 },
        { "dry bulb of dew point", t => MoistAir.DewPoint(t, 1e-5, SeaLevelPa), -40, 60 },
        { "dry bulb of humidity ratio", t => MoistAir.HumidityRatioFromWetBulb(t, t, SeaLevelPa), -40, 60 },
        { "pressure of volume", p => MoistAir.SpecificVolume(20, 0.001, p), MoistAir.MinPressurePa, MoistAir.MaxPressurePa },
        { "pressure of RH", p => MoistAir.RelativeHumidity(20, 0.001, p), MoistAir.MinPressurePa, MoistAir.MaxPressurePa },
        { "relative humidity", rh => MoistAir.HumidityRatioFromRelativeHumidity(20, rh, SeaLevelPa), 0, 1 },
        { "humidity ratio of enthalpy", w => MoistAir.Enthalpy(20, w), 0, double.PositiveInfinity },
    };

    [Theory]
    [MemberData(nameof(Ranges))]
    public void Just_inside_works_and_just_outside_is_refused_with_value_and_range(string what, Func<double, double> f, double low, double high)
    {
        Assert.NotEmpty(what);
        double width = Math.Min(high - low, 1e6);
        foreach (double inside in new[] { low, low + 1e-6 * width, Math.Min(high, 1e6) }) Assert.True(double.IsFinite(f(inside)));
        foreach (double outside in new[] { low - 1e-6 * width, high + 1e-6 * width, double.NaN })
        {
            var error = Assert.Throws<ArgumentOutOfRangeException>(() => f(outside));
            Assert.Contains("allowed:", error.Message, StringComparison.Ordinal);
            Assert.Equal(outside, error.ActualValue);
        }
    }

    [Theory]
    [InlineData(30.0, 30.001)]
    [InlineData(30.0, 5.0)] // drier than dry air: at 30 °C the wet bulb of dry air is about 10.5 °C
    [InlineData(30.0, double.NaN)]
    public void An_impossible_wet_bulb_is_refused(double dryC, double wetC)
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => MoistAir.HumidityRatioFromWetBulb(dryC, wetC, SeaLevelPa));
        Assert.False(MoistAir.TryHumidityRatioFromWetBulb(dryC, wetC, SeaLevelPa, out double w));
        Assert.True(double.IsNaN(w));
    }

    [Fact]
    public void More_water_than_saturation_has_no_wet_bulb_or_dew_point_and_over_100_percent_humidity()
    {
        double saturated = MoistAir.HumidityRatioFromRelativeHumidity(25, 1, SeaLevelPa);
        Assert.Equal(25.0, MoistAir.WetBulb(25, saturated, SeaLevelPa), 1e-9);
        Assert.Equal(25.0, MoistAir.DewPoint(25, saturated, SeaLevelPa), 1e-9);
        Assert.Equal(1.0, MoistAir.RelativeHumidity(25, saturated, SeaLevelPa), 1e-12);
        Assert.Throws<ArgumentOutOfRangeException>(() => MoistAir.WetBulb(25, saturated * 1.00001, SeaLevelPa));
        Assert.Throws<ArgumentOutOfRangeException>(() => MoistAir.DewPoint(25, saturated * 1.00001, SeaLevelPa));
        Assert.InRange(MoistAir.RelativeHumidity(25, saturated * 1.01, SeaLevelPa), 1.009, 1.01);
        Assert.Throws<ArgumentOutOfRangeException>(() => MoistAir.RelativeHumidity(25, -1e-6, SeaLevelPa));
        Assert.Throws<ArgumentOutOfRangeException>(() => MoistAir.RelativeHumidity(25, double.NaN, SeaLevelPa));
    }

    [Theory]
    [InlineData(101_325.0)]
    [InlineData(84_300.0)]
    [InlineData(69_700.0)]
    public void Wet_bulb_dew_point_and_relative_humidity_round_trip(double pa)
    {
        for (double dryC = -40; dryC <= 60; dryC += 2.5)
        {
            for (double rh = 0.02; rh <= 1.0; rh += 0.07)
            {
                double w = MoistAir.HumidityRatioFromRelativeHumidity(dryC, rh, pa);
                Assert.Equal(rh, MoistAir.RelativeHumidity(dryC, w, pa), 1e-10);
                double wetC = MoistAir.WetBulb(dryC, w, pa);
                Assert.Equal(w, MoistAir.HumidityRatioFromWetBulb(dryC, wetC, pa), 1e-11);
                if (w < MoistAir.MinDewPointHumidityRatio) continue;
                double dewC = MoistAir.DewPoint(dryC, w, pa);
                Assert.Equal(MoistAir.SaturationPressure(dewC), rh * MoistAir.SaturationPressure(dryC), 1e-6);
                Assert.True(dewC <= wetC + 0.05 && wetC <= dryC, $"{dryC} {rh}: dew {dewC}, wet {wetC}"); // ice and liquid differ near 0 °C
            }
        }
    }

    [Fact]
    public void Around_freezing_the_liquid_wet_bulb_is_taken()
    {
        // At 5 °C the equations for liquid and ice both hold for some air: the one for liquid wins, and reproduces the air.
        double atZero = MoistAir.HumidityRatioFromWetBulb(5, 0.0, SeaLevelPa), overIce = MoistAir.HumidityRatioFromWetBulb(5, -1e-9, SeaLevelPa);
        Assert.True(overIce > atZero * 1.05);
        double between = 0.5 * (atZero + overIce), wetC = MoistAir.WetBulb(5, between, SeaLevelPa);
        Assert.InRange(wetC, 0.0, 0.4);
        Assert.Equal(between, MoistAir.HumidityRatioFromWetBulb(5, wetC, SeaLevelPa), 1e-12);
        Assert.True(MoistAir.WetBulb(5, atZero * 0.999, SeaLevelPa) < 0.0);
    }

    [Theory]
    [InlineData(101_325.0)]
    [InlineData(69_700.0)]
    public void Slopes_are_those_of_the_values(double pa)
    {
        const double Step = 1e-3;
        static double Central(Func<double, double> f, double at, double step) => (f(at + step) - f(at - step)) / (2 * step);
        static void Same(double expected, double slope) => Assert.InRange(Math.Abs(slope - expected), 0, 1e-6 * Math.Abs(expected));
        for (double dryC = -19.5; dryC <= 55; dryC += 2.5)
        {
            for (double rh = 0.12; rh < 1.0; rh += 0.17)
            {
                double w = MoistAir.HumidityRatioFromRelativeHumidity(dryC, rh, pa, out double perDryK);
                Assert.Equal(MoistAir.HumidityRatioFromRelativeHumidity(dryC, rh, pa), w);
                Same(Central(t => MoistAir.HumidityRatioFromRelativeHumidity(t, rh, pa), dryC, Step), perDryK);

                Assert.Equal(rh, MoistAir.RelativeHumidity(dryC, w, pa, out perDryK, out double perRatio), 1e-12);
                Same(Central(t => MoistAir.RelativeHumidity(t, w, pa), dryC, Step), perDryK);
                Same(Central(v => MoistAir.RelativeHumidity(dryC, v, pa), w, Step * w), perRatio);

                double dewC = MoistAir.DewPoint(dryC, w, pa, out perRatio);
                if (Math.Abs(dewC - 0.01) > 0.1) Same(Central(v => MoistAir.DewPoint(dryC, v, pa), w, Step * w), perRatio);

                double wetC = MoistAir.WetBulb(dryC, w, pa);
                if (Math.Abs(wetC) < 0.1) continue; // between liquid and ice, where there is no slope
                Assert.True(MoistAir.TryHumidityRatioFromWetBulb(dryC, wetC, pa, out double same, out perDryK, out double perWetK));
                Assert.Equal(MoistAir.HumidityRatioFromWetBulb(dryC, wetC, pa), same);
                Same(Central(t => MoistAir.HumidityRatioFromWetBulb(t, wetC, pa), dryC, Step), perDryK);
                Same(Central(t => MoistAir.HumidityRatioFromWetBulb(dryC, t, pa), wetC, Step), perWetK);
            }
        }

        Assert.False(MoistAir.TryHumidityRatioFromWetBulb(30, 5, pa, out _, out double none, out double neither));
        Assert.True(double.IsNaN(none) && double.IsNaN(neither));
        MoistAir.RelativeHumidity(20, 0, pa, out _, out double ofDry);
        Same(MoistAir.RelativeHumidity(20, 1e-9, pa) / 1e-9, ofDry);
    }

    [Fact]
    public void Columns_equal_the_single_values_and_mark_what_is_out_of_range()
    {
        double[] dry = [24, 24, 24, 70, double.NaN, -10], wet = [17, 25, double.NaN, 17, 17, -11], pa = [101_325, 101_325, 101_325, 101_325, 101_325, 84_300];
        double[] w = new double[6], back = new double[6], h = new double[6];
        MoistAir.HumidityRatiosFromWetBulb(dry, wet, pa, w);
        Assert.Equal(MoistAir.HumidityRatioFromWetBulb(24, 17, 101_325), w[0]);
        Assert.Equal(MoistAir.HumidityRatioFromWetBulb(-10, -11, 84_300), w[5]);
        Assert.Equal(4, w.Count(double.IsNaN));
        MoistAir.WetBulbs(dry, w, pa, back);
        Assert.Equal(17, back[0], 1e-8);
        Assert.Equal(-11, back[5], 1e-8);
        Assert.Equal(4, back.Count(double.IsNaN));
        MoistAir.Enthalpies(dry, w, h);
        Assert.Equal(MoistAir.Enthalpy(24, w[0]), h[0]);
        Assert.Equal(4, h.Count(double.IsNaN));
        Assert.Throws<ArgumentException>(() => MoistAir.Enthalpies(dry, w, new double[5]));
    }
}
