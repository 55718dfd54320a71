using System.Text.Json;
using Revisit.Records;

namespace Revisit.Storage;

/// <summary>One file of the lake, named by its content.</summary>
/// <param name="Table">Table (or area) it belongs to.</param>
/// <param name="Partition">Month, source or "all".</param>
/// <param name="File">Path below the lake, with forward slashes.</param>
/// <param name="Rows">Rows in it.</param>
/// <param name="Sha256">Hash of its bytes, lower-case hex.</param>
/// <param name="MadeFrom">Fingerprint of what it was computed from; a stage skips what has not changed.</param>
public sealed record CatalogEntry(string Table, string Partition, string File, long Rows, string Sha256, string MadeFrom)
{
    /// <summary>Whether it is a table that SQL can ask.</summary>
    public bool IsTable => File.EndsWith(".parquet", StringComparison.Ordinal);
}

/// <summary>
/// Which files make up the lake now. It is the one thing a publication switches, by a rename, so a reader sees
/// either all of it or none of it.
/// </summary>
public sealed class Catalog
{
    public const string FileName = "catalog.json";
    private static readonly JsonSerializerOptions Json = new() { WriteIndented = true, NewLine = "\n", PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower };
    private readonly SortedDictionary<(string Table, string Partition), CatalogEntry> entries;

    public Catalog(IEnumerable<CatalogEntry> entries) => this.entries = new(
        entries.ToDictionary(e => (e.Table, e.Partition)),
        Comparer<(string Table, string Partition)>.Create((a, b) =>
            string.CompareOrdinal(a.Table, b.Table) is var c and not 0 ? c : string.CompareOrdinal(a.Partition, b.Partition)));

    /// <summary>All entries in table and partition order.</summary>
    public IReadOnlyCollection<CatalogEntry> Entries => entries.Values;

    /// <summary>The files of one table in partition order.</summary>
    public IEnumerable<CatalogEntry> Of(string table) => entries.Values.Where(e => e.Table == table);

    public CatalogEntry? Find(string table, string partition) => entries.GetValueOrDefault((table, partition));

    /// <summary>Whether tables that are made together all stand; the last of them says what they were made from.</summary>
    public bool AllStand(string madeFrom, params IReadOnlyList<TableContract> tables) =>
        Find(tables[^1].Name, "all")?.MadeFrom == madeFrom && tables.All(t => Find(t.Name, "all") is not null);

    public void Set(CatalogEntry entry) => entries[(entry.Table, entry.Partition)] = entry;

    public void Remove(string table, string partition) => entries.Remove((table, partition));

    /// <summary>Whether two catalogs name the same files.</summary>
    public bool SameAs(Catalog other) => entries.Values.SequenceEqual(other.entries.Values);

    public Catalog Copy() => new(entries.Values);

    /// <summary>Reads the catalog of a lake; a lake without one is empty.</summary>
    public static Catalog Load(string folder)
    {
        var path = Path.Combine(folder, FileName);
        try
        {
            var entries = JsonSerializer.Deserialize<List<CatalogEntry?>>(File.ReadAllBytes(path), Json) ?? throw new JsonException("it holds nothing");
            return new Catalog(entries.Select(Sound));
        }
        catch (Exception e) when (e is FileNotFoundException or DirectoryNotFoundException)
        {
            return new Catalog([]);
        }
        catch (Exception e) when (e is JsonException or ArgumentException)
        {
            throw new UserError($"{path} is not a catalog ({e.Message}). Restore it from a copy, or move the lake aside and run again from the exports.");
        }
    }

    /// <summary>An entry that names a file of the lake and nothing outside.</summary>
    private static CatalogEntry Sound(CatalogEntry? entry)
    {
        if (entry is not { Table: { Length: > 0 } table, Partition: not null, File: { Length: > 0 } file, Sha256: not null, MadeFrom: not null })
        {
            throw new JsonException("an entry lacks its table, partition, file, hash or what it was made from");
        }

        var parts = file.Split('/');
        return parts.Length == 2 && parts[0] == table && !parts.Contains("..") && file.IndexOfAny(['\\', ':', '\0']) < 0
            ? entry
            : throw new JsonException($"the file '{file}' of table '{table}' does not lie in the lake");
    }

    internal byte[] ToBytes() => JsonSerializer.SerializeToUtf8Bytes(entries.Values, Json);
}
