using System.Collections.Concurrent;
using System.Globalization;
using System.Runtime.ExceptionServices;
using System.Security.Cryptography;
using System.Text;
using Revisit.Fleet.Copies;
using Revisit.Fleet.Crews;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Fleet;

/// <summary>
/// Makes the marts: staging and intermediate as views, each mart as a table of the lake, then the checks. A mart whose
/// inputs and SQL have not changed is kept as it stands.
/// </summary>
public static class FleetStage
{
    /// <summary>Runs the queries that travel with the tool.</summary>
    /// <param name="publication">The publication to put the marts into; the caller commits.</param>
    /// <param name="progress">One line a mart; may be null.</param>
    /// <exception cref="UserError">A mart breaks its contract or a check found rows; do not commit then.</exception>
    public static void Run(Publication publication, IProgress<string>? progress) => Run(publication, progress, SqlLibrary.Embedded);

    /// <summary>Runs a given library of queries.</summary>
    public static void Run(Publication publication, IProgress<string>? progress, SqlLibrary library)
    {
        ArgumentNullException.ThrowIfNull(publication);
        ArgumentNullException.ThrowIfNull(library);
        GiveBack();
        CopyTables.Put(publication, progress);
        GiveBack();
        using var session = publication.OpenSession(keepsOrder: false);
        library.DefineViews(session, once: true);
        progress?.Report("queries that several marts read: kept in memory");
        MakeMarts(publication, session, progress, library);
        Forget(session, library);
        CrewTables.Put(publication, session, progress);
        var problems = SideBySide(session, library.Models.Where(m => m.Layer is SqlLayer.Marts or SqlLayer.Checks), (beside, m) => m.Layer == SqlLayer.Marts
            ? ContractProbe.Problems(beside, LakeSession.Name(m.Name), m.Contract).Select(p => $"{m.Name}: {p}").ToList()
            : [.. Offending(beside, m)]).SelectMany(p => p).ToList();
        if (problems.Count > 0)
        {
            throw new UserError("The marts do not hold together; nothing was published. Run the stages again from ingest, and report this if it stays:", problems);
        }

        progress?.Report(string.Create(CultureInfo.InvariantCulture, $"checks: {library.Of(SqlLayer.Checks).Count()} found nothing"));
    }

    /// <summary>Fingerprint of everything a query is made from: its SQL and contract, those it reads, the macros, and the files of the lake tables below it.</summary>
    public static string Fingerprint(SqlLibrary library, SqlModel model, Catalog catalog)
    {
        ArgumentNullException.ThrowIfNull(library);
        ArgumentNullException.ThrowIfNull(model);
        ArgumentNullException.ThrowIfNull(catalog);
        var text = new StringBuilder();
        foreach (var macro in library.Macros)
        {
            text.Append(macro).Append('\0');
        }

        var seen = new SortedSet<string>(StringComparer.Ordinal);
        void Visit(string name)
        {
            if (seen.Add(name) && library.Find(name) is { } read)
            {
                foreach (var below in read.Reads)
                {
                    Visit(below);
                }
            }
        }

        Visit(model.Name);
        foreach (var name in seen)
        {
            text.Append(name).Append('\0');
            if (library.Find(name) is { } query)
            {
                text.Append(query.Sql).Append('\0').Append(query.ContractText).Append('\0');
                continue;
            }

            foreach (var file in catalog.Of(name))
            {
                text.Append(file.Partition).Append('=').Append(file.Sha256).Append('\0');
            }
        }

        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())));
    }

    /// <summary>Lets a session see a table that was put after it was opened.</summary>
    internal static void Show(LakeSession session, Publication publication, CatalogEntry entry) =>
        session.Execute($"CREATE OR REPLACE VIEW {LakeSession.Name(entry.Table)} AS SELECT * FROM read_parquet({LakeSession.FileLiteral(publication.PathOf(entry))})");

    /// <summary>Gives back the memory of what is done: readings and what DuckDB keeps need the room one after the other.</summary>
    private static void GiveBack() => GC.Collect(GC.MaxGeneration, GCCollectionMode.Aggressive);

    /// <summary>Drops what was kept for the marts alone: the comparison of crews needs the room.</summary>
    private static void Forget(LakeSession session, SqlLibrary library)
    {
        var needed = new HashSet<string>(StringComparer.Ordinal);
        void Need(string name)
        {
            if (needed.Add(name) && library.Find(name) is { } query)
            {
                query.Reads.ToList().ForEach(Need);
            }
        }

        library.Of(SqlLayer.Checks).Select(m => m.Name).Concat(CrewTables.Queries).ToList().ForEach(Need);
        foreach (var model in library.Of(SqlLayer.Intermediate).Where(m => m.Contract.Kept && !needed.Contains(m.Name)))
        {
            session.Execute($"DROP TABLE {LakeSession.Name(model.Name)}");
        }
    }

    private static void MakeMarts(Publication publication, LakeSession session, IProgress<string>? progress, SqlLibrary library)
    {
        // What is unchanged is settled before anything is put, since putting changes the catalog that fingerprints are read from.
        var marts = library.Of(SqlLayer.Marts).ToDictionary(m => m.Name, m => Fingerprint(library, m, publication.Pending));
        bool Changed(SqlModel mart) => publication.Pending.Find(mart.Name, "all")?.MadeFrom != marts[mart.Name];
        var made = SideBySide(session, library.Of(SqlLayer.Marts).Where(Changed), (beside, mart) =>
        {
            var table = mart.Contract.Table(mart.Name);
            return publication.Put(table, "all", [beside.Read(table, mart.Sql)], marts[mart.Name]);
        }).ToDictionary(e => e.Table);
        foreach (var name in marts.Keys)
        {
            if (made.TryGetValue(name, out var entry))
            {
                Show(session, publication, entry);
            }

            progress?.Report(entry is null ? $"{name}: unchanged" : string.Create(CultureInfo.InvariantCulture, $"{name}: {entry.Rows} rows"));
        }
    }

    /// <summary>
    /// Asks the same of several queries, two at once, since most are too small for DuckDB to use both cores; answers in the order of the queries.
    /// </summary>
    private static T[] SideBySide<T>(LakeSession session, IEnumerable<SqlModel> queries, Func<LakeSession, SqlModel, T> ask)
    {
        var models = queries.ToList();
        var answers = new T[models.Count];
        try
        {
            Parallel.ForEach(
                Partitioner.Create(Enumerable.Range(0, models.Count), EnumerablePartitionerOptions.NoBuffering),
                new ParallelOptions { MaxDegreeOfParallelism = 2 },
                session.Beside,
                (i, _, beside) =>
                {
                    answers[i] = ask(beside, models[i]);
                    return beside;
                },
                beside => beside.Dispose());
        }
        catch (AggregateException e)
        {
            ExceptionDispatchInfo.Throw(e.InnerExceptions[0]);
        }

        return answers;
    }

    private static IEnumerable<string> Offending(LakeSession session, SqlModel check)
    {
        using var reader = session.Query(check.Sql);
        string? first = null;
        var rows = 0L;
        while (reader.Read())
        {
            rows++;
            first ??= string.Join(", ", Enumerable.Range(0, reader.FieldCount)
                .Select(i => $"{reader.GetName(i)} {(reader.IsDBNull(i) ? "missing" : Convert.ToString(reader.GetValue(i), CultureInfo.InvariantCulture))}"));
        }

        if (rows > 0)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"{check.Name}: {rows} row(s), the first: {first} ({check.Contract.Description.Trim()})");
        }
    }
}
