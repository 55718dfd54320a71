using System.Globalization;

namespace Revisit.Physics.Tests;

/// <summary>The shipped tables, out of the assembly.</summary>
internal static class ShippedNodes
{
    /// <summary>Rows of a refrigerant: temperature [K] and the columns after it.</summary>
    public static Dictionary<double, double[]> Of(string file, string designation) => Lines(file)
        .Select(line => line.Split(',')).Where(cells => cells[0] == designation)
        .ToDictionary(cells => Number(cells[1]), cells => cells.Skip(2).Select(Number).ToArray());

    /// <summary>Rows without comments and header.</summary>
    public static IEnumerable<string> Lines(string file)
    {
        using var reader = new StreamReader(typeof(Refrigerant).Assembly.GetManifestResourceStream($"Revisit.Physics.Data.{file}")!);
        return [.. reader.ReadToEnd().Split('\n').Where(line => line.Length > 0 && line[0] != '#').Skip(1)];
    }

    private static double Number(string cell) => double.Parse(cell, NumberStyles.Float, CultureInfo.InvariantCulture);
}
