using Revisit.Physics;
using Revisit.Records;

namespace Revisit.Simulator;

/// <summary>Moist air in the units of the trade. Only what a reading needs.</summary>
internal static class Air
{
    /// <summary>Density of standard air, 0.075 lb/ft³, in kg/m³.</summary>
    public const double StandardDensity = 0.075 * Units.KilogramPerCubicMetrePerLbFt3;

    /// <summary>Humidity ratio of saturated air [lb/lb] at a temperature [°F] and pressure [Pa].</summary>
    public static double SaturatedRatio(double f, double pa) => MoistAir.HumidityRatioFromRelativeHumidity(Units.CelsiusFromFahrenheit(f), 1, pa);

    /// <summary>Humidity ratio from dry and wet bulb [°F]; a wet bulb too low for its dry bulb gives a trace.</summary>
    public static double Ratio(double dryF, double wetF, double pa) =>
        MoistAir.TryHumidityRatioFromWetBulb(Units.CelsiusFromFahrenheit(dryF), Units.CelsiusFromFahrenheit(wetF), pa, out var ratio) ? ratio : 1e-5;

    /// <summary>Relative humidity [%].</summary>
    public static double RelativeHumidity(double dryF, double ratio, double pa) => 100 * MoistAir.RelativeHumidity(Units.CelsiusFromFahrenheit(dryF), ratio, pa);

    /// <summary>Wet bulb [°F].</summary>
    public static double WetBulb(double dryF, double ratio, double pa) =>
        Units.FahrenheitFromCelsius(MoistAir.WetBulb(Units.CelsiusFromFahrenheit(dryF), ratio, pa));

    /// <summary>Density [kg/m³] of moist air.</summary>
    public static double Density(double dryF, double ratio, double pa) => MoistAir.Density(Units.CelsiusFromFahrenheit(dryF), ratio, pa);

    /// <summary>Barometric pressure [Pa] of the standard atmosphere at an elevation [ft].</summary>
    public static double Barometer(double elevationFt) => MoistAir.StandardPressure(elevationFt * Units.MetrePerFoot);
}
