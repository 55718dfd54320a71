using Revisit.Records;

namespace Revisit.Physics;

/// <summary>
/// Moist air at any barometric pressure, by the equations of the ASHRAE Handbook—Fundamentals (2017), chapter 1, SI edition,
/// with the coefficients as published in PsychroLib 2.5.0 (MIT licence), whose equation numbers are cited at each function. Enthalpy
/// also by the IP edition (<see cref="EnthalpyBtuLb"/>).
/// </summary>
/// <remarks>
/// <para>Temperatures in [°C], pressures in [Pa], humidity ratio in [kg water / kg dry air], enthalpy in [J / kg dry air].</para>
/// <para>Every scalar function throws <see cref="ArgumentOutOfRangeException"/>, with the value and the allowed range, for an
/// argument outside its range or NaN. The batch functions write NaN instead, to be turned into NULL and a reason by the caller.</para>
/// </remarks>
public static partial class MoistAir
{
    /// <summary>Lowest dry bulb [°C]: −40 °F.</summary>
    public const double MinDryBulbC = -40.0;

    /// <summary>Highest dry bulb [°C]: 140 °F.</summary>
    public const double MaxDryBulbC = 60.0;

    /// <summary>Lowest barometric pressure [Pa]; the standard atmosphere has 22.6 kPa at 11 000 m.</summary>
    public const double MinPressurePa = 22_000.0;

    /// <summary>Highest barometric pressure [Pa]; the standard atmosphere has 177.8 kPa at −5000 m.</summary>
    public const double MaxPressurePa = 178_000.0;

    /// <summary>Lowest elevation of <see cref="StandardPressure"/> [m].</summary>
    public const double MinElevationM = -5_000.0;

    /// <summary>Highest elevation of <see cref="StandardPressure"/> [m].</summary>
    public const double MaxElevationM = 11_000.0;

    /// <summary>Ratio of the molar masses of water and dry air. ASHRAE 2017 ch. 1, eq. 20.</summary>
    private const double MolarMassRatio = 0.621945;

    /// <summary>Gas constant of dry air [J / (kg K)]. ASHRAE 2017 ch. 1, eq. 1.</summary>
    private const double DryAirGasConstant = 287.042;

    /// <summary>0 °C in [K].</summary>
    private const double ZeroCelsiusK = 273.15;

    /// <summary>Pressure of the standard atmosphere at an elevation.</summary>
    /// <param name="elevationM">Elevation above sea level [m], −5000…11 000.</param>
    /// <returns>Barometric pressure [Pa], 22 632…177 758.</returns>
    /// <exception cref="ArgumentOutOfRangeException">Elevation outside the range.</exception>
    /// <remarks>ASHRAE 2017 ch. 1, eq. 3. That the equation serves −5000…11 000 m is from memory of the same chapter.</remarks>
    public static double StandardPressure(double elevationM)
    {
        Bounds.Check(elevationM, MinElevationM, MaxElevationM, "m", nameof(elevationM));
        return Units.StandardBarometerPascal(elevationM);
    }

    /// <summary>Enthalpy of moist air, zero for dry air at 0 °C and liquid water at 0 °C.</summary>
    /// <param name="dryC">Dry bulb [°C], −40…60.</param>
    /// <param name="humidityRatio">Humidity ratio [kg/kg], 0 or more.</param>
    /// <returns>Enthalpy [J / kg dry air].</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument outside its range.</exception>
    /// <remarks>ASHRAE 2017 ch. 1, eq. 30.</remarks>
    public static double Enthalpy(double dryC, double humidityRatio)
    {
        CheckDryBulb(dryC);
        CheckHumidityRatio(humidityRatio);
        return EnthalpyUnchecked(dryC, humidityRatio);
    }

    /// <summary>Enthalpy of moist air in the trade's units, zero for dry air at 0 °F.</summary>
    /// <param name="dryF">Dry bulb [°F], −40…140.</param>
    /// <param name="humidityRatio">Humidity ratio [lb/lb], 0 or more.</param>
    /// <returns>Enthalpy [Btu / lb dry air].</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument outside its range.</exception>
    /// <remarks>
    /// ASHRAE 2017 ch. 1, eq. 30 of the IP edition. It is not <see cref="Enthalpy"/> in other units: its 0.240 Btu/(lb °F) is 0.12 % less
    /// than 1.006 kJ/(kg K), so one equation cannot meet tables of both editions closer than that.
    /// </remarks>
    public static double EnthalpyBtuLb(double dryF, double humidityRatio)
    {
        Bounds.Check(dryF, Units.FahrenheitFromCelsius(MinDryBulbC), Units.FahrenheitFromCelsius(MaxDryBulbC), "°F", nameof(dryF));
        CheckHumidityRatio(humidityRatio);
        return 0.240 * dryF + humidityRatio * (1061.0 + 0.444 * dryF);
    }

    /// <summary>Volume of moist air per mass of its dry air.</summary>
    /// <param name="dryC">Dry bulb [°C], −40…60.</param>
    /// <param name="humidityRatio">Humidity ratio [kg/kg], 0 or more.</param>
    /// <param name="pa">Barometric pressure [Pa], 22 000…178 000.</param>
    /// <returns>Specific volume [m³ / kg dry air].</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument outside its range.</exception>
    /// <remarks>ASHRAE 2017 ch. 1, eq. 26.</remarks>
    public static double SpecificVolume(double dryC, double humidityRatio, double pa)
    {
        CheckDryBulb(dryC);
        CheckHumidityRatio(humidityRatio);
        CheckPressure(pa);
        return DryAirGasConstant * (dryC + ZeroCelsiusK) * (1.0 + 1.607858 * humidityRatio) / pa;
    }

    /// <summary>Density of moist air: dry air and water together.</summary>
    /// <param name="dryC">Dry bulb [°C], −40…60.</param>
    /// <param name="humidityRatio">Humidity ratio [kg/kg], 0 or more.</param>
    /// <param name="pa">Barometric pressure [Pa], 22 000…178 000.</param>
    /// <returns>Density [kg moist air / m³].</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument outside its range.</exception>
    /// <remarks>ASHRAE 2017 ch. 1, eq. 11.</remarks>
    public static double Density(double dryC, double humidityRatio, double pa) =>
        (1.0 + humidityRatio) / SpecificVolume(dryC, humidityRatio, pa);

    internal static double EnthalpyUnchecked(double dryC, double humidityRatio) =>
        (1.006 * dryC + humidityRatio * (2501.0 + 1.86 * dryC)) * 1000.0;

    private static void CheckDryBulb(double dryC) => Bounds.Check(dryC, MinDryBulbC, MaxDryBulbC, "°C", nameof(dryC));

    private static void CheckPressure(double pa) => Bounds.Check(pa, MinPressurePa, MaxPressurePa, "Pa", nameof(pa));

    private static void CheckHumidityRatio(double humidityRatio) =>
        Bounds.Check(humidityRatio, 0.0, double.MaxValue, "kg/kg", nameof(humidityRatio));
}
