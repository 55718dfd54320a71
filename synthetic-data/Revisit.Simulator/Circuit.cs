using Revisit.Records;

namespace Revisit.Simulator;

/// <summary>Gauge pressures from saturation temperatures.</summary>
internal static class Circuit
{
    /// <summary>Suction pressure [psig] at a dew temperature [°F].</summary>
    public static double SuctionPsig(string refrigerant, double dewF, double barometer) => (Pressure(refrigerant, dewF, 0.985) - barometer) / Units.PascalPerPsi;

    /// <summary>Liquid pressure [psig] at a bubble temperature [°F].</summary>
    public static double LiquidPsig(string refrigerant, double bubbleF, double barometer) => (Pressure(refrigerant, bubbleF, 1) - barometer) / Units.PascalPerPsi;

    private static double Pressure(string refrigerant, double f, double phase)
    {
        var k = Units.KelvinFromFahrenheit(f);
        var scale = refrigerant switch { "R-32" => 1.025, "R-454B" => 0.95 * phase, _ => 1.0 };
        return scale * 914_900 * Math.Exp(2_376 * (1 / 277.594 - 1 / k));
    }
}
