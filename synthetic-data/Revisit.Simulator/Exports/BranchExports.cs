namespace Revisit.Simulator.Exports;

/// <summary>A file of the branch exports.</summary>
public sealed record ExportFile(string Name, byte[] Bytes);

/// <summary>
/// Invented exports, each in the shape another branch keeps, with dirt put in on purpose; beside each <c>NAME.key.csv</c>
/// says what was put where. Line numbers are physical and count from 1; a row that spans lines is named by its first.
/// </summary>
public static class BranchExports
{
    private static readonly SimulatorSettings Settings = new() { Seed = 4711, Installs = 400, MissingShare = 0.03 };

    private static readonly (string Branch, int Rows)[] Small = [("harbor", 44), ("plateau", 42), ("lakeside", 40), ("prairie", 46)];

    /// <summary>Every small export and its key, the same bytes each time: one piece of most kinds of dirt.</summary>
    public static IReadOnlyList<ExportFile> All()
    {
        var fleet = new Fleet(Settings);
        List<ExportFile> files = [];
        foreach (var (branch, rows) in Small)
        {
            var shape = Shape(branch, fleet);
            var sheet = new ExportSheet(shape.Columns, FleetSimulator.Rows(Settings).Where(r => r.Install.Region == branch).Take(rows));
            foreach (var soil in shape.Soils)
                soil.Put(sheet, soil.At);

            using MemoryStream text = new(), key = new();
            using (var writer = new ExportWriter(shape, text, key))
                writer.Write(sheet);
            files.Add(new(shape.Name, text.ToArray()));
            files.Add(new(KeyOf(shape), key.ToArray()));
        }

        return files;
    }

    /// <summary>Writes every small export and key into a folder.</summary>
    public static void WriteTo(string folder)
    {
        Directory.CreateDirectory(folder);
        foreach (var file in All())
            File.WriteAllBytes(Path.Combine(folder, file.Name), file.Bytes);
    }

    /// <summary>Writes a whole fleet as four branch exports with keys, with dirt as <see cref="SimulatorSettings.Dirt"/> or <see cref="SimulatorSettings.DirtShare"/> says.</summary>
    /// <returns>Readings written.</returns>
    /// <exception cref="Records.UserError">Settings out of range.</exception>
    public static long WriteFleet(string folder, SimulatorSettings settings)
    {
        var fleet = new Fleet(settings.Checked());
        return WriteFleet(folder, settings, Small.ToDictionary(s => s.Branch, s => Shape(s.Branch, fleet)), r => r.Install.Region);
    }

    /// <summary>Writes a whole fleet as one file of plain rows with its key, with dirt as <see cref="WriteFleet(string, SimulatorSettings)"/> puts it.</summary>
    /// <returns>Readings written.</returns>
    /// <exception cref="Records.UserError">Settings out of range.</exception>
    public static long WritePlainFleet(string folder, SimulatorSettings settings) =>
        WriteFleet(folder, settings.Checked(), new() { ["plain"] = Plain.Shape() }, _ => "plain");

    private static long WriteFleet(string folder, SimulatorSettings settings, Dictionary<string, ExportShape> shapes, Func<SimulatedReading, string> shapeOf)
    {
        Directory.CreateDirectory(folder);
        var writers = shapes.Select((s, i) => (s.Key, Rng: new Rng(settings.Seed, i, 200), Shape: s.Value))
            .ToDictionary(s => s.Key, s => (s.Rng, Writer: new ExportWriter(s.Shape, File.Create(Path.Combine(folder, s.Shape.Name)), File.Create(Path.Combine(folder, KeyOf(s.Shape))))));
        var rows = 0L;
        try
        {
            foreach (var reading in FleetSimulator.Rows(settings))
            {
                var (rng, writer) = writers[shapeOf(reading)];
                writer.Add(reading, rng, settings);
                rows++;
            }

            foreach (var (rng, writer) in writers.Values)
                writer.Soil(rng, settings);
        }
        finally
        {
            foreach (var (_, writer) in writers.Values)
                writer.Dispose();
        }

        return rows;
    }

    private static ExportShape Shape(string branch, Fleet fleet) => branch switch
    {
        "harbor" => Harbor.Shape(fleet),
        "plateau" => Plateau.Shape(fleet),
        "lakeside" => Lakeside.Shape(),
        _ => Prairie.Shape(fleet),
    };

    private static string KeyOf(ExportShape shape) => Path.GetFileNameWithoutExtension(shape.Name) + ".key.csv";
}
