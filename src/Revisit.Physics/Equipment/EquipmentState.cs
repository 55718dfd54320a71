namespace Revisit.Physics;

/// <summary>What to know about a state before its numbers are used.</summary>
[Flags]
public enum EquipmentFlags
{
    /// <summary>Nothing.</summary>
    None = 0,

    /// <summary>The coil evaporates below 32 °F: it will ice over, and the steady state is not what a technician would read.</summary>
    CoilBelowFreezing = 1,

    /// <summary>Liquid reaches the compressor; superheat reads 0.</summary>
    FloodedSuction = 2,

    /// <summary>Vapour leaves the outdoor coil with the liquid; subcooling reads 0, or below with a blend.</summary>
    VapourInLiquid = 4,

    /// <summary>
    /// The liquid pressure is over that of 150 °F (R-410A 613 psig): a high-pressure cut-out trips about there (R-410A 610…650 psig;
    /// common practice, no source), so that few units would be read in this state.
    /// </summary>
    OverCutOut = 8,
}

/// <summary>
/// Readings of a running system in steady state, with the names of the tables (<see cref="Records.Nomenclature"/>). Supply air before
/// blower heat; no drop of pressure or temperature between coils and service ports.
/// </summary>
/// <param name="EvaporatingF">Dew temperature at suction pressure [°F].</param>
/// <param name="CondensingF">Bubble temperature at liquid pressure, non-condensables included as a gauge has them [°F].</param>
/// <param name="SuperheatF">Suction line over evaporating temperature [°F difference].</param>
/// <param name="SubcoolingF">Condensing temperature over liquid line [°F difference].</param>
/// <param name="DischargeLineF">Vapour leaving the compressor [°F].</param>
/// <param name="SupplyDbF">Supply air dry bulb [°F].</param>
/// <param name="SupplyWbF">Supply air wet bulb [°F].</param>
/// <param name="TemperatureSplitF">Return over supply dry bulb [°F difference].</param>
/// <param name="CondensingOverOutdoorF">Condensing over outdoor temperature [°F difference].</param>
/// <param name="LiquidOverOutdoorF">Liquid line over outdoor temperature [°F difference].</param>
/// <param name="SuctionPressurePsig">Suction pressure over the barometer [psig].</param>
/// <param name="LiquidPressurePsig">Liquid pressure over the barometer [psig].</param>
/// <param name="TotalCapacityBtuh">Total cooling before blower heat [Btu/h].</param>
/// <param name="SensibleCapacityBtuh">Sensible cooling before blower heat [Btu/h].</param>
/// <param name="PowerW">Power of compressor and outdoor fan [W].</param>
/// <param name="CapacityRatio">Total cooling over nominal.</param>
/// <param name="PowerRatio">Power over rated power.</param>
/// <param name="Flags">What to know before the numbers are used.</param>
public readonly record struct EquipmentState(
    double EvaporatingF,
    double CondensingF,
    double SuperheatF,
    double SubcoolingF,
    double DischargeLineF,
    double SupplyDbF,
    double SupplyWbF,
    double TemperatureSplitF,
    double CondensingOverOutdoorF,
    double LiquidOverOutdoorF,
    double SuctionPressurePsig,
    double LiquidPressurePsig,
    double TotalCapacityBtuh,
    double SensibleCapacityBtuh,
    double PowerW,
    double CapacityRatio,
    double PowerRatio,
    EquipmentFlags Flags)
{
    /// <summary>Suction line temperature [°F].</summary>
    public double SuctionLineF => EvaporatingF + SuperheatF;

    /// <summary>Liquid line temperature [°F].</summary>
    public double LiquidLineF => CondensingF - SubcoolingF;

    /// <summary>Sensible over total cooling.</summary>
    public double SensibleHeatRatio => SensibleCapacityBtuh / TotalCapacityBtuh;

    /// <summary>Evaporating temperature over 32 °F [°F difference].</summary>
    public double FreezeMarginF => EvaporatingF - 32.0;

    /// <summary>How this state differs from another.</summary>
    public EquipmentShift Minus(in EquipmentState other) => new(
        EvaporatingF - other.EvaporatingF,
        CondensingF - other.CondensingF,
        SuperheatF - other.SuperheatF,
        SubcoolingF - other.SubcoolingF,
        DischargeLineF - other.DischargeLineF,
        TemperatureSplitF - other.TemperatureSplitF,
        CapacityRatio - other.CapacityRatio,
        PowerRatio - other.PowerRatio);
}
