namespace Revisit.Physics;

/// <summary>Difference of two states, usually a faulty one less a sound one in the same conditions.</summary>
/// <param name="EvaporatingF">Change of evaporating temperature [°F difference].</param>
/// <param name="CondensingF">Change of condensing temperature, and of condensing over outdoor [°F difference].</param>
/// <param name="SuperheatF">Change of superheat [°F difference].</param>
/// <param name="SubcoolingF">Change of subcooling [°F difference].</param>
/// <param name="DischargeLineF">Change of discharge temperature [°F difference].</param>
/// <param name="TemperatureSplitF">Change of the split [°F difference]; the supply dry bulb changes by as much the other way.</param>
/// <param name="CapacityRatio">Change of capacity over nominal.</param>
/// <param name="PowerRatio">Change of power over rated.</param>
public readonly record struct EquipmentShift(
    double EvaporatingF,
    double CondensingF,
    double SuperheatF,
    double SubcoolingF,
    double DischargeLineF,
    double TemperatureSplitF,
    double CapacityRatio,
    double PowerRatio)
{
    /// <summary>Change of the suction line [°F difference].</summary>
    public double SuctionLineF => EvaporatingF + SuperheatF;

    /// <summary>Change of the liquid line, and of liquid over outdoor [°F difference].</summary>
    public double LiquidLineF => CondensingF - SubcoolingF;
}
