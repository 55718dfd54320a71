namespace Revisit.Physics;

/// <summary>What a sound system reads, from the fast path.</summary>
/// <param name="EvaporatingF">Dew temperature at suction pressure [°F].</param>
/// <param name="CondensingOverOutdoorF">Bubble temperature at liquid pressure over outdoor dry bulb [°F difference].</param>
/// <param name="SuperheatF">Superheat [°F difference].</param>
/// <param name="SubcoolingF">Subcooling [°F difference].</param>
/// <param name="DischargeLineF">Vapour leaving the compressor [°F].</param>
/// <param name="TemperatureSplitF">Return over supply dry bulb, before blower heat [°F difference].</param>
/// <param name="CapacityRatio">Total cooling over nominal, before blower heat.</param>
/// <param name="PowerRatio">Power of compressor and outdoor fan over rated.</param>
/// <param name="Known">False if there is no steady state, or a value was outside its range: the rest is then 0.</param>
public readonly record struct ExpectedReading(
    double EvaporatingF,
    double CondensingOverOutdoorF,
    double SuperheatF,
    double SubcoolingF,
    double DischargeLineF,
    double TemperatureSplitF,
    double CapacityRatio,
    double PowerRatio,
    bool Known = true)
{
    /// <summary>Liquid line over outdoor dry bulb [°F difference].</summary>
    public double LiquidOverOutdoorF => CondensingOverOutdoorF - SubcoolingF;

    /// <summary>Superheat, or below 0 by as much as a wet suction lacks.</summary>
    internal double SignedSuperheatF { get; init; }

    /// <summary>Subcooling, or below 0 by as much as a liquid line with vapour lacks.</summary>
    internal double SignedSubcoolingF { get; init; }

    /// <summary>Not known.</summary>
    public static ExpectedReading None { get; } = new(0, 0, 0, 0, 0, 0, 0, 0, Known: false);

    internal static ExpectedReading Of(Refrigerant refrigerant, in CyclePoint point, ReadOnlySpan<double> readings)
    {
        if (!(point.LiquidPa <= refrigerant.CycleMaxPa && point.SuctionPa >= refrigerant.MinDewPressurePa)) return None;
        return new ExpectedReading(readings[0], readings[1], Math.Max(0.0, readings[2]), Math.Max(0.0, readings[3]), readings[4], readings[5], readings[6], readings[7])
        {
            SignedSuperheatF = readings[2],
            SignedSubcoolingF = readings[3],
        };
    }
}
