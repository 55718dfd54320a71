using System.Globalization;
using Revisit.Physics.Tests.Oracle;
using Xunit.Abstractions;

namespace Revisit.Physics.Tests;

/// <summary>The shipped densities, volumes and enthalpies against a second computation from the published equations of state.</summary>
public class CyclePropertiesTests(ITestOutputHelper output)
{
    public static TheoryData<string> Designations => [.. Refrigerants.All.Select(r => r.Designation)];

    [Theory]
    [MemberData(nameof(Designations))]
    public void Nodes_agree_with_the_equation_of_state(string designation)
    {
        var phase = new SinglePhase(designation);
        Dictionary<double, double[]> properties = Nodes("properties.csv", designation), saturation = Nodes("saturation.csv", designation);
        Assert.Equal(saturation.Keys.Order(), properties.Keys.Order());

        // 200 kJ/kg for liquid at 0 °C.
        Assert.True(Refrigerants.TryFind(designation, out var refrigerant));
        double zero = phase.Enthalpy(273.15, phase.Density(273.15, refrigerant.BubblePressure(273.15), properties[274.0][0])) - 200_000.0;
        double density = 0.0, enthalpy = 0.0;
        foreach ((double kelvin, double[] row) in properties.Where(node => node.Key % 6 == 0 || node.Key == 230))
        {
            (double bubble, double dew) = (saturation[kelvin][0], saturation[kelvin][1]);
            Check(kelvin, bubble, row[0], row[2]);
            Check(kelvin, dew, row[1], row[3]);
            Check(kelvin + 15.0, dew, 1.0 / row[4], row[5]);
            Check(kelvin + 60.0, dew, 1.0 / row[6], row[7]);
        }

        output.WriteLine($"{designation}: worst density {density:E1} of itself, enthalpy {enthalpy:E1} J/kg");
        Assert.True(density < 1e-6 && enthalpy < 2.0, $"density {density}, enthalpy {enthalpy}");

        void Check(double kelvin, double pascal, double ourDensity, double ourEnthalpy)
        {
            double theirs = phase.Density(kelvin, pascal, ourDensity);
            density = Math.Max(density, Math.Abs(ourDensity / theirs - 1.0));
            enthalpy = Math.Max(enthalpy, Math.Abs(ourEnthalpy - (phase.Enthalpy(kelvin, theirs) - zero)));
        }
    }

    [Theory]
    [MemberData(nameof(Designations))]
    public void The_exponent_gives_the_isentropic_work_of_the_equation_of_state(string designation)
    {
        Assert.True(Refrigerants.TryFind(designation, out var refrigerant));
        double exponent = double.Parse(Lines("refrigerants.csv").Single(l => l.StartsWith(designation + ",", StringComparison.Ordinal)).Split(',')[3], CultureInfo.InvariantCulture);
        var phase = new SinglePhase(designation);
        double evaporating = Records.Units.KelvinFromFahrenheit(48.0), condensing = Records.Units.KelvinFromFahrenheit(113.15), suction = evaporating + 10.0 / 1.8;
        double low = refrigerant.DewPressure(evaporating), high = refrigerant.DewPressure(condensing);
        double[] node = Nodes("properties.csv", designation)[282.0];
        double density = phase.Density(suction, low, node[1]), entropy = phase.Entropy(suction, density);
        double cold = condensing + 1.0, hot = condensing + 60.0, guess = node[1] * high / low;
        for (int i = 0; i < 50; i++)
        {
            double middle = 0.5 * (cold + hot);
            if (phase.Entropy(middle, phase.Density(middle, high, guess)) < entropy) cold = middle;
            else hot = middle;
        }

        double work = phase.Enthalpy(hot, phase.Density(hot, high, guess)) - phase.Enthalpy(suction, density);
        double share = (exponent - 1.0) / exponent, ours = low / density / share * (Math.Pow(high / low, share) - 1.0);
        output.WriteLine($"{designation}: k {exponent}, isentropic work {work / 1000:F3} kJ/kg, discharge {Records.Units.FahrenheitFromKelvin(hot):F1} F");
        Assert.Equal(work, ours, work * 2e-4);
    }

    private static Dictionary<double, double[]> Nodes(string file, string designation) => Lines(file)
        .Select(line => line.Split(',')).Where(cells => cells[0] == designation)
        .ToDictionary(cells => Number(cells[1]), cells => cells.Skip(2).Select(Number).ToArray());

    private static double Number(string cell) => double.Parse(cell, NumberStyles.Float, CultureInfo.InvariantCulture);

    /// <summary>The shipped table, out of the assembly.</summary>
    private static IEnumerable<string> Lines(string file)
    {
        using var reader = new StreamReader(typeof(Refrigerant).Assembly.GetManifestResourceStream($"Revisit.Physics.Data.{file}")!);
        return [.. reader.ReadToEnd().Split('\n').Where(line => line.Length > 0 && line[0] != '#').Skip(1)];
    }
}
