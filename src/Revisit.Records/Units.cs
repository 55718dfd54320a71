namespace Revisit.Records;

/// <summary>
/// Exact conversions between the units of the tables and SI. Factors: NIST Special Publication 811 (2008), appendix B.8
/// (from memory; the tests hold them against the published digits).
/// </summary>
public static class Units
{
    public const double PascalPerPsi = 6894.757293168361;
    public const double PascalPerInchWater = 249.08891; // conventional inch of water (4 °C), as UCUM's [in_i'H2O]
    public const double MetrePerFoot = 0.3048;
    public const double WattPerBtuh = 0.2930710701722222;
    public const double JoulePerKilogramPerBtuLb = 2326.0;
    public const double KilogramPerCubicMetrePerLbFt3 = 16.01846337396014;
    public const double CubicMetrePerSecondPerCfm = 0.0004719474432;
    public const double BtuhPerTon = 12_000.0;

    /// <summary>°F to °C.</summary>
    public static double CelsiusFromFahrenheit(double f) => (f - 32.0) / 1.8;

    /// <summary>°C to °F.</summary>
    public static double FahrenheitFromCelsius(double c) => c * 1.8 + 32.0;

    /// <summary>°F to K.</summary>
    public static double KelvinFromFahrenheit(double f) => (f - 32.0) / 1.8 + 273.15;

    /// <summary>K to °F.</summary>
    public static double FahrenheitFromKelvin(double k) => (k - 273.15) * 1.8 + 32.0;

    /// <summary>Standard barometric pressure [Pa] at an elevation [m]: ASHRAE Handbook—Fundamentals 2017, ch. 1, eq. 3.</summary>
    public static double StandardBarometerPascal(double elevationM) => 101_325.0 * Math.Pow(1.0 - 2.25577e-5 * elevationM, 5.2559);

    /// <summary>Gauge pressure [psig] over a barometer [Pa] to absolute pressure [Pa].</summary>
    public static double AbsolutePascal(double psig, double barometerPa) => psig * PascalPerPsi + barometerPa;
}
