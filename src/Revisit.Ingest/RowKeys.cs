using System.IO.Hashing;
using System.Runtime.InteropServices;
using Revisit.Storage;

namespace Revisit.Ingest;

/// <summary>What is needed of an accepted row to see whether another one replaces it. Forty bytes, kept beside the landed rows.</summary>
/// <param name="Key">Its visit, as a hash, and in the last seven bits its reading.</param>
/// <param name="SavedAt">When it was saved, as UTC ticks.</param>
/// <param name="Content">Hash of what it says.</param>
/// <param name="Line">First physical line in the source.</param>
/// <param name="Month">Month of its own day; see <see cref="Landing.MonthOf"/>.</param>
[StructLayout(LayoutKind.Sequential, Pack = 8)]
internal readonly record struct RowKey(UInt128 Key, long SavedAt, ulong Content, int Line, int Month)
{
    private const int ReadingBits = 7, MonthBits = 12, FirstYear = 1900;

    /// <summary>Key of a visit and reading.</summary>
    public static UInt128 Of(string visitId, long readingNo)
    {
        var visit = XxHash128.HashToUInt128(MemoryMarshal.AsBytes(visitId.AsSpan()));
        return visit >> ReadingBits << ReadingBits | (UInt128)readingNo & ((1 << ReadingBits) - 1);
    }

    /// <summary>The visit.</summary>
    public UInt128 Visit => Key >> ReadingBits;

    /// <summary>The share of all visits that the row's visit is in.</summary>
    public int ShareOf(int shares) => (int)((ulong)(uint)(Key >> 96) * (uint)shares >> 32);

    /// <summary>Some bits of the visit, then the reading and the month: sorted by it, what may concern one visit stands side by side.</summary>
    public ulong Short => (ulong)Key << MonthBits | (uint)(Month - FirstYear * 12) & ((1 << MonthBits) - 1);

    /// <summary>Of <see cref="Short"/>, the bits of the visit.</summary>
    public static ulong VisitOf(ulong shortened) => shortened >> ReadingBits + MonthBits;

    /// <summary>Whether two rows of one visit, side by side in order of <see cref="Short"/>, may be of one reading or of two months.</summary>
    public static bool MayConcern(ulong one, ulong next) => one >> MonthBits == next >> MonthBits || ((one ^ next) & ((1 << MonthBits) - 1)) != 0;
}

/// <summary>Landed rows of one source and month that a month is made from.</summary>
/// <param name="SourceId">The source.</param>
/// <param name="Entry">The landed rows.</param>
/// <param name="Lines">Some of their lines.</param>
/// <param name="Only">Whether the rows on those lines belong to the month, or all others.</param>
internal sealed record LandedPart(string SourceId, CatalogEntry Entry, HashSet<int> Lines, bool Only)
{
    /// <summary>Rows that may belong to the month, at most.</summary>
    public int Most => Only ? Lines.Count : checked((int)Entry.Rows);

    /// <summary>Fingerprint of the rows that belong to the month.</summary>
    public string MadeFrom => Entry.Sha256 + (Only ? "+" : ":") + string.Join(',', Lines.Order());

    /// <summary>Whether the row on a line belongs to the month.</summary>
    public bool Holds(int line) => Lines.Contains(line) == Only;
}

/// <summary>Which rows lose to a later save or an equal row, and which stand in another month than that of their own day.</summary>
internal sealed class Losers
{
    /// <summary>Longest visit id that is accepted, in characters.</summary>
    public const int LongestId = 64;

    /// <summary>Keys looked through at once by one core; a share of the visits is about so large.</summary>
    private const int ShareRows = 1 << 20;

    /// <summary>By source and month of their own day: lines that do not stand in that month.</summary>
    private readonly Dictionary<(string SourceId, string Month), HashSet<int>> lines = [];

    /// <summary>By month: lines that stand in it, for their visit began in it, though their own day lies in another, by source and month of that day.</summary>
    private readonly Dictionary<string, Dictionary<(string SourceId, string Month), HashSet<int>>> moved = [];

    public Dictionary<string, int> Duplicates { get; } = [];

    public Dictionary<string, int> Superseded { get; } = [];

