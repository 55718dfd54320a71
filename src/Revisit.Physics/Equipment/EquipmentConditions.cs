namespace Revisit.Physics;

/// <summary>What the equipment runs in.</summary>
/// <param name="OutdoorDbF">Outdoor dry bulb [°F], 45…125.</param>
/// <param name="ReturnDbF">Return air dry bulb [°F], 60…100.</param>
/// <param name="ReturnWbF">Return air wet bulb [°F], from that of dry air up to the dry bulb.</param>
/// <param name="ElevationFt">Elevation above sea level [ft], −300…12 000; gives the barometer by the standard atmosphere.</param>
public readonly record struct EquipmentConditions(double OutdoorDbF, double ReturnDbF, double ReturnWbF, double ElevationFt = 0.0)
{
    /// <summary>Lowest outdoor dry bulb [°F].</summary>
    public const double MinOutdoorDbF = 45.0;

    /// <summary>Highest outdoor dry bulb [°F].</summary>
    public const double MaxOutdoorDbF = 125.0;

    /// <summary>Lowest return dry bulb [°F].</summary>
    public const double MinReturnDbF = 60.0;

    /// <summary>Highest return dry bulb [°F].</summary>
    public const double MaxReturnDbF = 100.0;

    /// <summary>Lowest elevation [ft].</summary>
    public const double MinElevationFt = -300.0;

    /// <summary>Highest elevation [ft].</summary>
    public const double MaxElevationFt = 12_000.0;

    /// <summary>The conditions of the rating test: 95 °F outdoors, 80/67 °F indoors, sea level.</summary>
    public static EquipmentConditions Rated { get; } = new(95.0, 80.0, 67.0);
}
