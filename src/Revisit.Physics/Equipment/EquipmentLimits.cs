using Revisit.Records;

namespace Revisit.Physics;

/// <summary>The ranges of the model's arguments (what residential equipment can be and meet; common practice, no source).</summary>
internal static class EquipmentLimits
{
    public const double MinAirflow = 100.0, MaxAirflow = 1000.0, MinEer = 6.0, MaxEer = 20.0, MinSubcoolingF = 2.0, MaxSubcoolingF = 25.0;

    /// <summary>Rating of which tables are made for a rating: EER to the nearest 1, with a valve subcooling to the nearest 2 °F.</summary>
    public static (double Eer, double SubcoolingF) Band(Metering metering, double eer, double subcoolingF) =>
        (Math.Round(eer), metering == Metering.FixedOrifice ? 0.0 : Math.Clamp(2.0 * Math.Round(0.5 * subcoolingF), MinSubcoolingF, MaxSubcoolingF));

    public static void Check(Equipment e)
    {
        ArgumentNullException.ThrowIfNull(e.Refrigerant);
        if (!Enum.IsDefined(e.Metering)) throw new ArgumentOutOfRangeException(nameof(e.Metering), e.Metering, "Unknown metering; allowed: Txv, Eev, FixedOrifice.");
        Bounds.Check(e.NominalTons, 1.0, 6.0, "tons", nameof(e.NominalTons));
        Bounds.Check(e.RatedEer, MinEer, MaxEer, "Btu/(W h)", nameof(e.RatedEer));
        Bounds.Check(e.TargetSubcoolingF, MinSubcoolingF, MaxSubcoolingF, "°F difference", nameof(e.TargetSubcoolingF));
        Bounds.Check(e.AirflowScfmPerTon, MinAirflow, MaxAirflow, "scfm/ton", nameof(e.AirflowScfmPerTon));
    }

    public static void Check(in EquipmentConditions c)
    {
        Bounds.Check(c.OutdoorDbF, EquipmentConditions.MinOutdoorDbF, EquipmentConditions.MaxOutdoorDbF, "°F", nameof(c.OutdoorDbF));
        Bounds.Check(c.ReturnDbF, EquipmentConditions.MinReturnDbF, EquipmentConditions.MaxReturnDbF, "°F", nameof(c.ReturnDbF));
        Bounds.Check(c.ElevationFt, EquipmentConditions.MinElevationFt, EquipmentConditions.MaxElevationFt, "ft", nameof(c.ElevationFt));
        double dryC = Units.CelsiusFromFahrenheit(c.ReturnDbF), pa = Units.StandardBarometerPascal(c.ElevationFt * Units.MetrePerFoot);
        if (MoistAir.TryHumidityRatioFromWetBulb(dryC, Units.CelsiusFromFahrenheit(c.ReturnWbF), pa, out _)) return;

        // Outside: the range in the reader's unit.
        double lowest = Units.FahrenheitFromCelsius(MoistAir.WetBulb(dryC, 0.0, pa));
        Bounds.Check(c.ReturnWbF <= c.ReturnDbF && c.ReturnWbF >= lowest ? double.NaN : c.ReturnWbF, lowest, c.ReturnDbF, "°F", nameof(c.ReturnWbF));
    }

    /// <summary>As <see cref="Check(in EquipmentConditions)"/> and the airflow's range, for readings that may be impossible; gives barometer and humidity ratio.</summary>
    public static bool Holds(in EquipmentConditions c, double airflow, out double pa, out double humidity)
    {
        (pa, humidity) = (0.0, 0.0);
        if (!Bounds.Holds(c.OutdoorDbF, EquipmentConditions.MinOutdoorDbF, EquipmentConditions.MaxOutdoorDbF)
            || !Bounds.Holds(c.ReturnDbF, EquipmentConditions.MinReturnDbF, EquipmentConditions.MaxReturnDbF)
            || !Bounds.Holds(c.ElevationFt, EquipmentConditions.MinElevationFt, EquipmentConditions.MaxElevationFt)
            || !Bounds.Holds(airflow, MinAirflow, MaxAirflow)) return false;
        pa = Units.StandardBarometerPascal(c.ElevationFt * Units.MetrePerFoot);
        return MoistAir.TryHumidityRatioFromWetBulb(Units.CelsiusFromFahrenheit(c.ReturnDbF), Units.CelsiusFromFahrenheit(c.ReturnWbF), pa, out humidity);
    }

    public static void Check(Equipment e, Faults f)
    {
        Bounds.Check(f.AirflowRatio, 0.2, 2.5, "(share)", nameof(f.AirflowRatio));
        Bounds.Check(e.AirflowScfmPerTon * f.AirflowRatio, MinAirflow, MaxAirflow, "scfm/ton", nameof(e.AirflowScfmPerTon));
        Bounds.Check(f.ChargeRatio, 0.4, 1.6, "(share)", nameof(f.ChargeRatio));
        Bounds.Check(f.OutdoorAirRatio, 0.2, 1.5, "(share)", nameof(f.OutdoorAirRatio));
        Bounds.Check(f.Restriction, 0.0, 1.5, "(share)", nameof(f.Restriction));
        Bounds.Check(f.NonCondensables, 0.0, 1.0, "(share)", nameof(f.NonCondensables));
        Bounds.Check(f.ValveLeak, 0.0, 0.6, "(share)", nameof(f.ValveLeak));
        Bounds.Check(f.EfficiencyLoss, 0.0, 0.6, "(share)", nameof(f.EfficiencyLoss));
    }
}