    /// <summary>
    /// Finds, over all sources, the row that stands for each visit and reading: the latest save, then the later source and line.
    /// A row whose content equals one that ranks before it is a duplicate; any other loser is superseded. A visit stands as a
    /// whole in the month of its earliest row that stands. The order in which sources were ingested plays no part.
    /// </summary>
    /// <param name="sources">The file of keys of each source.</param>
    public static Losers Find(IReadOnlyList<(string SourceId, string Path, long Rows)> sources)
    {
        var result = new Losers();
        // The rows of a visit lie in one share. Shares are bounded, so memory does not grow with the rows but by those that lose.
        var shares = Math.Max(Environment.ProcessorCount, (int)(sources.Sum(s => s.Rows) / ShareRows) + 1);
        Parallel.For(0, shares, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount }, share =>
        {
            foreach (var visit in Concerned(sources, share, shares).GroupBy(r => r.Key.Visit))
            {
                lock (result)
                {
                    result.Resolve([.. visit]);
                }
            }
        });
        return result;
    }

    private void Resolve(IReadOnlyList<(string SourceId, RowKey Key)> visit)
    {
        var standing = new List<(string SourceId, RowKey Key)>();
        foreach (var rows in visit.GroupBy(r => r.Key.Key))
        {
            var ranked = rows.OrderByDescending(r => r.Key.SavedAt).ThenByDescending(r => r.SourceId, StringComparer.Ordinal).ThenByDescending(r => r.Key.Line).ToList();
            var seen = new HashSet<ulong> { ranked[0].Key.Content };
            standing.Add(ranked[0]);
            foreach (var (source, key) in ranked.Skip(1))
            {
                Add(lines, source, key);
                var tally = seen.Add(key.Content) ? Superseded : Duplicates;
                tally[source] = tally.GetValueOrDefault(source) + 1;
            }
        }

        var month = standing.Min(r => r.Key.Month);
        foreach (var (source, key) in standing.Where(r => r.Key.Month != month))
        {
            Add(lines, source, key);
            Add(CollectionsMarshal.GetValueRefOrAddDefault(moved, Landing.MonthName(month), out _) ??= [], source, key);
        }
    }

    private static void Add(Dictionary<(string SourceId, string Month), HashSet<int>> to, string source, RowKey key) =>
        (CollectionsMarshal.GetValueRefOrAddDefault(to, (source, Landing.MonthName(key.Month)), out _) ??= []).Add(key.Line);

    /// <summary>What a month is made from: its own rows, and those of visits that began in it and went on into another.</summary>
    /// <param name="month">The month, YYYY-MM.</param>
    /// <param name="landed">The rows that landed in the month.</param>
    /// <param name="find">Landed rows of a source and month.</param>
    public IReadOnlyList<LandedPart> PartsOf(string month, IEnumerable<(string SourceId, CatalogEntry Entry)> landed, Func<string, string, CatalogEntry> find) =>
    [
        .. landed.Select(l => new LandedPart(l.SourceId, l.Entry, lines.GetValueOrDefault((l.SourceId, month)) ?? [], false)),
        .. (moved.GetValueOrDefault(month) ?? []).OrderBy(m => m.Key.SourceId, StringComparer.Ordinal).ThenBy(m => m.Key.Month, StringComparer.Ordinal)
            .Select(m => new LandedPart(m.Key.SourceId, find(m.Key.SourceId, m.Key.Month), m.Value, true)),
    ];

    /// <summary>The rows of every visit in one share that may have two rows of one reading, or rows in two months.</summary>
    private static List<(string SourceId, RowKey Key)> Concerned(IReadOnlyList<(string SourceId, string Path, long Rows)> sources, int share, int shares)
    {
        var shortened = new List<ulong>((int)Math.Min(sources.Sum(s => s.Rows) / shares * 9 / 8, 2 * ShareRows) + 64);
        foreach (var (_, path, rows) in sources)
        {
            Landing.ReadKeys(path, rows, share, shares, key => shortened.Add(key.Short));
        }

        shortened.Sort();
        var visits = new HashSet<ulong>();
        for (var i = 1; i < shortened.Count; i++)
        {
            if (RowKey.VisitOf(shortened[i - 1]) == RowKey.VisitOf(shortened[i]) && RowKey.MayConcern(shortened[i - 1], shortened[i]))
            {
                visits.Add(RowKey.VisitOf(shortened[i]));
            }
        }

        var concerned = new List<(string SourceId, RowKey Key)>();
        foreach (var (source, path, rows) in visits.Count == 0 ? [] : sources)
        {
            Landing.ReadKeys(path, rows, share, shares, key =>
            {
                if (visits.Contains(RowKey.VisitOf(key.Short)))
                {
                    concerned.Add((source, key));
                }
            });
        }

        return concerned;
    }
}
