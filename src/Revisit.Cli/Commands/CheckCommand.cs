using System.CommandLine;
using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Cli.Commands;

/// <summary>revisit check: every file of the lake against the hash it was written with.</summary>
internal static class CheckCommand
{
    public static Command Make()
    {
        var lake = Options.Lake();
        var json = new Option<bool>("--json") { Description = "Print one JSON object" };
        var command = new Command("check", """
            Hold every file of the lake against the hash it was written with: names missing, changed and unknown files, what they hold, what
            they are made from and by which command. Changes nothing. Ends with 2 when a file is not as it should be.

            Examples:
              revisit check --lake lake
              revisit check --lake lake --json
            """)
        { lake, json };
        command.SetAction(result => Terminal.Guard(() => Run(Lake.At(result.GetValue(lake)!), result.GetValue(json))));
        return command;
    }

    private static void Run(Lake lake, bool json)
    {
        var findings = LakeCheck.Of(lake);
        var catalog = lake.ReadCatalog();
        var sources = LakeArea.Sources(lake.Folder, catalog);
        var wrong = findings.Where(f => f.IsWrong).ToList();
        Console.Out.Write(json ? Json(lake, catalog, findings, sources) : Text(lake, catalog, findings, sources));
        if (wrong.Count > 0)
        {
            throw new UserError($"{(wrong.Count == 1 ? "One file" : $"{wrong.Count} files")} of the lake {lake.Folder} {(wrong.Count == 1 ? "is not as it" : "are not as they")} should be. {Advice(lake, wrong, catalog, sources)}");
        }
    }

    private static string Text(Lake lake, Catalog catalog, IReadOnlyList<FileFinding> findings, IReadOnlyDictionary<string, (string, string, string)>? sources)
    {
        int Count(FileFault fault) => findings.Count(f => f.Fault == fault);
        var lines = new List<string>
        {
            string.Create(CultureInfo.InvariantCulture, $"{catalog.Entries.Count} files in {lake.Folder}: {catalog.Entries.Count - Count(FileFault.Missing) - Count(FileFault.Changed)} as they were written, {Count(FileFault.Changed)} changed, {Count(FileFault.Missing)} missing; beside them {Count(FileFault.Unknown)} unknown, {Count(FileFault.LeftOver)} left over"),
        };
        foreach (var finding in findings)
        {
            lines.Add($"{Word(finding.Fault)}  {finding.File}: {finding.Detail}");
            if (finding.Entry is { } entry)
            {
                var area = LakeArea.Of(entry, sources);
                lines.Add(string.Create(CultureInfo.InvariantCulture, $"  holds      {area.Holds}; {entry.Rows} rows"));
                lines.Add($"  made from  {area.MadeFrom}, by {area.Stage}");
            }
            else if (finding.Fault == FileFault.Unknown)
            {
                lines.Add("  no run reads it or removes it; move it away");
            }
        }

        return string.Join('\n', lines) + "\n";
    }

    private static string Json(Lake lake, Catalog catalog, IReadOnlyList<FileFinding> findings, IReadOnlyDictionary<string, (string, string, string)>? sources) => JsonSerializer.Serialize(new
    {
        lake = lake.Folder,
        files = catalog.Entries.Count,
        sound = !findings.Any(f => f.IsWrong),
        findings = findings.Select(f =>
        {
            var area = f.Entry is null ? null : LakeArea.Of(f.Entry, sources);
            return new { fault = Word(f.Fault), file = f.File, detail = f.Detail, table = f.Entry?.Table, partition = f.Entry?.Partition, rows = f.Entry?.Rows, holds = area?.Holds, made_from = area?.MadeFrom, made_by = area?.Stage };
        }),
    }, new JsonSerializerOptions { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping }) + "\n";

    private static string Word(FileFault fault) => fault switch
    {
        FileFault.Missing => "missing",
        FileFault.Changed => "changed",
        FileFault.Unknown => "unknown",
        _ => "left over",
    };

    private static string Advice(Lake lake, List<FileFinding> wrong, Catalog catalog, IReadOnlyDictionary<string, (string Name, string Profile, string Hash)>? sources)
    {
        var damaged = wrong.Select(f => f.Entry).OfType<CatalogEntry>().ToList();
        if (damaged.Count == 0)
        {
            return "Move the unknown files away; the lake's own are as they were written.";
        }

        var exports = damaged.Any(e => e.Table == Tables.Sources.Name) ? "every export that was taken in"
            : damaged.Any(LakeArea.IsOfSource) ? string.Join(", ", damaged.Where(LakeArea.IsOfSource).Select(e => LakeArea.Of(e, sources).MadeFrom).Distinct())
            : null;
        return $"'revisit run SETTINGS --mend' makes {(wrong.Count == 1 ? "it" : "them")} again{(exports is null ? " from the rest of the lake" : $"; its inputs must name {exports}")}. Without settings: move {lake.Folder} aside and take all exports in again{(sources is null ? "" : $" ({string.Join(", ", sources.Values.Select(s => s.Name).Order(StringComparer.Ordinal))})")}. {catalog.Entries.Count - damaged.Count} of {catalog.Entries.Count} files are as they were written.";
    }
}
