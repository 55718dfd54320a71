using System.IO.Hashing;
using System.Runtime.InteropServices;
using Revisit.Storage;

namespace Revisit.Ingest;

/// <summary>
/// Where accepted rows of one source land, by month, in the order of the file, before months are built from them. It is kept,
/// so that a month can be built again when another source adds to it or replaces some of it. Memory does not grow with the file.
/// </summary>
internal sealed class Landing : IDisposable
{
    public const string RowsArea = "landed", KeysArea = "landed_keys";
    private const int FlushAt = 1 << 20;
    private static readonly int VisitId = ReadingRow.At("visit_id"), ReadingNo = ReadingRow.At("reading_no"), SavedAt = ReadingRow.At("saved_at");
    private readonly string folder;
    private readonly Dictionary<int, MonthFile> months = [];
    private readonly FileStream keys;
    private readonly XxHash64 content = new();

    public Landing(string folder)
    {
        this.folder = Directory.CreateDirectory(folder).FullName;
        keys = new FileStream(Path.Combine(folder, "keys"), FileMode.Create, FileAccess.ReadWrite, FileShare.None, 1 << 16);
    }

    /// <summary>Rows landed.</summary>
    public int Rows { get; private set; }

    /// <summary>Month of a day number, as year × 12 + month − 1.</summary>
    public static int MonthOf(int dayNumber)
    {
        var day = DateOnly.FromDayNumber(dayNumber);
        return day.Year * 12 + day.Month - 1;
    }

    /// <summary>Name of a month, YYYY-MM.</summary>
    public static string MonthName(int month) => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{month / 12:0000}-{month % 12 + 1:00}");

    public void Add(ReadingRow row)
    {
        var number = MonthOf(row.VisitedOn);
        if (!months.TryGetValue(number, out var month))
        {
            months[number] = month = new(Path.Combine(folder, MonthName(number)));
        }

        var start = month.Buffer.Position;
        row.Write(month.Writer);

        // Content: all but the place in the source (the first four bytes).
        content.Append(month.Buffer.GetBuffer().AsSpan((int)start + 4, (int)(month.Buffer.Position - start) - 4));
        var key = new RowKey(Losers.KeyOf(row.Texts[VisitId]!, row.Wholes[ReadingNo]), row.Wholes[SavedAt], content.GetCurrentHashAsUInt64(), row.Line, number);
        content.Reset();
        keys.Write(MemoryMarshal.AsBytes(new ReadOnlySpan<RowKey>(in key)));
        month.Rows++;
        Rows++;
        if (month.Buffer.Position > FlushAt)
        {
            month.Flush();
        }
    }

    /// <summary>Hands the landed files to the publication.</summary>
    public void PutInto(Publication publication, string sourceId)
    {
        foreach (var (number, month) in months.OrderBy(m => m.Key))
        {
            month.Flush();
            publication.Adopt(RowsArea, $"{sourceId}/{MonthName(number)}", ".rows", month.Path, month.Rows);
        }

        keys.Flush();
        keys.Dispose();
        publication.Adopt(KeysArea, sourceId, ".keys", Path.Combine(folder, "keys"), Rows);
    }

    /// <summary>Reads the keys of a source.</summary>
    public static RowKey[] ReadKeys(string path)
    {
        var bytes = File.ReadAllBytes(path);
        return MemoryMarshal.Cast<byte, RowKey>(bytes).ToArray();
    }

    public void Dispose()
    {
        keys.Dispose();
        if (Directory.Exists(folder))
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private sealed class MonthFile(string path)
    {
        public string Path { get; } = path;
        public MemoryStream Buffer { get; } = new(1 << 14);
        public BinaryWriter Writer => field ??= new BinaryWriter(Buffer);
        public long Rows { get; set; }

        public void Flush()
        {
            using var file = new FileStream(Path, FileMode.Append, FileAccess.Write, FileShare.None, 0);
            file.Write(Buffer.GetBuffer(), 0, (int)Buffer.Position);
            Buffer.Position = 0;
        }
    }
}
