using Revisit.Diagnosis;
using Revisit.Fleet;
using Revisit.Forecast;
using Revisit.Ingest;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Cli;

/// <summary>What an area of the lake holds, and where it comes from.</summary>
/// <param name="Holds">In words.</param>
/// <param name="MadeFrom">What it is made from.</param>
/// <param name="Stage">The command that makes it.</param>
internal sealed record LakeArea(string Holds, string MadeFrom, string Stage)
{
    /// <summary>Areas that keep what earlier months said: no export brings them back.</summary>
    public static readonly IReadOnlyList<string> History = [Tables.PastScores.Name, Tables.PastWorklists.Name];

    private static readonly string[] Landed = [IngestStage.RowsArea, IngestStage.KeysArea, Tables.RejectedRows.Name];
    private static readonly string[] Months = [Tables.Readings.Name, Tables.Visits.Name, Tables.Corrections.Name, Tables.SetAsideValues.Name, IngestStage.InstallsArea];
    private static readonly string[] Judged = [Tables.Metrics.Name, Tables.Findings.Name, Tables.VisitOutcomes.Name, DiagnosisStage.SoundArea];

    /// <summary>Whether it holds what came from one source.</summary>
    public static bool IsOfSource(CatalogEntry entry) => Landed.Contains(entry.Table);

    /// <summary>Whether it is built from the landed rows of a month.</summary>
    public static bool IsOfMonth(CatalogEntry entry) => Months.Contains(entry.Table);

    /// <summary>The source that an entry of a source came from.</summary>
    public static string SourceOf(CatalogEntry entry) => entry.Partition.Split('/')[0];

    /// <summary>The sources of a lake by id, as name and profile; null when the table that names them cannot be read.</summary>
    public static IReadOnlyDictionary<string, (string Name, string Profile, string Hash)>? Sources(string folder, Catalog catalog)
    {
        if (catalog.Find(Tables.Sources.Name, "all") is not { } entry || LakeCheck.Look(folder, entry) is not null)
        {
            return null;
        }

        var batch = ParquetTable.Read(Path.Combine(folder, entry.File), Tables.Sources);
        return Enumerable.Range(0, batch.Rows).ToDictionary(i => batch.Text("source_id")[i]!, i => (batch.Text("source_name")[i]!, batch.Text("profile")[i]!, batch.Text("source_hash")[i]!));
    }

    /// <summary>What an entry holds.</summary>
    public static LakeArea Of(CatalogEntry entry, IReadOnlyDictionary<string, (string Name, string Profile, string Hash)>? sources)
    {
        var (table, part) = (entry.Table, entry.Partition);
        var grain = Tables.Find(table)?.Grain ?? SqlLibrary.Embedded.Find(table)?.Contract.Grain;
        var holds = table switch
        {
            IngestStage.RowsArea => "accepted rows as they came",
            IngestStage.KeysArea => "keys of the accepted rows",
            IngestStage.InstallsArea => "what the rows of a month say of installs",
            DiagnosisStage.SoundArea => "what sound readings of a month taught",
            ForecastStage.ModelArea => "a learned model",
            "model_card" => "how the models were learned and how well they do",
            _ => grain is null ? table : $"{table}, a row for each {grain}",
        };
        if (IsOfSource(entry))
        {
            var source = SourceOf(entry);
            var of = sources is null ? $"source {source}, whose name is lost with the table 'sources'"
                : sources.TryGetValue(source, out var known) ? $"{known.Name} (profile '{known.Profile}', SHA-256 {known.Hash[..12]}…)" : $"source {source}";
            return new($"{holds}, of {of}", $"the export {of}", "revisit ingest");
        }

        holds = part == "all" ? holds : $"{holds}, of {part}";
        return table switch
        {
            _ when IsOfMonth(entry) => new(holds, $"the landed rows of {part}", "revisit ingest"),
            _ when table == Tables.Installs.Name => new(holds, "the landed rows of all months", "revisit ingest"),
            _ when table == Tables.Sources.Name => new(holds, "all exports", "revisit ingest"),
            _ when Judged.Contains(table) => new(holds, $"the readings of {part}, the installs and what earlier months taught", "revisit diagnose"),
            _ when table == Tables.FollowUps.Name => new(holds, "readings, findings and installs", "revisit diagnose"),
            _ when History.Contains(table) => new(holds, $"what was known in {part}; no export brings back what the run of that month said", $"revisit run --month {part}"),
            _ => new(holds, "the other tables of the lake", "revisit run"),
        };
    }
}
