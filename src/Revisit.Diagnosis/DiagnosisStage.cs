using System.Security.Cryptography;
using System.Text;
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
        var stale = months.Where(m => !IsFresh(publication, m, MadeFrom(m, installsHash))).ToList();
        if (stale.Count > 0)
        {
            var installs = new InstallTable(installsEntry is null
                ? new Batch(Tables.Installs, 0)
                : ParquetTable.Read(publication.PathOf(installsEntry), Tables.Installs));
            Parallel.ForEach(stale, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount }, month =>
            {
                progress?.Report($"judging {month.Partition} ({month.Rows} readings)");
                var made = MonthDiagnosis.Of(ParquetTable.Read(publication.PathOf(month), Tables.Readings), installs);
                var madeFrom = MadeFrom(month, installsHash);
                publication.Put(Tables.Metrics, month.Partition, made.Metrics, madeFrom);
                publication.Put(Tables.Findings, month.Partition, made.Findings, madeFrom);
                publication.Put(Tables.VisitOutcomes, month.Partition, [made.Outcomes], madeFrom);
            });
        }

        FollowUps(publication, progress);
    }

    private static void RemoveGone(Publication publication, List<CatalogEntry> months)
    {
        var kept = months.Select(m => m.Partition).ToHashSet(StringComparer.Ordinal);
        foreach (var table in Monthly)
        {
            foreach (var gone in publication.Pending.Of(table.Name).Where(e => !kept.Contains(e.Partition)).ToList())
            {
                publication.Remove(table.Name, gone.Partition);
            }
        }
    }

    private static bool IsFresh(Publication publication, CatalogEntry month, string madeFrom) =>
        Monthly.All(t => publication.Pending.Find(t.Name, month.Partition)?.MadeFrom == madeFrom);

    private static string MadeFrom(CatalogEntry readings, string installsHash) => $"{readings.Sha256}:{installsHash}:{Version}";

    private static void FollowUps(Publication publication, IProgress<string>? progress)
    {
        var inputs = publication.Pending.Entries
            .Where(e => e.Table == Tables.Readings.Name || e.Table == Tables.Findings.Name || e.Table == Tables.Installs.Name)
            .Select(e => $"{e.Table}/{e.Partition}:{e.Sha256}");
        var madeFrom = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(string.Join('\n', inputs)))) + ":" + Version;
        if (publication.Pending.Find(Tables.FollowUps.Name, "all")?.MadeFrom == madeFrom)
        {
            return;
        }

        progress?.Report("finding first follow-ups");
        using var session = publication.OpenSession();
        publication.Put(Tables.FollowUps, session.Read(Tables.FollowUps, FollowUpQuery.Sql), madeFrom);
    }
}
