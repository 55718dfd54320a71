namespace Revisit.Physics;

public static partial class MoistAir
{
    /// <summary>Share by which a humidity ratio may exceed saturation before it is refused: rounding of a round trip.</summary>
    private const double SaturationSlack = 1e-6;

    /// <summary>Humidity ratio from dry and wet bulb.</summary>
    /// <param name="dryC">Dry bulb [°C], −40…60.</param>
    /// <param name="wetC">Thermodynamic wet bulb [°C], over ice below 0 °C; at most the dry bulb, and not so low that the air
    /// would hold less than no water.</param>
    /// <param name="pa">Barometric pressure [Pa], 22 000…178 000.</param>
    /// <returns>Humidity ratio [kg/kg].</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument outside its range.</exception>
    /// <remarks>ASHRAE 2017 ch. 1, eq. 33 (liquid) and 35 (ice). PsychroLib raises a negative result to 1e−7; here it is refused.</remarks>
    public static double HumidityRatioFromWetBulb(double dryC, double wetC, double pa)
    {
        CheckDryBulb(dryC);
        CheckPressure(pa);
        Bounds.Check(wetC, MinSaturationC, dryC, "°C", nameof(wetC));
        double w = HumidityRatioAtWetBulb(dryC, wetC, pa, wetC >= 0.0);
        return w >= 0.0 ? w : Bounds.Check(wetC, WetBulbUnchecked(dryC, 0.0, pa), dryC, "°C", nameof(wetC));
    }

    /// <summary>Humidity ratio from dry and wet bulb, for readings that may be impossible.</summary>
    /// <param name="dryC">Dry bulb [°C].</param>
    /// <param name="wetC">Wet bulb [°C].</param>
    /// <param name="pa">Barometric pressure [Pa].</param>
    /// <param name="humidityRatio">Humidity ratio [kg/kg], or NaN.</param>
    /// <returns>False where <see cref="HumidityRatioFromWetBulb"/> would throw.</returns>
    public static bool TryHumidityRatioFromWetBulb(double dryC, double wetC, double pa, out double humidityRatio)
    {
        humidityRatio = double.NaN;
        if (!Bounds.Holds(dryC, MinDryBulbC, MaxDryBulbC) || !Bounds.Holds(pa, MinPressurePa, MaxPressurePa)) return false;
        if (!Bounds.Holds(wetC, MinSaturationC, dryC)) return false;
        double w = HumidityRatioAtWetBulb(dryC, wetC, pa, wetC >= 0.0);
        if (!(w >= 0.0)) return false;
        humidityRatio = w;
        return true;
    }

    /// <summary>As <see cref="TryHumidityRatioFromWetBulb(double, double, double, out double)"/>, with its slopes.</summary>
    /// <param name="dryC">Dry bulb [°C].</param>
    /// <param name="wetC">Wet bulb [°C].</param>
    /// <param name="pa">Barometric pressure [Pa].</param>
    /// <param name="humidityRatio">Humidity ratio [kg/kg], or NaN.</param>
    /// <param name="perDryK">Change by the dry bulb at the same wet bulb [1/K], negative; or NaN.</param>
    /// <param name="perWetK">Change by the wet bulb at the same dry bulb [1/K], positive; or NaN.</param>
    /// <returns>False where there is no such air.</returns>
    public static bool TryHumidityRatioFromWetBulb(double dryC, double wetC, double pa, out double humidityRatio, out double perDryK, out double perWetK)
    {
        perDryK = perWetK = double.NaN;
        if (!TryHumidityRatioFromWetBulb(dryC, wetC, pa, out humidityRatio)) return false;
        (double latent, double fall, double heat) = Wick(wetC >= 0.0);
        double below = latent + 1.86 * dryC - heat * wetC, evaporation = latent - fall * wetC;
        double saturated = (humidityRatio * below + 1.006 * (dryC - wetC)) / evaporation; // the equation solved back: no second exponential
        perDryK = -(1.006 + 1.86 * humidityRatio) / below;
        perWetK = (evaporation * SaturatedSlope(saturated, wetC) - fall * saturated + 1.006 + heat * humidityRatio) / below;
        return true;
    }

    /// <summary>Humidity ratio from dry bulb and relative humidity.</summary>
    /// <param name="dryC">Dry bulb [°C], −40…60.</param>
    /// <param name="rh01">Relative humidity as a share, 0…1.</param>
    /// <param name="pa">Barometric pressure [Pa], 22 000…178 000.</param>
    /// <returns>Humidity ratio [kg/kg].</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument outside its range.</exception>
    /// <remarks>ASHRAE 2017 ch. 1, eq. 12 and 20.</remarks>
    public static double HumidityRatioFromRelativeHumidity(double dryC, double rh01, double pa)
    {
        CheckDryBulb(dryC);
        CheckPressure(pa);
        Bounds.Check(rh01, 0.0, 1.0, "(share)", nameof(rh01));
        double vapour = rh01 * Math.Exp(LogSaturationPressure(dryC));
        return MolarMassRatio * vapour / (pa - vapour);
    }

