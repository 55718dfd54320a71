using System.Diagnostics.CodeAnalysis;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Diagnosis;

/// <summary>
/// Makes metrics, findings and visit_outcomes month by month, and follow_ups whole. A month is computed again only when its
/// readings, the installs or the method changed; a month that left the readings leaves these tables too.
/// </summary>
public static class DiagnosisStage
{
    /// <summary>Raise it whenever numbers or words change, so that what is kept is made again.</summary>
    public const string Version = "diagnosis-6";

    /// <summary>Where each month keeps what its sound readings say of the expected values.</summary>
    public const string SoundArea = "sound_residuals";

    private static readonly TableContract[] Monthly = [Tables.Metrics, Tables.Findings, Tables.VisitOutcomes];

    /// <summary>Runs the stage on what is pending in a publication.</summary>
    /// <param name="publication">Open publication; the caller commits.</param>
    /// <param name="progress">Told which month is being judged; may be null.</param>
    public static void Run(Publication publication, IProgress<string>? progress)
    {
        var months = publication.Pending.Of(Tables.Readings.Name).ToList();
        RemoveGone(publication, months);
        var installsEntry = publication.Pending.Find(Tables.Installs.Name, "all");
        var installsHash = installsEntry?.Sha256 ?? "none";
        InstallTable? read = null;
        InstallTable Installs() => read ??= new InstallTable(installsEntry is null
            ? new Batch(Tables.Installs, 0)
            : ParquetTable.Read(publication.PathOf(installsEntry), Tables.Installs));

        // A month is judged by what earlier months taught, so that adding a month never changes the ones before it. Months follow one
        // another, each judged on all cores, while the one before is being written and the next one read.
        var kept = publication.Pending.Copy();
        var fleet = new FleetExpectation();
        var writing = new Queue<Task>();
        (CatalogEntry Month, Task<Batch> Readings)? ahead = null;
        string LearnedFrom(CatalogEntry month) => Fingerprint.Of([month.Sha256, installsHash, Version]);
        bool HasLearned(CatalogEntry month, [NotNullWhen(true)] out CatalogEntry? sound) => (sound = kept.Find(SoundArea, month.Partition))?.MadeFrom == LearnedFrom(month);
        Task<Batch> Reading(CatalogEntry month) => Task.Run(() => ParquetTable.Read(publication.PathOf(month), Tables.Readings));
        try
        {
            for (var i = 0; i < months.Count; i++)
            {
                var month = months[i];
                var learnedFrom = LearnedFrom(month);
                var madeFrom = Fingerprint.Of([month.Sha256, installsHash, Version, fleet.Summary()]);
                if (Monthly.All(t => kept.Find(t.Name, month.Partition)?.MadeFrom == madeFrom) && HasLearned(month, out var sound))
                {
                    fleet.Add(FleetExpectation.Read(publication.PathOf(sound)));
                    continue;
                }

                progress?.Report($"judging {month.Partition} ({month.Rows} readings)");
                var readings = ahead is { } had && had.Month == month ? had.Readings : Reading(month);
                ahead = i + 1 < months.Count && !HasLearned(months[i + 1], out _) ? (months[i + 1], Reading(months[i + 1])) : null;
                var made = MonthDiagnosis.Of(readings.GetAwaiter().GetResult(), Installs(), fleet);
                fleet.Add(made.Sound);
                while (writing.Count > Environment.ProcessorCount)
                {
                    writing.Dequeue().GetAwaiter().GetResult();
                }

                writing.Enqueue(Task.Run(() => publication.Put(Tables.Metrics, month.Partition, made.Metrics, madeFrom)));
                writing.Enqueue(Task.Run(() =>
                {
                    publication.Put(Tables.Findings, month.Partition, made.Findings, madeFrom);
                    publication.Put(Tables.VisitOutcomes, month.Partition, [made.Outcomes], madeFrom);
                    publication.PutFile(SoundArea, month.Partition, ".csv", s => Write(made.Sound, s), learnedFrom);
                }));
            }
        }
        finally
        {
            // Nothing may go on writing when the caller is told that it failed.
            Task.WhenAll(writing).GetAwaiter().GetResult();
        }

        FollowUps(publication, progress);
    }

    private static long Write(FleetExpectation fleet, Stream stream)
    {
        fleet.Write(stream);
        return 0;
    }

    private static void RemoveGone(Publication publication, List<CatalogEntry> months)
    {
        var kept = months.Select(m => m.Partition).ToHashSet(StringComparer.Ordinal);
        foreach (var table in Monthly.Select(t => t.Name).Append(SoundArea))
        {
            foreach (var gone in publication.Pending.Of(table).Where(e => !kept.Contains(e.Partition)).ToList())
            {
                publication.Remove(table, gone.Partition);
            }
        }
    }

    private static void FollowUps(Publication publication, IProgress<string>? progress)
    {
        var inputs = publication.Pending.Entries
            .Where(e => e.Table == Tables.Readings.Name || e.Table == Tables.Findings.Name || e.Table == Tables.Installs.Name)
            .Select(e => $"{e.Table}/{e.Partition}:{e.Sha256}");
        var madeFrom = Fingerprint.Of(inputs.Append(Version));
        if (publication.Pending.Find(Tables.FollowUps.Name, "all")?.MadeFrom == madeFrom)
        {
            return;
        }

        progress?.Report("finding first follow-ups");
        using var session = publication.OpenSession();
        publication.Put(Tables.FollowUps, session.Read(Tables.FollowUps, FollowUpQuery.Sql), madeFrom);
    }
}
