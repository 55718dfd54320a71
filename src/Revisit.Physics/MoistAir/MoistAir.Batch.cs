namespace Revisit.Physics;

public static partial class MoistAir
{
    /// <summary>Humidity ratios from columns of dry and wet bulb.</summary>
    /// <param name="dryC">Dry bulbs [°C], n values.</param>
    /// <param name="wetC">Wet bulbs [°C], n values.</param>
    /// <param name="pa">Barometric pressures [Pa], n values.</param>
    /// <param name="humidityRatio">Receives n humidity ratios [kg/kg]; NaN where the scalar function would throw.</param>
    /// <exception cref="ArgumentException">Spans of different lengths.</exception>
    public static void HumidityRatiosFromWetBulb(ReadOnlySpan<double> dryC, ReadOnlySpan<double> wetC, ReadOnlySpan<double> pa, Span<double> humidityRatio)
    {
        CheckLengths(humidityRatio.Length, dryC.Length, wetC.Length, pa.Length);
        for (int i = 0; i < humidityRatio.Length; i++)
            TryHumidityRatioFromWetBulb(dryC[i], wetC[i], pa[i], out humidityRatio[i]);
    }

    /// <summary>Wet bulbs from columns of dry bulb and humidity ratio.</summary>
    /// <param name="dryC">Dry bulbs [°C], n values.</param>
    /// <param name="humidityRatio">Humidity ratios [kg/kg], n values.</param>
    /// <param name="pa">Barometric pressures [Pa], n values.</param>
    /// <param name="wetC">Receives n wet bulbs [°C]; NaN where the scalar function would throw.</param>
    /// <exception cref="ArgumentException">Spans of different lengths.</exception>
    public static void WetBulbs(ReadOnlySpan<double> dryC, ReadOnlySpan<double> humidityRatio, ReadOnlySpan<double> pa, Span<double> wetC)
    {
        CheckLengths(wetC.Length, dryC.Length, humidityRatio.Length, pa.Length);
        for (int i = 0; i < wetC.Length; i++)
        {
            bool inside = Bounds.Holds(dryC[i], MinDryBulbC, MaxDryBulbC) && Bounds.Holds(pa[i], MinPressurePa, MaxPressurePa)
                && Bounds.Holds(humidityRatio[i], 0.0, SaturatedHumidityRatio(dryC[i], pa[i]) * (1.0 + SaturationSlack));
            wetC[i] = inside ? WetBulbUnchecked(dryC[i], humidityRatio[i], pa[i]) : double.NaN;
        }
    }

    /// <summary>Enthalpies from columns of dry bulb and humidity ratio.</summary>
    /// <param name="dryC">Dry bulbs [°C], n values.</param>
    /// <param name="humidityRatio">Humidity ratios [kg/kg], n values.</param>
    /// <param name="joulePerKg">Receives n enthalpies [J / kg dry air]; NaN where the scalar function would throw.</param>
    /// <exception cref="ArgumentException">Spans of different lengths.</exception>
    public static void Enthalpies(ReadOnlySpan<double> dryC, ReadOnlySpan<double> humidityRatio, Span<double> joulePerKg)
    {
        CheckLengths(joulePerKg.Length, dryC.Length, humidityRatio.Length, joulePerKg.Length);
        for (int i = 0; i < joulePerKg.Length; i++)
        {
            bool inside = Bounds.Holds(dryC[i], MinDryBulbC, MaxDryBulbC) && Bounds.Holds(humidityRatio[i], 0.0, double.MaxValue);
            joulePerKg[i] = inside ? EnthalpyUnchecked(dryC[i], humidityRatio[i]) : double.NaN;
        }
    }

    private static void CheckLengths(int result, int first, int second, int third)
    {
        if (first != result || second != result || third != result)
            throw new ArgumentException($"Columns of {first}, {second} and {third} values do not fit a result of {result}.");
    }
}
