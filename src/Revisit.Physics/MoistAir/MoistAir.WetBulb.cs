namespace Revisit.Physics;

public static partial class MoistAir
{
    /// <summary>Thermodynamic wet bulb from dry bulb and humidity ratio.</summary>
    /// <param name="dryC">Dry bulb [°C], −40…60.</param>
    /// <param name="humidityRatio">Humidity ratio [kg/kg], 0 up to that of saturated air at the dry bulb.</param>
    /// <param name="pa">Barometric pressure [Pa], 22 000…178 000.</param>
    /// <returns>Wet bulb [°C], at most the dry bulb.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument outside its range.</exception>
    /// <remarks>
    /// Inverts ASHRAE 2017 ch. 1, eq. 33 (liquid, from 0 °C) and 35 (ice, below). The two leave a step at 0 °C, so that a narrow
    /// band of air (up to about 0.4 °C of wet bulb, dry bulb a few degrees over freezing) has a solution on each side of it. The
    /// liquid one is returned: the wick is wetted with liquid water. PsychroLib's bisection returns either.
    /// </remarks>
    public static double WetBulb(double dryC, double humidityRatio, double pa)
    {
        CheckDryBulb(dryC);
        CheckPressure(pa);
        Bounds.Check(humidityRatio, 0.0, SaturatedHumidityRatio(dryC, pa) * (1.0 + SaturationSlack), "kg/kg", nameof(humidityRatio));
        return WetBulbUnchecked(dryC, humidityRatio, pa);
    }

    private static double WetBulbUnchecked(double dryC, double humidityRatio, double pa)
    {
        bool liquid = dryC >= 0.0 && HumidityRatioAtWetBulb(dryC, 0.0, pa, true) <= humidityRatio;
        if (liquid) return Solve(dryC, humidityRatio, pa, 0.0, dryC, liquid);
        return Solve(dryC, humidityRatio, pa, Math.Max(MinSaturationC, dryC - 60.0), Math.Min(dryC, 0.0), liquid);
    }

    /// <summary>
    /// Regula falsi with the Illinois rule: each branch rises with the wet bulb, so the bracket always holds the one solution.
    /// </summary>
    private static double Solve(double dryC, double humidityRatio, double pa, double low, double high, bool liquid)
    {
        double Miss(double wetC) => HumidityRatioAtWetBulb(dryC, wetC, pa, liquid) - humidityRatio;

        double missLow = Miss(low), missHigh = Miss(high);
        if (missHigh <= 0.0) return high;
        if (missLow >= 0.0) return low;
        int side = 0;
        for (int i = 0; i < 100 && high - low > 1e-10; i++)
        {
            double wetC = (low * missHigh - high * missLow) / (missHigh - missLow);
            double miss = Miss(wetC);
            if (Math.Abs(miss) < 1e-15) return wetC;
            if (miss < 0.0)
            {
                low = wetC;
                missLow = miss;
                if (side < 0) missHigh *= 0.5;
                side = -1;
            }
            else
            {
                high = wetC;
                missHigh = miss;
                if (side > 0) missLow *= 0.5;
                side = 1;
            }
        }

        return 0.5 * (low + high);
    }
}
