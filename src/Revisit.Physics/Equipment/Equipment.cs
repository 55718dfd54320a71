namespace Revisit.Physics;

/// <summary>How the liquid is let into the indoor coil.</summary>
public enum Metering
{
    /// <summary>Thermostatic expansion valve: holds superheat.</summary>
    Txv,

    /// <summary>Electronic expansion valve; here the same as the thermostatic one.</summary>
    Eev,

    /// <summary>Fixed orifice: superheat floats with conditions and charge.</summary>
    FixedOrifice,
}

/// <summary>A split system in cooling, as installed.</summary>
/// <param name="Refrigerant">The refrigerant.</param>
/// <param name="Metering">The metering device.</param>
/// <param name="NominalTons">Nominal size [12,000 Btu/h], 1…6; scales capacity and power only.</param>
/// <param name="RatedEer">Capacity over power of compressor and outdoor fan at <see cref="EquipmentConditions.Rated"/> [Btu/(W h)],
/// 6…20. A nameplate counts the blower's power and heat as well; that is not corrected for.</param>
/// <param name="TargetSubcoolingF">Subcooling of a sound system at rated conditions [°F difference], 2…25. With a valve only: an orifice is charged by superheat.</param>
/// <param name="AirflowScfmPerTon">Indoor airflow [ft³/min of air of 0.075 lb/ft³, per nominal ton], 100…1000.</param>
public sealed record Equipment(
    Refrigerant Refrigerant,
    Metering Metering,
    double NominalTons,
    double RatedEer = 12.0,
    double TargetSubcoolingF = 10.0,
    double AirflowScfmPerTon = 400.0);
