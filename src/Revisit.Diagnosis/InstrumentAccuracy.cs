namespace Revisit.Diagnosis;

/// <summary>
/// How far field instruments may be off. Quoted limits are common practice for service instruments (no source); a limit ±a is taken
/// as equally likely anywhere inside, so its standard uncertainty is a/√3. Change the numbers here and nowhere else, then raise
/// the version of <see cref="DiagnosisStage"/>.
/// </summary>
public static class InstrumentAccuracy
{
    /// <summary>Air or clamp thermometer, ±1 °F.</summary>
    public const double ThermometerLimitF = 1.0;

    /// <summary>Wet bulb, ±1 °F.</summary>
    public const double WetBulbLimitF = 1.0;

    /// <summary>Relative humidity, ±3 points.</summary>
    public const double HumidityLimitPct = 3.0;

    /// <summary>Gauge pressure: ±1 % of the reading, but no better than <see cref="PressureFloorPsi"/>.</summary>
    public const double PressureLimitShare = 0.01;

    /// <summary>Least limit of a pressure reading, ±1 psi.</summary>
    public const double PressureFloorPsi = 1.0;

    /// <summary>Barometer where the elevation is known: weather moves it by about ±0.15 psi.</summary>
    public const double BarometerLimitPsi = 0.15;

    /// <summary>Barometer where the elevation is not known and sea level is assumed: up to about 3,000 ft, 1.5 psi.</summary>
    public const double BarometerUnknownLimitPsi = 1.5;

    private const double Rectangular = 0.57735026918962573; // 1/√3

    /// <summary>Standard uncertainty of a thermometer [°F difference].</summary>
    public const double ThermometerSdF = ThermometerLimitF * Rectangular;

    /// <summary>Standard uncertainty of a wet bulb [°F difference].</summary>
    public const double WetBulbSdF = WetBulbLimitF * Rectangular;

    /// <summary>Standard uncertainty of a relative humidity [%].</summary>
    public const double HumiditySdPct = HumidityLimitPct * Rectangular;

    /// <summary>Standard uncertainty of the barometer [psi].</summary>
    public static double BarometerSdPsi(bool elevationKnown) => (elevationKnown ? BarometerLimitPsi : BarometerUnknownLimitPsi) * Rectangular;

    /// <summary>Standard uncertainty of a gauge pressure [psi].</summary>
    public static double PressureSdPsi(double psig) => Math.Max(PressureFloorPsi, PressureLimitShare * psig) * Rectangular;

    /// <summary>Share of a measured airflow that is its standard uncertainty, by method; blower tables and temperature rise are the loosest.</summary>
    public static double AirflowSdShare(string? method) => method switch
    {
        "flow_grid" => 0.05,
        "flow_hood" => 0.06,
        "traverse" => 0.07,
        "temperature_rise" => 0.12,
        _ => 0.12,
    };
}
