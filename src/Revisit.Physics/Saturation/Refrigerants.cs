using System.Diagnostics.CodeAnalysis;

namespace Revisit.Physics;

/// <summary>The refrigerants known here, read once from the embedded tables in <c>Data</c>.</summary>
public static class Refrigerants
{
    /// <summary>Lowest saturation temperature [K]: −40 °F (−40 °C).</summary>
    internal const double MinTemperatureK = (-40.0 - 32.0) / 1.8 + 273.15;

    /// <summary>Highest saturation temperature [K]: 150 °F.</summary>
    internal const double MaxTemperatureK = (150.0 - 32.0) / 1.8 + 273.15;

    private static readonly Dictionary<string, Refrigerant> ByKey = RefrigerantTables.Read().ToDictionary(r => Key(r.Designation));

    /// <summary>All refrigerants, in the order of the table.</summary>
    public static IReadOnlyList<Refrigerant> All { get; } = [.. ByKey.Values];

    /// <summary>Finds a refrigerant by its ASHRAE 34 designation.</summary>
    /// <param name="designation">Such as <c>R-410A</c>; case, blanks, hyphen and the leading R do not matter.</param>
    /// <param name="refrigerant">The refrigerant, or null.</param>
    /// <returns>False if the designation is null, empty or unknown.</returns>
    public static bool TryFind(string? designation, [NotNullWhen(true)] out Refrigerant? refrigerant)
    {
        refrigerant = null;
        return designation is not null && ByKey.TryGetValue(Key(designation), out refrigerant);
    }

    private static string Key(string designation)
    {
        string key = string.Concat(designation.Where(c => c != '-' && !char.IsWhiteSpace(c))).ToUpperInvariant();
        return key.StartsWith('R') ? key[1..] : key;
    }
}
