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
        double w = HumidityRatioAtWetBulb(dryC, wetC, pa);
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
        double w = HumidityRatioAtWetBulb(dryC, wetC, pa);
        if (!(w >= 0.0)) return false;
        humidityRatio = w;
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
    public static double RelativeHumidity(double dryC, double humidityRatio, double pa)
    {
        CheckDryBulb(dryC);
        CheckPressure(pa);
        Bounds.Check(humidityRatio, 0.0, 1.0, "kg/kg", nameof(humidityRatio));
        double vapour = pa * humidityRatio / (MolarMassRatio + humidityRatio);
        double share = vapour / Math.Exp(LogSaturationPressure(dryC));
        return share > 1.0 && share <= 1.0 + SaturationSlack ? 1.0 : share;
    }

    private static double HumidityRatioAtWetBulb(double dryC, double wetC, double pa) =>
        wetC >= 0.0 ? HumidityRatioOverLiquid(dryC, wetC, pa) : HumidityRatioOverIce(dryC, wetC, pa);

    private static double HumidityRatioOverLiquid(double dryC, double wetC, double pa) =>
        ((2501.0 - 2.326 * wetC) * SaturatedHumidityRatio(wetC, pa) - 1.006 * (dryC - wetC)) / (2501.0 + 1.86 * dryC - 4.186 * wetC);

    private static double HumidityRatioOverIce(double dryC, double wetC, double pa) =>
        ((2830.0 - 0.24 * wetC) * SaturatedHumidityRatio(wetC, pa) - 1.006 * (dryC - wetC)) / (2830.0 + 1.86 * dryC - 2.1 * wetC);
}
