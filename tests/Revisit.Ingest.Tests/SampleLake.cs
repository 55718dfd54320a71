using System.Security.Cryptography;
using System.Text;
using Revisit.Storage;

namespace Revisit.Ingest.Tests;

/// <summary>A lake in a temporary folder, made from texts; invented data only.</summary>
internal sealed class SampleLake : IDisposable
{
    private readonly string root = Directory.CreateTempSubdirectory("revisit-ingest-").FullName;

    /// <summary>Folder of the lake.</summary>
    public string Folder => Path.Combine(root, "lake");

    /// <summary>What was told while the last ingest ran: progress, remarks, and the text of an error.</summary>
    public List<string> Messages { get; } = [];

    /// <summary>Writes a source file.</summary>
    public string File(string name, string text, Encoding? encoding = null) => File(name, [.. (encoding ?? new UTF8Encoding(false)).GetPreamble(), .. (encoding ?? new UTF8Encoding(false)).GetBytes(text)]);

    public string File(string name, byte[] bytes)
    {
        var path = Path.Combine(root, name);
        System.IO.File.WriteAllBytes(path, bytes);
        return path;
    }

    /// <summary>Takes files in, in one publication, and commits.</summary>
    public IReadOnlyList<SourceSummary> Ingest(SourceProfile? profile, params string[] paths) => IngestWith([.. paths.Select(p => new IngestFile(p, profile))]);

    /// <summary>Takes files in, each with its own profile, in one publication, and commits.</summary>
    public IReadOnlyList<SourceSummary> IngestWith(IReadOnlyList<IngestFile> files)
    {
        try
        {
            using var publication = Lake.At(Folder).BeginPublication();
            var summaries = IngestStage.Run(publication, files, new Told(Messages));
            publication.Commit();
            Messages.AddRange(summaries.SelectMany(s => s.Remarks));
            Assert.All(summaries, s => Assert.Equal(s.RowsRead, s.Accepted + s.Duplicates + s.Superseded + s.Rejected));
            return summaries;
        }
        catch (Exception e)
        {
            Messages.Add(e.ToString());
            throw;
        }
    }

    /// <summary>Takes in one plain file made of a text.</summary>
    public SourceSummary IngestText(string text, string name = "plain.csv", SourceProfile? profile = null, Encoding? encoding = null) =>
        Ingest(profile, File(name, text, encoding)).Single();

    /// <summary>Rows of a query, each cell as text: a missing one is "NULL", numbers invariant and round-trip.</summary>
    public List<string[]> Query(string sql)
    {
        using var session = Lake.At(Folder).OpenSession();
        using var reader = session.Query(sql);
        var rows = new List<string[]>();
        while (reader.Read())
        {
            rows.Add([.. Enumerable.Range(0, reader.FieldCount).Select(i => reader.IsDBNull(i) ? "NULL" : Text(reader.GetValue(i)))]);
        }

        return rows;
    }

    /// <summary>The one cell of a query.</summary>
    public string One(string sql) => Assert.Single(Assert.Single(Query(sql)));

    /// <summary>Every file of the lake with a hash of its bytes; the lock file is empty and counts too.</summary>
    public SortedDictionary<string, string> Bytes() => new(
        Directory.EnumerateFiles(Folder, "*", SearchOption.AllDirectories)
            .ToDictionary(f => Path.GetRelativePath(Folder, f), f => Convert.ToHexStringLower(SHA256.HashData(System.IO.File.ReadAllBytes(f)))), StringComparer.Ordinal);

    /// <summary>Files of the lake, Parquet pages unpacked by reading every table back, that hold a text in UTF-8 or UTF-16; and messages that do.</summary>
    public List<string> PlacesOf(string text)
    {
        var found = Messages.Where(m => m.Contains(text, StringComparison.OrdinalIgnoreCase)).Select(m => "message: " + m).ToList();
        foreach (var file in Directory.Exists(Folder) ? Directory.EnumerateFiles(Folder, "*", SearchOption.AllDirectories) : [])
        {
            var bytes = System.IO.File.ReadAllBytes(file);
            if (((Encoding[])[Encoding.UTF8, Encoding.Unicode, Encoding.BigEndianUnicode]).Any(e => bytes.AsSpan().IndexOf(e.GetBytes(text)) >= 0))
            {
                found.Add(Path.GetRelativePath(Folder, file));
            }
        }

        if (System.IO.File.Exists(Path.Combine(Folder, Catalog.FileName)))
        {
            // Pages may be compressed, so that a search of bytes alone could miss what a reader sees.
            foreach (var table in Lake.At(Folder).ReadCatalog().Entries.Where(e => e.File.EndsWith(".parquet", StringComparison.Ordinal)).Select(e => e.Table).Distinct())
            {
                found.AddRange(Query($"SELECT * FROM {table}").Where(r => r.Any(c => c.Contains(text, StringComparison.OrdinalIgnoreCase))).Select(r => $"{table}: {string.Join('|', r)}"));
            }
        }

        return found;
    }

    public void Dispose() => Directory.Delete(root, recursive: true);

    /// <summary>The folder of the repository.</summary>
    public static string Repository
    {
        get
        {
            var at = new DirectoryInfo(AppContext.BaseDirectory);
            while (!System.IO.File.Exists(Path.Combine(at.FullName, "Analytics.sln")))
            {
                at = at.Parent ?? throw new DirectoryNotFoundException("Analytics.sln");
            }

            return at.FullName;
        }
    }

    private static string Text(object value) => value switch
    {
        DateTime t => t.ToString("yyyy-MM-dd'T'HH:mm:ss", System.Globalization.CultureInfo.InvariantCulture),
        DateOnly d => d.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture),
        double d => d.ToString("R", System.Globalization.CultureInfo.InvariantCulture),
        _ => Convert.ToString(value, System.Globalization.CultureInfo.InvariantCulture)!,
    };

    private sealed class Told(List<string> messages) : IProgress<string>
    {
        public void Report(string value) => messages.Add(value);
    }
}
