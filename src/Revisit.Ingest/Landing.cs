using System.Runtime.InteropServices;
using System.Security.Cryptography;
using Revisit.Storage;

namespace Revisit.Ingest;

/// <summary>
/// Where accepted rows of one source land, by month, in the order of the file, before months are built from them. It is kept,
/// so that a month can be built again when another source adds to it or replaces some of it. Memory does not grow with the file.
/// </summary>
internal sealed class Landing : IDisposable
{
    public const string RowsArea = "landed", KeysArea = "landed_keys";
    private const int FlushAt = 1 << 20, Least = 1 << 16, GatheredAtMost = 1 << 25, KeysAtOnce = 1 << 14;
    private readonly string folder;
    private readonly Dictionary<int, MonthFile> months = [];
    private readonly FileStream keys;
    private readonly IncrementalHash keysHash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);

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

    /// <summary>Adds the rows of the next block of the file.</summary>
    public void Add(BlockRows block)
    {
        foreach (var (number, bytes, rows) in block.Months)
        {
            if (!months.TryGetValue(number, out var month))
            {
                months[number] = month = new(Path.Combine(folder, MonthName(number)));
            }

            month.Add(bytes.Span, rows, Math.Clamp(GatheredAtMost / months.Count, Least, FlushAt));
        }

        var added = MemoryMarshal.AsBytes(CollectionsMarshal.AsSpan(block.Keys));
        keys.Write(added);
        keysHash.AppendData(added);
        Rows += block.Keys.Count;
    }

    /// <summary>Hands the landed files to the publication.</summary>
    public void PutInto(Publication publication, string sourceId)
    {
        Parallel.ForEach(months, month =>
        {
            month.Value.Flush();
            publication.Adopt(RowsArea, $"{sourceId}/{MonthName(month.Key)}", ".rows", month.Value.Path, month.Value.Rows, month.Value.Sha256());
        });
        months.Clear(); // with their buffers

        keys.Dispose();
        publication.Adopt(KeysArea, sourceId, ".keys", Path.Combine(folder, "keys"), Rows, Convert.ToHexStringLower(keysHash.GetHashAndReset()));
    }

    /// <summary>Shows the keys of a source that lie in one share of all visits, in the order of the file.</summary>
    public static void ReadKeys(string path, long rows, int share, int shares, Action<RowKey> show)
    {
        using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read, 0);
        var some = new RowKey[Math.Min(rows, KeysAtOnce)];
        for (; rows > 0; rows -= some.Length)
        {
            var keys = some.AsSpan(0, (int)Math.Min(rows, some.Length));
            file.ReadExactly(MemoryMarshal.AsBytes(keys));
            foreach (ref readonly var key in keys)
            {
                if (key.ShareOf(shares) == share)
                {
                    show(key);
                }
            }
        }
    }

    public void Dispose()
    {
        keys.Dispose();
        keysHash.Dispose();
        if (Directory.Exists(folder))
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private sealed class MonthFile(string path)
    {
        private readonly MemoryStream gathered = new(1 << 14);
        private readonly IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);

        public string Path { get; } = path;

        public long Rows { get; private set; }

        public void Add(ReadOnlySpan<byte> bytes, int rows, int flushAt)
        {
            gathered.Write(bytes);
            Rows += rows;
            if (gathered.Position > flushAt)
            {
                Flush();
            }
        }

        public void Flush()
        {
            // Opened for each flush: a file of many months must not hold many files open.
            using var file = new FileStream(Path, FileMode.Append, FileAccess.Write, FileShare.None, 0);
            Put(file, Blocks.HeadOf((int)gathered.Position));
            Put(file, gathered.GetBuffer().AsSpan(0, (int)gathered.Position));
            gathered.Position = 0;
        }

        private void Put(FileStream file, ReadOnlySpan<byte> bytes)
        {
            file.Write(bytes);
            hash.AppendData(bytes);
        }

        /// <summary>SHA-256 of all that was flushed.</summary>
        public string Sha256()
        {
            using (hash)
            {
                return Convert.ToHexStringLower(hash.GetHashAndReset());
            }
        }
    }
}
