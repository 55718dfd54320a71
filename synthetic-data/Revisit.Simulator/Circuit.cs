using Revisit.Physics;
using Revisit.Records;

namespace Revisit.Simulator;

/// <summary>Gauge pressures from saturation temperatures.</summary>
internal static class Circuit
{
    /// <summary>Suction pressure [psig] at a dew temperature [°F] over a barometer [Pa].</summary>
    public static double SuctionPsig(Refrigerant refrigerant, double dewF, double barometer) =>
        (refrigerant.DewPressure(Units.KelvinFromFahrenheit(dewF)) - barometer) / Units.PascalPerPsi;

    /// <summary>Liquid pressure [psig] at a bubble temperature [°F] over a barometer [Pa].</summary>
    public static double LiquidPsig(Refrigerant refrigerant, double bubbleF, double barometer) =>
        (refrigerant.BubblePressure(Units.KelvinFromFahrenheit(bubbleF)) - barometer) / Units.PascalPerPsi;

    /// <summary>The refrigerant of a designation.</summary>
    /// <exception cref="InvalidOperationException">The tables have no such refrigerant.</exception>
    public static Refrigerant Find(string designation) => Refrigerants.TryFind(designation, out var found)
        ? found
        : throw new InvalidOperationException($"the scenario uses {designation}, for which there are no saturation tables");
}
