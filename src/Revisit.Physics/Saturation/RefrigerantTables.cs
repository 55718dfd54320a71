using System.Globalization;

namespace Revisit.Physics;

/// <summary>A row of <c>Data/refrigerants.csv</c>.</summary>
internal sealed record RefrigerantRow(string Designation, string SafetyGroup, string Composition, double IsentropicExponent, string Source);

/// <summary>Reads the embedded tables. A fault in them is a fault of the build, so it throws.</summary>
internal static class RefrigerantTables
{
    public static IEnumerable<Refrigerant> Read()
    {
        var nodes = Nodes("saturation.csv");
        var properties = Nodes("properties.csv");
        foreach (string line in Lines("refrigerants.csv"))
        {
            string[] cells = line.Split(',', 5);
            var row = new RefrigerantRow(cells[0], cells[1], cells[2], Number(cells[3]), cells[4]);
            yield return Build(row, nodes[row.Designation], properties[row.Designation]);
        }
    }

    private static Dictionary<string, List<string[]>> Nodes(string file) =>
        Lines(file).Select(line => line.Split(',')).GroupBy(cells => cells[0]).ToDictionary(g => g.Key, g => g.ToList());

    private static Refrigerant Build(RefrigerantRow row, List<string[]> nodes, List<string[]> properties)
    {
        double[] kelvin = Column(nodes, 1), bubble = Column(nodes, 2), dew = Column(nodes, 3);
        double step = kelvin[1] - kelvin[0];
        for (int i = 1; i < kelvin.Length; i++)
        {
            if (Math.Abs(kelvin[i] - kelvin[i - 1] - step) > 1e-9 || bubble[i] <= bubble[i - 1] || dew[i] <= dew[i - 1])
                throw new InvalidDataException($"Nodes of {row.Designation} are not evenly spaced and rising at row {i}.");
        }

        SaturationCurve Curve(double[] pascal) => new(kelvin[0], step, pascal, Refrigerants.MinTemperatureK, Refrigerants.MaxTemperatureK);
        var bubbleCurve = Curve(bubble);
        var dewCurve = bubble.SequenceEqual(dew) ? bubbleCurve : Curve(dew);
        if (!Column(properties, 1).SequenceEqual(kelvin)) throw new InvalidDataException($"Properties of {row.Designation} are not at the saturation nodes.");
        var columns = Enumerable.Range(2, 8).Select(c => Column(properties, c)).ToArray();
        return new Refrigerant(row, bubbleCurve, dewCurve, new CycleProperties(kelvin, bubble, dew, columns, dewCurve.MinPa, dewCurve.EndPa));
    }

    private static double[] Column(List<string[]> rows, int column) =>
        [.. rows.Select(cells => Number(cells[column]))];

    private static double Number(string cell) => double.Parse(cell, NumberStyles.Float, CultureInfo.InvariantCulture);

    /// <summary>Rows of an embedded table without comments and header.</summary>
    private static IEnumerable<string> Lines(string file)
    {
        using Stream stream = typeof(RefrigerantTables).Assembly.GetManifestResourceStream($"Revisit.Physics.Data.{file}")
            ?? throw new InvalidDataException($"The table {file} is not embedded in the assembly.");
        using var reader = new StreamReader(stream);
        bool header = true;
        while (reader.ReadLine() is { } line)
        {
            if (line.Length == 0 || line[0] == '#') continue;
            if (!header) yield return line;
            header = false;
        }
    }
}
