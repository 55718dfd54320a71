using Revisit.Physics.Tests.Oracle;
using Xunit.Abstractions;

namespace Revisit.Physics.Tests;

/// <summary>
/// The shipped nodes against a second, independent computation: a literal transcription of the published equations of state
/// (pure fluids and R-454B) and of the published bubble and dew equations (R-410A, R-407C).
/// </summary>
public class SaturationNodesTests(ITestOutputHelper output)
{
    private const double FromKelvin = 233.0, StepKelvin = 2.0;

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
        for (double kelvin = FromKelvin + 2.0; kelvin < refrigerant.MaxTemperatureK; kelvin += StepKelvin)
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
        Refrigerant refrigerant = Find("R-454B");
        // From the start of the solver's guess down to the low end, then up to the high end.
        double[] down = [.. Enumerable.Range(0, 6).Select(i => FromKelvin + 10.5 - i * StepKelvin)];
        double[] up = [.. Enumerable.Range(0, 56).Select(i => FromKelvin + 11.5 + i * StepKelvin).Where(t => t < refrigerant.MaxTemperatureK)];
        double[] kelvin = [.. down, .. up];
        double[] pascal = [.. R454B.Pressures(R454B.Bell2023, bubble, down), .. R454B.Pressures(R454B.Bell2023, bubble, up)];
        double worst = kelvin.Zip(pascal, (t, p) => Math.Abs((bubble ? refrigerant.BubbleTemperature(p) : refrigerant.DewTemperature(p)) - t)).Max();
        output.WriteLine($"worst {worst:E2} K over {kelvin.Length} temperatures");
        Assert.True(kelvin.Length > 50 && worst < 1e-5, $"worst {worst} K");
    }

    /// <summary>Nodes beyond the stated range, which the equipment model reads.</summary>
    [Theory]
    [InlineData("R-32", 348)]
    [InlineData("R-22", 366)]
    [InlineData("R-134a", 370)]
    [InlineData("R-454B", 348)]
    public void Nodes_over_150_F_agree_too(string designation, int last)
    {
        var nodes = ShippedNodes.Of("saturation.csv", designation);
        Assert.Equal(last, nodes.Keys.Max());
        double[] kelvin = [.. Enumerable.Range(0, (last - 240) / 2 + 1).Select(i => 240.0 + 2.0 * i)];
        double worst = 0.0;
        foreach (bool bubble in new[] { true, false })
        {
            var fluid = designation == "R-454B" ? null : HelmholtzFluid.Read(designation);
            double[] guess = fluid is null ? [] : [Math.Log(1350.0 / fluid.MolarMassKg), Math.Log(nodes[240][0] / (fluid.GasConstant * 240.0))];
            double[] pascal = fluid is null
                ? [.. R454B.Pressures(R454B.Bell2023, bubble, kelvin)]
                : [.. kelvin.Select(t => PhaseEquilibrium.Pressure(new HelmholtzMixture(fluid), t, 1.0, bubble, guess))];
            worst = Math.Max(worst, kelvin.Zip(pascal, (t, p) => t < 338 ? 0.0 : Math.Abs(nodes[t][bubble ? 0 : 1] / p - 1.0)).Max());
        }

        output.WriteLine($"{designation}, 338-{last} K: worst {worst:E1} of pressure");
        Assert.True(worst < 1e-6, $"worst {worst}");
    }

    [Fact]
    public void The_mixture_model_gives_the_check_value_of_its_paper()
    {
        // I. H. Bell, J. Phys. Chem. Ref. Data 52 (2023) 013101, table XIII, as quoted by the tests of the CoolProp library:
        // mole fraction 0.4 of R-32, 445 K, 4149 mol/m3: residual Helmholtz energy over RT −0.47311064743911.
        double residual = R454B.Bell2023.ResidualTimesAmount(445.0, [0.4 * 4149.0, 0.6 * 4149.0]) / 4149.0;
        Assert.Equal(-0.47311064743911, residual, 1e-12);
    }

    private static Refrigerant Find(string designation)
    {
        Assert.True(Refrigerants.TryFind(designation, out var refrigerant));
        return refrigerant;
    }
}
