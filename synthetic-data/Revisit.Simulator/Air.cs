using Revisit.Records;

namespace Revisit.Simulator;

/// <summary>Moist air in the units of the trade. Only what a reading needs.</summary>
internal static class Air
{
    /// <summary>Density of standard air, 0.075 lb/ft³, in kg/m³.</summary>
    public const double StandardDensity = 0.075 * Units.KilogramPerCubicMetrePerLbFt3;

    /// <summary>Saturation pressure over water [Pa] at a temperature [°F].</summary>
    public static double Saturation(double f)
    {
        // ASHRAE Handbook—Fundamentals, equation for saturation over liquid water (Hyland and Wexler), from memory.
        var t = Units.KelvinFromFahrenheit(f);
        return Math.Exp(-5800.2206 / t + 1.3914993 - 0.048640239 * t + 4.1764768e-5 * t * t - 1.4452093e-8 * t * t * t + 6.5459673 * Math.Log(t));
    }

    /// <summary>Humidity ratio of saturated air [lb/lb].</summary>
    public static double SaturatedRatio(double f, double pa)
    {
        var pw = Saturation(f);
        return 0.621945 * pw / (pa - pw);
    }

    /// <summary>Humidity ratio from dry and wet bulb [°F] at a pressure [Pa].</summary>
    public static double Ratio(double dryF, double wetF, double pa)
    {
        var ws = SaturatedRatio(wetF, pa);
        return ((1093 - 0.556 * wetF) * ws - 0.240 * (dryF - wetF)) / (1093 + 0.444 * dryF - wetF);
    }

    /// <summary>Humidity ratio from dry bulb [°F] and relative humidity [0…1].</summary>
    public static double RatioFromRh(double dryF, double rh, double pa)
    {
        var pw = rh * Saturation(dryF);
        return 0.621945 * pw / (pa - pw);
    }

    /// <summary>Relative humidity [%].</summary>
    public static double RelativeHumidity(double dryF, double ratio, double pa) =>
        100 * (pa * ratio / (0.621945 + ratio)) / Saturation(dryF);

    /// <summary>Enthalpy [Btu/lb dry air].</summary>
    public static double Enthalpy(double dryF, double ratio) => 0.240 * dryF + ratio * (1061 + 0.444 * dryF);

    /// <summary>Wet bulb [°F] by bisection between −40 °F and the dry bulb.</summary>
    public static double WetBulb(double dryF, double ratio, double pa)
    {
        double low = -40, high = dryF;
        for (var i = 0; i < 30; i++)
        {
            var mid = 0.5 * (low + high);
            if (Ratio(dryF, mid, pa) < ratio)
                low = mid;
            else
                high = mid;
        }

        return 0.5 * (low + high);
    }

    /// <summary>Temperature [°F] at which saturated air has an enthalpy, by Newton's method.</summary>
    public static double SaturatedAt(double enthalpy, double pa)
    {
        var t = 55.0;
        for (var i = 0; i < 12; i++)
        {
            var h = Enthalpy(t, SaturatedRatio(t, pa));
            var slope = (Enthalpy(t + 0.01, SaturatedRatio(t + 0.01, pa)) - h) / 0.01;
            var step = (enthalpy - h) / slope;
            t = Math.Clamp(t + step, -20, 110);
            if (Math.Abs(step) < 1e-7)
                break;
        }

        return t;
    }

    /// <summary>Density [kg/m³] of moist air.</summary>
    public static double Density(double dryF, double ratio, double pa) =>
        pa * (1 + ratio) / (287.042 * Units.KelvinFromFahrenheit(dryF) * (1 + 1.607858 * ratio));

    /// <summary>Barometric pressure [Pa] at an elevation [ft]: standard atmosphere.</summary>
    public static double Barometer(double elevationFt) => 101_325 * Math.Pow(1 - 2.25577e-5 * elevationFt * Units.MetrePerFoot, 5.2559);
}
