namespace Revisit.Physics;

/// <summary>
/// How one unit differs from the model's usual one: the coils and settings that two units of the same rating do not share. For
/// simulated fleets and for scoring a method on units it does not know.
/// </summary>
/// <param name="EvaporatingF">Evaporating temperature at rated conditions, more or less [°F difference].</param>
/// <param name="CondensingF">Condensing over outdoor at rated conditions, more or less [°F difference].</param>
/// <param name="SuperheatF">A valve's setting, or an orifice's superheat at rated conditions, more or less [°F difference].</param>
/// <param name="IndoorUnits">Transfer units of the indoor coil, as a factor.</param>
/// <param name="OutdoorUnits">Transfer units of the outdoor coil, as a factor.</param>
/// <param name="LiquidShare">Share of the outdoor coil full of liquid at rated conditions, as a factor: how fast subcooling answers charge.</param>
/// <param name="EfficiencyCurve">Loss of efficiency away from the best pressure ratio, as a factor.</param>
public sealed record EquipmentVariation(
    double EvaporatingF = 0, double CondensingF = 0, double SuperheatF = 0, double IndoorUnits = 1, double OutdoorUnits = 1, double LiquidShare = 1, double EfficiencyCurve = 1)
{
    /// <summary>The usual unit.</summary>
    public static EquipmentVariation None { get; } = new();

    internal CycleParameters Of(CycleParameters usual) => usual with
    {
        EvaporatingF = usual.EvaporatingF + EvaporatingF,
        CondensingOverOutdoorF = usual.CondensingOverOutdoorF + CondensingF,
        SuperheatF = usual.SuperheatF + SuperheatF,
        ClosedSuperheatF = usual.ClosedSuperheatF + SuperheatF,
        IndoorUnits = usual.IndoorUnits * IndoorUnits,
        OutdoorUnits = usual.OutdoorUnits * OutdoorUnits,
        LiquidShare = usual.LiquidShare * LiquidShare,
        EfficiencyCurve = usual.EfficiencyCurve * EfficiencyCurve,
    };
}
