using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Cli;

/// <summary>
/// Makes damaged files of a lake again, inside the publication of a run: they are taken out of what the run builds on, and the stages
/// make what is not there. Readers go on seeing the lake as it stands until the run switches to a whole one.
/// </summary>
internal sealed class Mending
{
    private readonly Publication publication;
    private readonly IReadOnlyDictionary<string, (string Name, string Profile, string Hash)>? sources;
    private readonly HashSet<string> lost = new(StringComparer.Ordinal);
    private readonly List<CatalogEntry> history = [];

    /// <summary>Takes damaged files out of a publication.</summary>
    /// <param name="lake">Where it lies.</param>
    /// <param name="publication">The publication of the run.</param>
    /// <param name="progress">Told what is made again, and from what.</param>
    public Mending(Lake lake, Publication publication, IProgress<string> progress)
    {
        this.publication = publication;
        sources = LakeArea.Sources(lake.Folder, publication.Pending);
        var damaged = publication.Damaged();
        progress.Report(damaged.Count == 0 ? "all files of the lake are as they were written; nothing to mend" : $"{damaged.Count} files of the lake are not as they were written and are made again:");
        foreach (var finding in damaged)
        {
            progress.Report($"  {finding.File}: {finding.Detail}; from {LakeArea.Of(finding.Entry!, sources).MadeFrom}");
            TakeOut(finding.Entry!);
        }

        // A source is read again as a whole: its rows, their keys and what was rejected belong together.
        foreach (var entry in publication.Pending.Entries.Where(e => LakeArea.IsOfSource(e) && lost.Contains(LakeArea.SourceOf(e))).ToList())
        {
            publication.Remove(entry.Table, entry.Partition);
        }
    }

    private void TakeOut(CatalogEntry entry)
    {
        if (LakeArea.IsOfSource(entry))
        {
            lost.Add(LakeArea.SourceOf(entry));
        }
        else if (entry.Table == Tables.Sources.Name)
        {
            lost.UnionWith(publication.Pending.Entries.Where(LakeArea.IsOfSource).Select(LakeArea.SourceOf));
        }
        else if (LakeArea.IsOfMonth(entry))
        {
            // The readings carry the fingerprint of their month: without them all its tables are built.
            publication.Remove(Tables.Readings.Name, entry.Partition);
        }
        else if (LakeArea.History.Contains(entry.Table))
        {
            history.Add(entry);
        }

        publication.Remove(entry.Table, entry.Partition);
    }

    /// <summary>Refuses to publish a lake that lacks a source.</summary>
    /// <exception cref="UserError">A source whose rows were damaged was not among the files taken in.</exception>
    public void MustHaveTakenIn()
    {
        var held = publication.Pending.Entries.Where(LakeArea.IsOfSource).Select(LakeArea.SourceOf).ToHashSet(StringComparer.Ordinal);
        var missing = lost.Where(l => !held.Contains(l)).Order(StringComparer.Ordinal)
            .Select(id => sources is not null && sources.TryGetValue(id, out var s) ? $"{s.Name}, read with the profile '{s.Profile}', SHA-256 {s.Hash}" : $"source {id}, whose name is lost with the table 'sources'").ToList();
        if (missing.Count > 0)
        {
            throw new UserError("Rows of these exports are damaged in the lake, and the exports are not among the inputs as they were taken in. Add them to 'inputs', unchanged and with the same profile, and run again; nothing was changed:", missing);
        }
    }

    /// <summary>Keeps what no run can make again, and says so.</summary>
    public void KeepHistory(IProgress<string> progress)
    {
        foreach (var entry in history.Where(e => publication.Pending.Find(e.Table, e.Partition) is null))
        {
            progress.Report($"{entry.File} could not be made again: it kept what was said in {entry.Partition}. {(publication.KeepDamaged(entry) is { } kept ? $"What is left of it lies in {kept}. " : "")}'revisit run SETTINGS --month {entry.Partition}' says it anew, from what is on record now.");
        }
    }
}