    /// <summary>As <see cref="HumidityRatioFromRelativeHumidity(double, double, double)"/>, with its slope.</summary>
    /// <param name="dryC">Dry bulb [°C].</param>
    /// <param name="rh01">Relative humidity as a share.</param>
    /// <param name="pa">Barometric pressure [Pa].</param>
    /// <param name="perDryK">Change by the dry bulb at the same relative humidity [1/K].</param>
    /// <returns>Humidity ratio [kg/kg].</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument outside its range.</exception>
    public static double HumidityRatioFromRelativeHumidity(double dryC, double rh01, double pa, out double perDryK)
    {
        double w = HumidityRatioFromRelativeHumidity(dryC, rh01, pa);
        perDryK = SaturatedSlope(w, dryC); // a constant share of saturation changes as saturation does
        return w;
    }

    /// <summary>Relative humidity from dry bulb and humidity ratio; more than 1 for more water than saturated air holds.</summary>
    /// <param name="dryC">Dry bulb [°C], −40…60.</param>
    /// <param name="humidityRatio">Humidity ratio [kg/kg], 0…1.</param>
    /// <param name="pa">Barometric pressure [Pa], 22 000…178 000.</param>
    /// <returns>Relative humidity as a share; exactly 1 for an excess that is only rounding.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument outside its range.</exception>
    /// <remarks>
    /// ASHRAE 2017 ch. 1, eq. 12 and 22. Not bounded by saturation: a reading near it, moved by its own uncertainty, steps over,
    /// and the caller must be able to see by how much.
    /// </remarks>
    public static double RelativeHumidity(double dryC, double humidityRatio, double pa) => RelativeHumidity(dryC, humidityRatio, pa, out _, out _);

    /// <summary>As <see cref="RelativeHumidity(double, double, double)"/>, with its slopes.</summary>
    /// <param name="dryC">Dry bulb [°C].</param>
    /// <param name="humidityRatio">Humidity ratio [kg/kg].</param>
    /// <param name="pa">Barometric pressure [Pa].</param>
    /// <param name="perDryK">Change by the dry bulb at the same humidity ratio [1/K].</param>
    /// <param name="perHumidityRatio">Change by the humidity ratio [1 per kg/kg].</param>
    /// <returns>Relative humidity as a share.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument outside its range.</exception>
    public static double RelativeHumidity(double dryC, double humidityRatio, double pa, out double perDryK, out double perHumidityRatio)
    {
        CheckDryBulb(dryC);
        CheckPressure(pa);
        Bounds.Check(humidityRatio, 0.0, 1.0, "kg/kg", nameof(humidityRatio));
        double perRatio = pa / (MolarMassRatio + humidityRatio) / Math.Exp(LogSaturationPressure(dryC)), share = perRatio * humidityRatio;
        perDryK = -share * LogSaturationSlope(dryC);
        perHumidityRatio = perRatio * MolarMassRatio / (MolarMassRatio + humidityRatio);
        return share > 1.0 && share <= 1.0 + SaturationSlack ? 1.0 : share;
    }

    /// <summary>Change of a humidity ratio [1/K] where its vapour pressure is a constant share of saturation at a temperature.</summary>
    private static double SaturatedSlope(double humidityRatio, double celsius) =>
        humidityRatio * (1.0 + humidityRatio / MolarMassRatio) * LogSaturationSlope(celsius);

    /// <summary>Eq. 33 (liquid) or 35 (ice), unchecked; negative where there is no such air.</summary>
    private static double HumidityRatioAtWetBulb(double dryC, double wetC, double pa, bool liquid)
    {
        (double latent, double fall, double heat) = Wick(liquid);
        return ((latent - fall * wetC) * SaturatedHumidityRatio(wetC, pa) - 1.006 * (dryC - wetC)) / (latent + 1.86 * dryC - heat * wetC);
    }

    /// <summary>Of the two equations: latent heat at 0 °C [kJ/kg], its fall [kJ/(kg K)], heat capacity of the water or ice [kJ/(kg K)].</summary>
    private static (double Latent, double Fall, double Heat) Wick(bool liquid) => liquid ? (2501.0, 2.326, 4.186) : (2830.0, 0.24, 2.1);
}
