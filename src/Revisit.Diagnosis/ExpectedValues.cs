using Revisit.Physics;
using Revisit.Records;

namespace Revisit.Diagnosis;

/// <summary>
/// What a sound system should read. First layer: rough relations around the rated point of a compact equipment model (12 EER,
/// 400 cfm a ton; evaporating 48, condensing 18.1 over outdoor, split 20.6 °F at 80/67 °F indoors and 95 °F outdoors). They move the
/// right way with weather; the spreads given are wide on purpose and hold until the equipment model takes over.
/// </summary>
public static class ExpectedValues
{
    /// <summary>Airflow of a sound system where the design gives none [cfm a ton] (common practice, no source).</summary>
    public const double AirflowPerTon = 400;

    /// <summary>Relative humidity at which a wet coil lets the air go; chosen so that 80/67/95 gives the model's 20.6 °F.</summary>
    public const double LeavingHumidity = 0.89;

    /// <summary>Spread of sound systems' split around the relation [°F difference].</summary>
    public const double SplitSpreadF = 1.6;

    /// <summary>Spread of sound systems' evaporating temperature [°F difference], valve and orifice.</summary>
    public const double EvaporatingSpreadF = 3.0;

    /// <summary>Spread of condensing over outdoor [°F difference]; twice as wide where the efficiency is not known.</summary>
    public const double CondensingSpreadF = 3.0;

    /// <summary>
    /// Capacity over rated: −0.5 % a °F outdoors above 95 (the model: 1.065 at 82) and +1.5 % a °F of return wet bulb above 67
    /// (rounded from the model's and published neighbours, from memory). A coil that stays dry does not feel the wet bulb: below the
    /// wet bulb at which the split relation goes dry (62.2 °F at 80/95; a straight line through 25 such points of that relation,
    /// within 0.3 °F at sea level), capacity stays what it is there.
    /// </summary>
    /// <param name="outdoorF">Outdoor dry bulb [°F].</param>
    /// <param name="returnF">Return dry bulb [°F].</param>
    /// <param name="wetBulbF">Return wet bulb [°F].</param>
    public static double CapacityFactor(double outdoorF, double returnF, double wetBulbF)
    {
        var outdoor = Math.Clamp(outdoorF, 55, 120);
        var goesDry = 61.95 + 0.65 * (returnF - 80) + 0.052 * (outdoor - 90);
        return 1 - 0.005 * (outdoor - 95) + 0.015 * (Math.Clamp(Math.Max(wetBulbF, goesDry), 50, 76) - 67);
    }

    /// <summary>
    /// Split of a sound system at 400 cfm of air a ton [°F difference]: the coil takes rated capacity × <see cref="CapacityFactor"/>
    /// out of the return air; the air leaves at <see cref="LeavingHumidity"/>, or with its moisture unchanged where that is drier.
    /// Gross of blower heat. Wetter return air lowers it.
    /// </summary>
    /// <param name="outdoorF">Outdoor dry bulb [°F].</param>
    /// <param name="returnF">Return dry bulb [°F].</param>
    /// <param name="wetBulbF">Return wet bulb [°F].</param>
    /// <param name="humidityRatio">Return humidity ratio.</param>
    /// <param name="pressurePa">Barometer [Pa].</param>
    public static double Split(double outdoorF, double returnF, double wetBulbF, double humidityRatio, double pressurePa)
    {
        var returnC = Units.CelsiusFromFahrenheit(returnF);
        var dryAir = AirflowPerTon * Units.CubicMetrePerSecondPerCfm * MoistAir.Density(returnC, humidityRatio, pressurePa) / (1 + humidityRatio);
        var leaving = MoistAir.Enthalpy(returnC, humidityRatio)
            - Units.BtuhPerTon * Units.WattPerBtuh * CapacityFactor(outdoorF, returnF, wetBulbF) / dryAir;

        // Dry coil first: where it would leave above saturation at the leaving humidity, moisture drops out and the wet answer holds.
        var dryC = (leaving - humidityRatio * 2_501_000) / (1006 + humidityRatio * 1860);
        if (MoistAir.HumidityRatioFromRelativeHumidity(Math.Clamp(dryC, MoistAir.MinDryBulbC, MoistAir.MaxDryBulbC), LeavingHumidity, pressurePa) >= humidityRatio)
        {
            return (returnC - dryC) * 1.8;
        }

        // Secant on h(T, LeavingHumidity) = leaving; the curve is smooth and rising, four steps reach 0.001 °F.
        var a = dryC;
        var fa = WetEnthalpy(a, pressurePa) - leaving;
        var b = returnC - 11;
        for (var step = 0; step < 6; step++)
        {
            var fb = WetEnthalpy(b, pressurePa) - leaving;
            if (Math.Abs(fb) < 1 || fb == fa)
            {
                break;
            }

            (a, b, fa) = (b, b - fb * (b - a) / (fb - fa), fb);
        }

        return (returnC - b) * 1.8;
    }

    /// <summary>Evaporating temperature [°F]: 48.0 at 80/67/95, +0.11 (valve) or +0.18 (orifice) a °F outdoors, +0.65 a °F of wet bulb.</summary>
    public static double Evaporating(bool orifice, double outdoorF, double wetBulbF) =>
        48.0 + (orifice ? 0.18 : 0.11) * (outdoorF - 95) + 0.65 * (wetBulbF - 67);

    /// <summary>
    /// Condensing over outdoor temperature [°F difference]: 18.1 at 12 EER, 1.5 less a point of EER more (a spread of designs, from
    /// memory), following the load by 1.2 % a °F of wet bulb.
    /// </summary>
    public static double CondensingOverOutdoor(double eer, double wetBulbF) =>
        Math.Max(8, 18.1 - 1.5 * ((double.IsNaN(eer) ? 12 : Math.Clamp(eer, 8, 16)) - 12)) * (1 + 0.012 * (wetBulbF - 67));

    private static double WetEnthalpy(double atC, double pressurePa)
    {
        // A secant step may leave the range of the equations; held at its ends it comes back.
        var celsius = Math.Clamp(atC, MoistAir.MinDryBulbC, MoistAir.MaxDryBulbC);
        return MoistAir.Enthalpy(celsius, MoistAir.HumidityRatioFromRelativeHumidity(celsius, LeavingHumidity, pressurePa));
    }
}
