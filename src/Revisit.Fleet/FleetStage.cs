using System.Globalization;
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
        CopyTables.Put(publication, progress);
        using var session = publication.OpenSession();
        library.DefineViews(session, once: true);
        progress?.Report("queries that several marts read: kept in memory");
        CrewTables.Put(publication, session, progress);
        MakeMarts(publication, session, progress, library);
        var problems = library.Of(SqlLayer.Marts).SelectMany(m => ContractProbe.Problems(session, LakeSession.Name(m.Name), m.Contract).Select(p => $"{m.Name}: {p}"))
            .Concat(library.Of(SqlLayer.Checks).Select(c => Offending(session, c)).OfType<string>())
            .ToList();
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
        session.Execute($"CREATE OR REPLACE VIEW {LakeSession.Name(entry.Table)} AS SELECT * FROM read_parquet({LakeSession.Literal(publication.PathOf(entry))})");

    private static void MakeMarts(Publication publication, LakeSession session, IProgress<string>? progress, SqlLibrary library)
    {
        foreach (var mart in library.Of(SqlLayer.Marts))
        {
            var fingerprint = Fingerprint(library, mart, publication.Pending);
            if (publication.Pending.Find(mart.Name, "all") is { } kept && kept.MadeFrom == fingerprint)
            {
                progress?.Report($"{mart.Name}: unchanged");
                continue;
            }

            var table = mart.Contract.Table(mart.Name);
            var entry = publication.Put(table, "all", [session.Read(table, mart.Sql)], fingerprint);
            Show(session, publication, entry);
            progress?.Report(string.Create(CultureInfo.InvariantCulture, $"{mart.Name}: {entry.Rows} rows"));
        }
    }

    private static string? Offending(LakeSession session, SqlModel check)
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

        return rows == 0 ? null : string.Create(CultureInfo.InvariantCulture, $"{check.Name}: {rows} row(s), the first: {first} ({check.Contract.Description.Trim()})");
    }
}
