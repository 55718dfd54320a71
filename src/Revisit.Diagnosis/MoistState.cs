using Revisit.Physics;
using Revisit.Records;

namespace Revisit.Diagnosis;

/// <summary>Moist air with what is needed to carry its uncertainty on.</summary>
/// <param name="DryC">Dry bulb [°C].</param>
/// <param name="W">Humidity ratio.</param>
/// <param name="WSd">Standard uncertainty of the humidity ratio.</param>
/// <param name="WSlope">Change of the humidity ratio with an error of the dry bulb [1/K]: negative from a wet bulb, positive from a relative humidity.</param>
/// <param name="WOther">Part of <paramref name="WSd"/> that is not the dry bulb's.</param>
internal readonly record struct MoistState(double DryC, double W, double WSd, double WSlope, double WOther)
{
    /// <summary>From wet bulb where there is one, else from relative humidity [%]; temperatures in °F.</summary>
    /// <returns>False when no air has these readings: wet bulb over dry bulb, or lower than dry air could give.</returns>
    public static bool TryMeasured(double dryF, double wetF, double humidityPct, double barometer, out MoistState state)
    {
        const double Step = InstrumentAccuracy.ThermometerSdF / 1.8;
        var dry = Units.CelsiusFromFahrenheit(dryF);
        double w, other, slope;
        if (!double.IsNaN(wetF))
        {
            if (!MoistAir.TryHumidityRatioFromWetBulb(dry, Units.CelsiusFromFahrenheit(wetF), barometer, out w, out slope, out var perWetK))
            {
                state = default;
                return false;
            }

            // At the dry end the shifted readings are no air: moisture cannot go below none.
            other = Math.Min(w, perWetK * InstrumentAccuracy.WetBulbSdF / 1.8);
            slope = Math.Max(-w / Step, slope);
        }
        else
        {
            w = MoistAir.HumidityRatioFromRelativeHumidity(dry, humidityPct / 100, barometer, out slope);
            other = w * InstrumentAccuracy.HumiditySdPct / humidityPct;
        }

        state = new(dry, w, Spread.Root(other, slope * Step), slope, other);
        return true;
    }

    /// <summary>Standard uncertainty of the enthalpy [J/kg]: the dry bulb acts directly and through the humidity ratio, which nearly cancels for a wet bulb.</summary>
    public double EnthalpySd()
    {
        const double Step = InstrumentAccuracy.ThermometerSdF / 1.8;
        var perKelvin = 1006 + 1860 * W + 2_501_000 * WSlope;
        return Spread.Root(perKelvin * Step, (2_501_000 + 1860 * DryC) * WOther);
    }
}
