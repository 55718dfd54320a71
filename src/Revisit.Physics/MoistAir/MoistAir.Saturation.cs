namespace Revisit.Physics;

public static partial class MoistAir
{
    /// <summary>Lowest temperature of the saturation equations [°C].</summary>
    public const double MinSaturationC = -100.0;

    /// <summary>Highest temperature of the saturation equations [°C].</summary>
    public const double MaxSaturationC = 200.0;

    /// <summary>Lowest humidity ratio with a dew point here [kg/kg]; PsychroLib sets anything lower to this value.</summary>
    public const double MinDewPointHumidityRatio = 1e-7;

    /// <summary>
    /// The two equations meet at the triple point [°C]. The Handbook says 0 °C, where they leave a step; PsychroLib found that.
    /// </summary>
    private const double TriplePointC = 0.01;

    /// <summary>Pressure of saturated water vapour, over ice up to 0.01 °C and over liquid water above.</summary>
    /// <param name="celsius">Temperature [°C], −100…200.</param>
    /// <returns>Saturation pressure [Pa].</returns>
    /// <exception cref="ArgumentOutOfRangeException">Temperature outside the range.</exception>
    /// <remarks>ASHRAE 2017 ch. 1, eq. 5 (ice) and 6 (liquid water).</remarks>
    public static double SaturationPressure(double celsius)
    {
        Bounds.Check(celsius, MinSaturationC, MaxSaturationC, "°C", nameof(celsius));
        return Math.Exp(LogSaturationPressure(celsius));
    }

    /// <summary>Temperature at which the air's water vapour would be saturated.</summary>
    /// <param name="dryC">Dry bulb [°C], −40…60.</param>
    /// <param name="humidityRatio">Humidity ratio [kg/kg], 1e−7 up to that of saturated air at the dry bulb.</param>
    /// <param name="pa">Barometric pressure [Pa], 22 000…178 000.</param>
    /// <returns>Dew point (frost point below 0.01 °C) [°C], at most the dry bulb.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument outside its range.</exception>
    /// <remarks>Newton on ln p of ASHRAE 2017 ch. 1, eq. 5 and 6, as PsychroLib; the Handbook's regressions 37 and 38 are coarser.</remarks>
    public static double DewPoint(double dryC, double humidityRatio, double pa)
    {
        CheckDryBulb(dryC);
        CheckPressure(pa);
        double celsius = humidityRatio >= MinDewPointHumidityRatio ? DewPointUnchecked(humidityRatio, pa) : double.NaN;
        if (celsius <= dryC) return celsius;

        // Only now is it worth an exponential to tell rounding from too much or too little water.
        Bounds.Check(humidityRatio, MinDewPointHumidityRatio, SaturatedHumidityRatio(dryC, pa) * (1.0 + SaturationSlack), "kg/kg", nameof(humidityRatio));
        return dryC;
    }

    /// <summary>As <see cref="DewPoint(double, double, double)"/>, with its slope.</summary>
    /// <param name="dryC">Dry bulb [°C].</param>
    /// <param name="humidityRatio">Humidity ratio [kg/kg].</param>
    /// <param name="pa">Barometric pressure [Pa].</param>
    /// <param name="perHumidityRatio">Change by the humidity ratio [K per kg/kg].</param>
    /// <returns>Dew point [°C].</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument outside its range.</exception>
    public static double DewPoint(double dryC, double humidityRatio, double pa, out double perHumidityRatio)
    {
        double celsius = DewPoint(dryC, humidityRatio, pa);
        perHumidityRatio = 1.0 / (humidityRatio * (1.0 + humidityRatio / MolarMassRatio) * LogSaturationSlope(celsius));
        return celsius;
    }

    private static double DewPointUnchecked(double humidityRatio, double pa)
    {
        // Start: Magnus' ln p = 6.415 + 17.62 t / (t + 243.12) over water (from memory; the result does not depend on it).
        double target = Math.Log(pa * humidityRatio / (MolarMassRatio + humidityRatio)), excess = target - 6.415;
        double celsius = Math.Clamp(243.12 * excess / (17.62 - excess), MinSaturationC, MaxSaturationC);
        for (int i = 0; i < 50; i++)
        {
            double step = (LogSaturationPressure(celsius) - target) / LogSaturationSlope(celsius);
            celsius = Math.Clamp(celsius - step, MinSaturationC, MaxSaturationC);
            if (Math.Abs(step) < 1e-6) break; // the next step would go with the square of this one: under rounding
        }

        return celsius;
    }

    /// <summary>Humidity ratio of saturated air [kg/kg]. ASHRAE 2017 ch. 1, eq. 36 solved for W.</summary>
    internal static double SaturatedHumidityRatio(double celsius, double pa)
    {
        double vapour = Math.Exp(LogSaturationPressure(celsius));
        return MolarMassRatio * vapour / (pa - vapour);
    }

    private static double LogSaturationPressure(double celsius)
    {
        double t = celsius + ZeroCelsiusK;
        return celsius <= TriplePointC
            ? -5.6745359e3 / t + 6.3925247 + t * (-9.677843e-3 + t * (6.2215701e-7 + t * (2.0747825e-9 - t * 9.484024e-13))) + 4.1635019 * Math.Log(t)
            : -5.8002206e3 / t + 1.3914993 + t * (-4.8640239e-2 + t * (4.1764768e-5 - t * 1.4452093e-8)) + 6.5459673 * Math.Log(t);
    }

    /// <summary>Derivative of ln p of the two equations [1/K].</summary>
    private static double LogSaturationSlope(double celsius)
    {
        double t = celsius + ZeroCelsiusK;
        return celsius <= TriplePointC
            ? 5.6745359e3 / (t * t) - 9.677843e-3 + t * (2.0 * 6.2215701e-7 + t * (3.0 * 2.0747825e-9 - t * 4.0 * 9.484024e-13)) + 4.1635019 / t
            : 5.8002206e3 / (t * t) - 4.8640239e-2 + t * (2.0 * 4.1764768e-5 - t * 3.0 * 1.4452093e-8) + 6.5459673 / t;
    }
}
