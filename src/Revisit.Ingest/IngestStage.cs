using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Ingest;

/// <summary>A file to take in and how to read it; no profile means plain columns.</summary>
public sealed record IngestFile(string Path, SourceProfile? Profile);

/// <summary>What became of the rows of one file; rows read = accepted + duplicates + superseded + rejected.</summary>
public sealed record SourceSummary(
    string SourceId, string Name, string Profile, int RowsRead, int Accepted, int Duplicates, int Superseded, int Rejected, int SetAside,
    IReadOnlyDictionary<string, int> RejectedByReason, IReadOnlyList<string> Remarks, bool HeldAlready)
{
    /// <summary>Whether every row is accounted for.</summary>
    public bool Reconciles => RowsRead == Accepted + Duplicates + Superseded + Rejected;
}

/// <summary>
/// Normalises visit readings into the tables of records.md. Files are read once into a landing; then the months they touch are
/// built from the landed rows of all sources, so the order in which files come plays no part.
/// </summary>
public static class IngestStage
{
    private const string Version = "4";

    /// <summary>Where accepted rows lie by source and month, their keys by source, and what a month says of installs.</summary>
    public const string RowsArea = Landing.RowsArea, KeysArea = Landing.KeysArea, InstallsArea = InstallMerge.Area;

    /// <summary>Rows of loaded months that are held at once; a larger month is held alone. A row takes about half a kilobyte.</summary>
    private const long RowsHeldAtMost = 150_000;

    /// <summary>Takes in files. Nothing is visible before the publication commits.</summary>
    /// <exception cref="UserError">A file cannot be read or does not fit its profile.</exception>
    public static IReadOnlyList<SourceSummary> Run(Publication publication, IReadOnlyList<IngestFile> files, IProgress<string>? progress)
    {
        var sources = Known(publication);
        var landed = new Dictionary<string, (IReadOnlyDictionary<string, int> Rejected, IReadOnlyList<string> Remarks)>();
        var asked = new List<string>();
        foreach (var file in files)
        {
            var name = Path.GetFileName(file.Path);
            var profile = file.Profile ?? SourceProfile.Plain(IsJson(SourceFiles.PlainName(file.Path)) ? SourceKind.Ndjson : SourceKind.Csv);
            var before = SourceFiles.StateOf(file.Path);
            var hashing = Task.Run(() => HashOf(file.Path));
            if (sources.Values.Any(s => s.Name == name))
            {
                // It may be held already; under a new name that is unlikely, and it is read while it is hashed.
                hashing.GetAwaiter().GetResult();
            }

            using var read = hashing.IsCompletedSuccessfully && sources.ContainsKey(IdOf(hashing.Result, profile.Hash))
                ? null
                : new ReadFile(publication.WorkFolder("reading"), file.Path, name, profile, progress);
            var hash = hashing.GetAwaiter().GetResult();
            SourceFiles.MustBe(before, file.Path);
            var id = IdOf(hash, profile.Hash);
            if (!asked.Contains(id))
            {
                asked.Add(id);
            }

            if (sources.TryGetValue(id, out var held))
            {
                progress?.Report($"{name}: held already as {held.Name}, nothing to read");
                continue;
            }

            read!.PutInto(publication, id);
            landed[id] = (read.Rejected, read.Remarks);
            foreach (var earlier in sources.Where(s => s.Value.FileHash == hash && s.Value.Name == name && !asked.Contains(s.Key)).Select(s => s.Key).ToList())
            {
                // The same file read with another profile takes the place of the earlier reading.
                progress?.Report($"{name}: replaces what was read from the same file with profile '{sources[earlier].Profile}'");
                Forget(publication, earlier);
                sources.Remove(earlier);
            }

            sources[id] = new(name, hash, profile.Name, profile.Hash, read.RowsRead, read.Rejected.Values.Sum());
        }

        if (sources.FirstOrDefault(s => s.Key != IdOf(s.Value.FileHash, s.Value.ProfileHash)).Value is { } old)
        {
            throw new UserError($"The lake holds {old.Name} as another version of this program took it in, and its rows cannot be told from later saves. Ingest it again together with these files, or all files into a new lake; nothing was changed.");
        }

        var (losers, setAside) = Build(publication, sources.Keys, progress);
        var summaries = sources.OrderBy(s => s.Key, StringComparer.Ordinal).Select(s => new SourceSummary(
            s.Key, s.Value.Name, s.Value.Profile, s.Value.RowsRead,
            s.Value.RowsRead - s.Value.Rejected - losers.Duplicates.GetValueOrDefault(s.Key) - losers.Superseded.GetValueOrDefault(s.Key),
            losers.Duplicates.GetValueOrDefault(s.Key), losers.Superseded.GetValueOrDefault(s.Key), s.Value.Rejected, setAside.GetValueOrDefault(s.Key),
            landed.GetValueOrDefault(s.Key).Rejected ?? new Dictionary<string, int>(), landed.GetValueOrDefault(s.Key).Remarks ?? [], !landed.ContainsKey(s.Key))).ToList();
        Reconcile(publication, summaries);
        publication.Put(Tables.Sources, SourcesBatch(summaries, sources));
        return [.. asked.Select(id => summaries.Single(s => s.SourceId == id))];
    }

