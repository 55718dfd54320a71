using Revisit.Physics;

namespace Revisit.Simulator;

/// <summary>An installed system: what the crew wrote down, and what is true of it on the first day.</summary>
internal sealed class Install
{
    public required int No { get; init; }
    public required string Id { get; init; }
    public required Branch Branch { get; init; }
    public required Crew Crew { get; init; }
    public required DateOnly InstalledOn { get; init; }
    public required double Tons { get; init; }
    public required string Refrigerant { get; init; }
    public required string Metering { get; init; }

    /// <summary>NaN with a fixed orifice.</summary>
    public required double TargetSubcooling { get; init; }

    public required double LineSetFt { get; init; }
    public required string Motor { get; init; }
    public required string DuctLocation { get; init; }
    public required string IndoorUnit { get; init; }
    public required string OutdoorUnit { get; init; }
    public required double DesignCfm { get; init; }
    public required int SupplyRuns { get; init; }
    public required double RatedBtuh { get; init; }
    public required double RatedEer { get; init; }
    public required double ElevationFt { get; init; }
    public required double Latitude { get; init; }
    public required double Longitude { get; init; }

    /// <summary>The unit as the equipment model takes it; its true EER is near the rated one.</summary>
    public required Equipment Equipment { get; init; }

    /// <summary>How this unit differs from the usual one, so that no two sound systems read alike.</summary>
    public required EquipmentVariation Own { get; init; }

    /// <summary>Heat of the blower in the supply air [°F difference]: about 0.365 W/cfm × 3.412 Btu/Wh ÷ 1.08 Btu/(h cfm °F) (common practice, no source).</summary>
    public required double BlowerHeatF { get; init; }

    /// <summary>State on the day of start-up.</summary>
    public required SystemState State { get; init; }

    public bool FixedOrifice => Metering == "fixed_orifice";

    /// <summary>Right charge [oz]: invented, about 2.1 lb a ton and 0.6 oz a foot of line over 15 ft.</summary>
    public double ChargeOz => 34 * Tons + 0.6 * Math.Max(0, LineSetFt - 15);
}
