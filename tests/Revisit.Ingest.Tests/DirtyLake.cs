using System.Globalization;
using System.Text;
using Revisit.Simulator;
using Revisit.Simulator.Exports;

namespace Revisit.Ingest.Tests;

/// <summary>A line of an export's key: a piece of dirt put in on purpose and what ingest must answer.</summary>
internal sealed record KeyLine(string Export, int Line, string Column, string Kind, string Raw, double ReadsAs, string Answer, string[] Reasons);

/// <summary>Exports of a simulated fleet with dirt in them, their keys, and the lake they were taken into.</summary>
internal sealed class DirtyLake : IDisposable
{
    private static readonly (string Name, string File)[] Branches = [("harbor", "harbor.csv"), ("plateau", "plateau.txt"), ("lakeside", "lakeside.ndjson"), ("prairie", "prairie.tsv")];
    private readonly string folder = Directory.CreateTempSubdirectory("revisit-dirt-").FullName;

    /// <summary>Writes a fleet's exports and takes them in: four branches, or one file of plain rows.</summary>
    public DirtyLake(SimulatorSettings settings, bool plain)
    {
        Readings = plain ? BranchExports.WritePlainFleet(folder, settings) : BranchExports.WriteFleet(folder, settings);
        Files = plain ? [("plain", Path.Combine(folder, "plain.csv"))] : [.. Branches.Select(b => (b.Name, Path.Combine(folder, b.File)))];
        Key = [.. Files.SelectMany(f => KeyOf(f.Export, Path.Combine(folder, f.Export + ".key.csv")))];
        Summaries = Lake.IngestWith([.. Files.Select(f => new IngestFile(f.Path, Profile(f.Export)))]);
        SourceOf = Summaries.ToDictionary(s => Path.GetFileNameWithoutExtension(s.Name), s => s.SourceId);
    }

    public SampleLake Lake { get; } = new();

    /// <summary>Readings written, before dirt.</summary>
    public long Readings { get; }

    public (string Export, string Path)[] Files { get; }

    public List<KeyLine> Key { get; }

    public IReadOnlyList<SourceSummary> Summaries { get; }

    public Dictionary<string, string> SourceOf { get; }

    /// <summary>The committed profile of an export; none for plain rows.</summary>
    public static SourceProfile? Profile(string export) =>
        export.StartsWith("plain", StringComparison.Ordinal) ? null : ProfileReader.Read(Path.Combine(SampleLake.Repository, "pipelines", "sources", export + ".yaml"));

    /// <summary>The key of an export.</summary>
    public static IEnumerable<KeyLine> KeyOf(string export, string path)
    {
        foreach (var cells in Rows(File.ReadAllText(path)).Skip(1))
        {
            yield return new(
                export, int.Parse(cells[0], CultureInfo.InvariantCulture), cells[1], cells[2], cells[4],
                cells[5].Length > 0 ? double.Parse(cells[5], CultureInfo.InvariantCulture) : double.NaN, cells[6], cells[7].Split('|', StringSplitOptions.RemoveEmptyEntries));
        }
    }

    public void Dispose()
    {
        Lake.Dispose();
        Directory.Delete(folder, recursive: true);
    }

    /// <summary>Records of comma-separated text (RFC 4180), read apart from the reader under test.</summary>
    private static IEnumerable<List<string>> Rows(string text)
    {
        List<string> row = [];
        var cell = new StringBuilder();
        var quoted = false;
        for (var i = 0; i < text.Length; i++)
        {
            var c = text[i];
            if (c == '"' && quoted && i + 1 < text.Length && text[i + 1] == '"')
            {
                cell.Append(text[++i]);
            }
            else if (c == '"')
            {
                quoted = !quoted;
            }
            else if (!quoted && c is ',' or '\n')
            {
                row.Add(cell.ToString());
                cell.Clear();
                if (c == '\n')
                {
                    yield return row;
                    row = [];
                }
            }
            else
            {
                cell.Append(c);
            }
        }
    }
}
