using System.Globalization;
using System.Text;

namespace Revisit.Simulator.Exports;

/// <summary>A file of the branch exports.</summary>
public sealed record ExportFile(string Name, byte[] Bytes);

/// <summary>
/// Small invented exports, each in the shape another branch keeps, with dirt put in on purpose; beside each <c>NAME.key.csv</c>
/// says what was put where. Line numbers are physical and count from 1; a row that spans lines is named by its first.
/// </summary>
public static class BranchExports
{
    private static readonly SimulatorSettings Settings = new() { Seed = 4711, Installs = 400, MissingShare = 0.03 };

    /// <summary>Every export and its key, the same bytes each time.</summary>
    public static IReadOnlyList<ExportFile> All()
    {
        var fleet = new Fleet(Settings);
        return [.. Harbor.Files(Of("harbor", 44), fleet), .. Plateau.Files(Of("plateau", 42), fleet), .. Lakeside.Files(Of("lakeside", 40)), .. Prairie.Files(Of("prairie", 46), fleet)];
    }

    /// <summary>Writes every export and key into a folder.</summary>
    public static void WriteTo(string folder)
    {
        Directory.CreateDirectory(folder);
        foreach (var file in All())
            File.WriteAllBytes(Path.Combine(folder, file.Name), file.Bytes);
    }

    /// <summary>Puts a file together and keys its dirt by line.</summary>
    /// <param name="name">Name with extension.</param>
    /// <param name="encoding">Encoding; its preamble is written.</param>
    /// <param name="newLine">Line ending.</param>
    /// <param name="sheet">Rows and dirt.</param>
    /// <param name="head">Lines above the data.</param>
    /// <param name="render">A row as text, without line ending.</param>
    /// <param name="foot">Lines below the data that are no data.</param>
    internal static ExportFile[] Build(string name, Encoding encoding, string newLine, ExportSheet sheet, IReadOnlyList<string> head, Func<ExportRow, string> render, IReadOnlyList<string> foot)
    {
        var text = new StringBuilder();
        List<(int Line, string Plain, string Kind, string Heading)> key = [];
        var line = 1;
        void Add(string written)
        {
            text.Append(written).Append(newLine);
            line += 1 + written.Count(c => c == '\n');
        }

        foreach (var h in head)
            Add(h);
        foreach (var row in sheet.Rows)
        {
            key.AddRange(sheet.Dirt.Where(d => ReferenceEquals(d.Row, row)).Select(d =>
                (line, d.Plain, d.Kind, d.Plain.Length == 0 ? "" : sheet.Columns.First(c => c.Plain == d.Plain).Heading)));
            Add(render(row));
        }

        foreach (var f in foot)
        {
            key.Add((line, "", "not_a_data_row", ""));
            Add(f);
        }

        var lines = key.Select(k => string.Create(CultureInfo.InvariantCulture, $"{k.Line},{k.Plain},{k.Kind},{PlainCsv.Quoted(k.Heading)}\n"));
        var utf8 = new UTF8Encoding(false);
        return
        [
            new(name, [.. encoding.GetPreamble(), .. encoding.GetBytes(text.ToString())]),
            new(Path.GetFileNameWithoutExtension(name) + ".key.csv", utf8.GetBytes("line,column,kind,source_column\n" + string.Concat(lines))),
        ];
    }

    private static IReadOnlyList<SimulatedReading> Of(string branch, int rows) =>
        [.. FleetSimulator.Rows(Settings).Where(r => r.Install.Region == branch).Take(rows)];
}
