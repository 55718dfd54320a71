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
    public const string Version = "diagnosis-3";

    /// <summary>Where each month keeps what its sound readings say of the expected values.</summary>
    private const string SoundArea = "sound_residuals";

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
        Learn(publication, months, installsHash, Installs, progress);

        // A month is judged by what earlier months taught, so that adding a month never changes the ones before it.
        var fleet = new FleetExpectation();
        var stale = new List<(CatalogEntry Month, FleetExpectation Fleet, string MadeFrom)>();
        foreach (var month in months)
        {
            var madeFrom = Fingerprint.Of([month.Sha256, installsHash, Version, fleet.Summary()]);
            if (!IsFresh(publication, month, madeFrom))
            {
                var soFar = new FleetExpectation();
                soFar.Add(fleet);
                stale.Add((month, soFar, madeFrom));
            }

            fleet.Add(FleetExpectation.Read(publication.PathOf(publication.Pending.Find(SoundArea, month.Partition)!)));
        }

        if (stale.Count > 0)
        {
            var installs = Installs();
            Parallel.ForEach(stale, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount }, work =>
            {
                var (month, learned, madeFrom) = work;
                progress?.Report($"judging {month.Partition} ({month.Rows} readings)");
                var made = MonthDiagnosis.Of(ParquetTable.Read(publication.PathOf(month), Tables.Readings), installs, learned);
                publication.Put(Tables.Metrics, month.Partition, made.Metrics, madeFrom);
                publication.Put(Tables.Findings, month.Partition, made.Findings, madeFrom);
                publication.Put(Tables.VisitOutcomes, month.Partition, [made.Outcomes], madeFrom);
            });
        }

        FollowUps(publication, progress);
    }

    private static void Learn(Publication publication, List<CatalogEntry> months, string installsHash, Func<InstallTable> installs, IProgress<string>? progress)
    {
        var stale = months.Select(m => (Month: m, MadeFrom: Fingerprint.Of([m.Sha256, installsHash, Version])))
            .Where(m => publication.Pending.Find(SoundArea, m.Month.Partition)?.MadeFrom != m.MadeFrom).ToList();
        if (stale.Count == 0)
        {
            return;
        }

        progress?.Report($"learning what sound systems read from {stale.Count} months");
        var table = installs();
        Parallel.ForEach(stale, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount }, work =>
        {
            var fleet = MonthDiagnosis.SoundReadings(ParquetTable.Read(publication.PathOf(work.Month), Tables.Readings), table);
            publication.PutFile(SoundArea, work.Month.Partition, ".csv", s => Write(fleet, s), work.MadeFrom);
        });

        static long Write(FleetExpectation fleet, Stream stream)
        {
            fleet.Write(stream);
            return 0;
        }
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

    private static bool IsFresh(Publication publication, CatalogEntry month, string madeFrom) =>
        Monthly.All(t => publication.Pending.Find(t.Name, month.Partition)?.MadeFrom == madeFrom);

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
