namespace Revisit.Physics.Tests;

/// <summary>R-410A and R-407C against the published equations, written out as they are printed.</summary>
public class LiteralSaturationTests
{
    /// <summary>
    /// ln(p/p0) = (T0/T) Σ n θ^t with θ = 1 − T/T0. E. W. Lemmon, Int. J. Thermophys. 24 (2003) 991, bubble and dew pressures;
    /// coefficients as carried by the open CoolProp library and, the same digits, by pychemqt.
    /// </summary>
    private static double Lemmon(double kelvin, double criticalK, double criticalPa, double[] n, double[] t)
    {
        double theta = 1.0 - kelvin / criticalK;
        return criticalPa * Math.Exp(criticalK / kelvin * n.Zip(t, (ni, ti) => ni * Math.Pow(theta, ti)).Sum());
    }

    public static TheoryData<string, bool, double, double, double[], double[]> Equations => new()
    {
        { "R-410A", true, 344.494, 4.9012e6, [-7.2818, 2.5093, -3.2695, -2.8022], [1.0, 1.8, 2.4, 4.9] },
        { "R-410A", false, 344.494, 4.9012e6, [-7.4411, 1.9883, -2.4925, -3.2633], [1.0, 1.6, 2.4, 5.0] },
        { "R-407C", true, 359.345, 4.6317e6, [0.48722, -6.6959, -1.4165, -2.5109], [0.54, 0.925, 2.7, 4.7] },
        { "R-407C", false, 359.345, 4.6317e6, [-0.086077, -6.6364, -2.4648, -3.4776], [0.4, 0.965, 3.1, 5.0] },
    };

    [Theory]
    [MemberData(nameof(Equations))]
    public void The_fast_lines_follow_the_printed_equations(string designation, bool bubble, double criticalK, double criticalPa, double[] n, double[] t)
    {
        foreach ((double kelvin, double[] row) in ShippedNodes.Of("saturation.csv", designation))
            Assert.Equal(1.0, row[bubble ? 0 : 1] / Lemmon(kelvin, criticalK, criticalPa, n, t), 1e-8);

        Assert.True(Refrigerants.TryFind(designation, out var refrigerant));
        for (double kelvin = refrigerant.MinTemperatureK + 0.01; kelvin < refrigerant.MaxTemperatureK; kelvin += 0.37)
        {
            double pascal = Lemmon(kelvin, criticalK, criticalPa, n, t);
            double forward = bubble ? refrigerant.BubblePressure(kelvin) : refrigerant.DewPressure(kelvin);
            double back = bubble ? refrigerant.BubbleTemperature(pascal) : refrigerant.DewTemperature(pascal);
            Assert.InRange(forward / pascal, 1 - 2e-7, 1 + 2e-7);
            Assert.InRange(back, kelvin - 1e-5, kelvin + 1e-5);
        }
    }
}
