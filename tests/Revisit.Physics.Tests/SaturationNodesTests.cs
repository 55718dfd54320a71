using Revisit.Physics.Tests.Oracle;
using Xunit.Abstractions;

namespace Revisit.Physics.Tests;

/// <summary>
/// The shipped nodes against a second, independent computation: a literal transcription of the published equations of state
/// (pure fluids and R-454B) and of the published bubble and dew equations (R-410A, R-407C).
/// </summary>
public class SaturationNodesTests(ITestOutputHelper output)
{
    private const double FromKelvin = 244.0, ToKelvin = 340.0, StepKelvin = 2.0;

    [Theory]
    [InlineData("R-32", 1200.0)]
    [InlineData("R-22", 1380.0)]
    [InlineData("R-134a", 1400.0)]
    public void Pure_refrigerants_agree_with_the_equation_of_state(string designation, double liquidKgPerM3)
    {
        var fluid = HelmholtzFluid.Read(designation);
        var model = new HelmholtzMixture(fluid);
        var refrigerant = Find(designation);
        double vapour = refrigerant.DewPressure(FromKelvin + 1.0) / (model.GasConstant * FromKelvin);
        double[] guess = [Math.Log(liquidKgPerM3 / fluid.MolarMassKg), Math.Log(vapour)];
        double worst = 0.0;
        for (double kelvin = FromKelvin + 2.0; kelvin < 338.0; kelvin += StepKelvin)
        {
            double pascal = PhaseEquilibrium.Pressure(model, kelvin, 1.0, bubble: true, guess);
            worst = Math.Max(worst, Math.Abs(refrigerant.DewTemperature(pascal) - kelvin));
        }

        output.WriteLine($"{designation}: worst {worst:E2} K");
        Assert.True(worst < 1e-4, $"worst {worst} K");
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void R454B_agrees_with_the_mixture_model(bool bubble)
    {
        HelmholtzFluid a = HelmholtzFluid.Read("R-32"), b = HelmholtzFluid.Read("R-1234yf");
        // Bell (2023), table of reducing parameters, as carried by the open CoolProp library for this pair.
        var model = new HelmholtzMixture(a, b, HelmholtzFluid.Read("R-32/1234yf"), betaT: 1.011011, gammaT: 0.966965, betaV: 1.007852, gammaV: 1.037663);
        double amountA = 0.689 / a.MolarMassKg, amountB = 0.311 / b.MolarMassKg, fraction = amountA / (amountA + amountB);
        var refrigerant = Find("R-454B");
        double[] guess = [Math.Log(18600.0), Math.Log(135.0), bubble ? 0.89 : 0.70];
        double worst = 0.0;
        for (double kelvin = FromKelvin; kelvin <= ToKelvin; kelvin += StepKelvin)
        {
            double pascal = PhaseEquilibrium.Pressure(model, kelvin, fraction, bubble, guess);
            if (kelvin is 244.0 or 260.0 or 300.0 or 330.0) output.WriteLine($"{kelvin} K {(bubble ? "bubble" : "dew")}: {pascal:G9} Pa");
            if (!(bubble ? refrigerant.TryBubbleTemperature(pascal, out double back) : refrigerant.TryDewTemperature(pascal, out back))) continue;
            worst = Math.Max(worst, Math.Abs(back - kelvin));
        }

        output.WriteLine($"worst {worst:E2} K");
        Assert.True(worst < 1e-4, $"worst {worst} K");
    }

    private static Refrigerant Find(string designation)
    {
        Assert.True(Refrigerants.TryFind(designation, out var refrigerant));
        return refrigerant;
    }
}