    private static void Forget(Publication publication, string sourceId)
    {
        foreach (var entry in publication.Pending.Entries.Where(e =>
            (e.Table is Landing.KeysArea or "rejected_rows" && e.Partition == sourceId)
            || (e.Table == Landing.RowsArea && e.Partition.StartsWith(sourceId + "/", StringComparison.Ordinal))).ToList())
        {
            publication.Remove(entry.Table, entry.Partition);
        }
    }

    private static string IdOf(string hash, string profileHash) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes($"{hash}\n{profileHash}\n{Version}")))[..16];

    /// <summary>What a file gave, in a folder of its own until it is put.</summary>
    private sealed class ReadFile : IDisposable
    {
        private readonly string name;
        private readonly Landing landing;
        private readonly RejectedSpill rejected;

        public ReadFile(string folder, string path, string name, SourceProfile profile, IProgress<string>? progress)
        {
            this.name = name;
            ParquetTable.Prepare();
            landing = new Landing(folder);
            rejected = new RejectedSpill(Path.Combine(folder, "rejected"));
            var reading = new SourceReading(profile, name, landing, rejected, progress);
            try
            {
                using var stream = SourceFiles.Open(path, profile.ExpandsAtMost);
                reading.Run(stream);
            }
            catch
            {
                Dispose();
                throw;
            }

            (RowsRead, Remarks) = (reading.RowsRead, reading.Remarks);
        }

        public int RowsRead { get; }

        public IReadOnlyList<string> Remarks { get; }

        public IReadOnlyDictionary<string, int> Rejected => rejected.ByReason;

        public void PutInto(Publication publication, string id)
        {
            landing.PutInto(publication, id);
            publication.Put(Tables.RejectedRows, id, rejected.Batches(id, name));
        }

        public void Dispose()
        {
            rejected.Dispose();
            landing.Dispose();
        }
    }

    private static (Losers Losers, Dictionary<string, int> SetAside) Build(Publication publication, IEnumerable<string> sourceIds, IProgress<string>? progress)
    {
        var losers = Losers.Find([.. sourceIds.Order(StringComparer.Ordinal)
            .Select(id => publication.Pending.Find(Landing.KeysArea, id)!)
            .Select(e => (e.Partition, publication.PathOf(e), e.Rows))]);
        var landed = publication.Pending.Of(Landing.RowsArea)
            .Select(e => (Entry: e, Source: e.Partition.Split('/')[0], Month: e.Partition.Split('/')[1]))
            .GroupBy(e => e.Month).OrderBy(g => g.Key, StringComparer.Ordinal).ToList();
        var work = new List<MonthBuild>();
        foreach (var month in landed)
        {
            var parts = losers.PartsOf(month.Key, month.Select(e => (e.Source, e.Entry)), (source, own) => publication.Pending.Find(Landing.RowsArea, $"{source}/{own}")!);
            var madeFrom = Fingerprint.Of(parts.Select(p => p.MadeFrom).Prepend(Version));
            if (publication.Pending.Find(Tables.Readings.Name, month.Key)?.MadeFrom != madeFrom)
            {
                work.Add(new(publication, month.Key, parts, madeFrom));
            }
        }

        foreach (var month in publication.Pending.Of(Tables.Readings.Name).Select(e => e.Partition).Except(landed.Select(g => g.Key)).ToList())
        {
            MonthBuild.Remove(publication, month);
        }

        BuildMonths(publication, work, [.. landed.Select(m => m.Key)], progress);
        var setAside = new Dictionary<string, int>();
        foreach (var entry in publication.Pending.Of(Tables.SetAsideValues.Name).Where(e => e.Rows > 0))
        {
            foreach (var source in ParquetTable.Read(publication.PathOf(entry), Tables.SetAsideValues).Text("source_id"))
            {
                setAside[source!] = setAside.GetValueOrDefault(source!) + 1;
            }
        }

        return (losers, setAside);
    }

    private static void BuildMonths(Publication publication, List<MonthBuild> work, IReadOnlyList<string> months, IProgress<string>? progress)
    {
        // Some months are loaded ahead of their tables, as long as not too many rows are held. The summaries of the installs are merged when
        // every month is loaded, beside the last tables.
        var held = Environment.ProcessorCount;
        var (loads, tables, gate) = (new Queue<MonthBuild>(work), new Queue<MonthBuild>(), new object());
        var merging = InstallMerge.PutInto(publication, [.. months.Select(m => work.Find(w => w.Month == m)?.Summary
            ?? Task.FromResult(publication.Pending.Find(InstallMerge.Area, m)))]);
        var (done, rowsHeld, failed) = (0, 0L, false);

        // The next month to load or to put, null when there is none that another thread does not see to.
        (MonthBuild Month, bool Loaded)? Next()
        {
            lock (gate)
            {
                while (!failed)
                {
                    if (loads.TryPeek(out var next) && tables.Count < held && (rowsHeld == 0 || rowsHeld + next.Most <= RowsHeldAtMost))
                    {
                        rowsHeld += next.Most;
                        return (loads.Dequeue(), false);
                    }

                    if (tables.TryDequeue(out var loaded))
                    {
                        return (loaded, true);
                    }

                    if (loads.Count == 0)
                    {
                        break; // what another thread has loaded, that thread puts
                    }

                    Monitor.Wait(gate);
                }

                return null;
            }
        }

        void Tell(Action change)
        {
            lock (gate)
            {
                change();
                Monitor.PulseAll(gate);
            }
        }

        try
        {
            Parallel.For(0, Environment.ProcessorCount, _ =>
            {
                try
                {
                    while (Next() is (var month, var loaded))
                    {
                        if (!loaded)
                        {
                            month.Load();
                            Tell(() => tables.Enqueue(month));
                            continue;
                        }

                        using (month)
                        {
                            month.PutTables();
                        }

                        Tell(() => rowsHeld -= month.Most);
                        if (Interlocked.Increment(ref done) is var n && (n == work.Count || n % 12 == 0))
                        {
                            progress?.Report(string.Create(CultureInfo.InvariantCulture, $"{n} of {work.Count} months built"));
                        }
                    }
                }
                catch
                {
                    Tell(() => failed = true); // nobody may wait for this thread
                    throw;
                }
            });
        }
        finally
        {
            work.ForEach(month => month.Dispose());
        }

        merging.GetAwaiter().GetResult();
    }

    /// <summary>Every row of every file must be somewhere; otherwise nothing is published.</summary>
    private static void Reconcile(Publication publication, List<SourceSummary> summaries)
    {
        var standing = publication.Pending.Of(Tables.Readings.Name).Sum(e => e.Rows);
        if (summaries.Sum(s => (long)s.Accepted) != standing || summaries.Any(s => !s.Reconciles || s.Accepted < 0))
        {
            throw new InvalidOperationException($"rows do not reconcile: {summaries.Sum(s => (long)s.Accepted)} accepted, {standing} in readings; nothing was published");
        }
    }

    private sealed record Source(string Name, string FileHash, string Profile, string ProfileHash, int RowsRead, int Rejected);

    private static Dictionary<string, Source> Known(Publication publication)
    {
        if (publication.Pending.Find(Tables.Sources.Name, "all") is not { } entry)
        {
            return [];
        }

        // A source whose rows were taken out is to be read again.
        var batch = ParquetTable.Read(publication.PathOf(entry), Tables.Sources);
        return Enumerable.Range(0, batch.Rows).Where(i => publication.Pending.Find(KeysArea, batch.Text("source_id")[i]!) is not null).ToDictionary(i => batch.Text("source_id")[i]!, i => new Source(
            batch.Text("source_name")[i]!, batch.Text("source_hash")[i]!, batch.Text("profile")[i]!, batch.Text("profile_hash")[i]!,
            batch.Whole("rows_read")[i]!.Value, batch.Whole("rows_rejected")[i]!.Value));
    }

    private static Batch SourcesBatch(List<SourceSummary> summaries, Dictionary<string, Source> sources)
    {
        var batch = new Batch(Tables.Sources, summaries.Count);
        for (var i = 0; i < summaries.Count; i++)
        {
            var (s, source) = (summaries[i], sources[summaries[i].SourceId]);
            batch.Text("source_id")[i] = s.SourceId;
            batch.Text("source_name")[i] = s.Name;
            batch.Text("source_hash")[i] = source.FileHash;
            batch.Text("profile")[i] = s.Profile;
            batch.Text("profile_hash")[i] = source.ProfileHash;
            batch.Whole("rows_read")[i] = s.RowsRead;
            batch.Whole("rows_accepted")[i] = s.Accepted;
            batch.Whole("rows_duplicate")[i] = s.Duplicates;
            batch.Whole("rows_superseded")[i] = s.Superseded;
            batch.Whole("rows_rejected")[i] = s.Rejected;
            batch.Whole("values_set_aside")[i] = s.SetAside;
        }

        return batch;
    }

    private static string HashOf(string path)
    {
        using var stream = SourceFiles.OpenAsStored(path);
        return Convert.ToHexStringLower(SHA256.HashData(stream));
    }

    private static bool IsJson(string name) => name.EndsWith(".ndjson", StringComparison.OrdinalIgnoreCase) || name.EndsWith(".jsonl", StringComparison.OrdinalIgnoreCase);
}
