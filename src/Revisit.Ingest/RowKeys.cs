using System.IO.Hashing;
using System.Numerics;
using System.Runtime.InteropServices;

namespace Revisit.Ingest;

/// <summary>What is needed of an accepted row to see whether another one replaces it. Forty bytes, kept beside the landed rows.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 8)]
internal readonly record struct RowKey(UInt128 Key, long SavedAt, ulong Content, int Line, int Month);

/// <summary>Which rows lose to a later save or an equal row.</summary>
internal sealed class Losers
{
    /// <summary>Longest visit id that is accepted, in characters.</summary>
    public const int LongestId = 64;

    /// <summary>By source and month: lines that do not stand in readings.</summary>
    public Dictionary<(string SourceId, string Month), HashSet<int>> Lines { get; } = [];

    public Dictionary<string, int> Duplicates { get; } = [];

    public Dictionary<string, int> Superseded { get; } = [];

    /// <summary>
    /// Finds, over all sources, the row that stands for each visit and reading: the latest save, then the later source and line.
    /// A row whose content equals one that ranks before it is a duplicate; any other loser is superseded. The order in which
    /// sources were ingested plays no part.
    /// </summary>
    public static Losers Find(IReadOnlyList<(string SourceId, RowKey[] Keys)> sources)
    {
        var result = new Losers();
        // Equal keys lie in one share, so the shares can be looked through side by side.
        var shares = new List<(int Source, int Row)>[Environment.ProcessorCount][];
        Parallel.For(0, shares.Length, n => shares[n] = Repeated(sources, (uint)n, (uint)shares.Length));
        foreach (var rows in shares.SelectMany(s => s))
        {
            var ranked = rows
                .Select(at => (sources[at.Source].SourceId, Key: sources[at.Source].Keys[at.Row]))
                .OrderByDescending(r => r.Key.SavedAt).ThenByDescending(r => r.SourceId, StringComparer.Ordinal).ThenByDescending(r => r.Key.Line)
                .ToList();
            var seen = new HashSet<ulong> { ranked[0].Key.Content };
            foreach (var (source, key) in ranked.Skip(1))
            {
                var place = (source, Landing.MonthName(key.Month));
                if (!result.Lines.TryGetValue(place, out var lines))
                {
                    result.Lines[place] = lines = [];
                }

                lines.Add(key.Line);
                var tally = seen.Add(key.Content) ? result.Superseded : result.Duplicates;
                tally[source] = tally.GetValueOrDefault(source) + 1;
            }
        }

        return result;
    }

    /// <summary>The rows, in order of source and line, of every key in one share of the keys that more than one row has.</summary>
    private static List<(int Source, int Row)>[] Repeated(IReadOnlyList<(string SourceId, RowKey[] Keys)> sources, uint share, uint shares)
    {
        // The first row of each key, by a place made of the key; a dictionary takes twice the time and memory.
        var own = sources.Sum(s => s.Keys.Count(k => (uint)k.Key % shares == share));
        var first = new (int Source, int Row)[BitOperations.RoundUpToPowerOf2((uint)own * 2)];
        var more = new Dictionary<UInt128, List<(int Source, int Row)>>();
        for (var s = 0; s < sources.Count; s++)
        {
            var keys = sources[s].Keys;
            for (var r = 0; r < keys.Length; r++)
            {
                var key = keys[r].Key;
                if ((uint)key % shares != share)
                {
                    continue;
                }

                // Sources count from 1 in the table: 0 is an empty place.
                var place = (int)(key >> 32) & (first.Length - 1);
                while (first[place].Source != 0 && sources[first[place].Source - 1].Keys[first[place].Row].Key != key)
                {
                    place = (place + 1) & (first.Length - 1);
                }

                if (first[place].Source == 0)
                {
                    first[place] = (s + 1, r);
                }
                else if (more.TryGetValue(key, out var rows))
                {
                    rows.Add((s, r));
                }
                else
                {
                    more[key] = [(first[place].Source - 1, first[place].Row), (s, r)];
                }
            }
        }

        return [.. more.Values];
    }

    /// <summary>Key of a visit and reading.</summary>
    public static UInt128 KeyOf(string visitId, long readingNo)
    {
        Span<byte> bytes = stackalloc byte[sizeof(long) + LongestId * sizeof(char)];
        MemoryMarshal.Write(bytes, readingNo);
        var text = MemoryMarshal.AsBytes(visitId.AsSpan());
        text.CopyTo(bytes[sizeof(long)..]);
        return XxHash128.HashToUInt128(bytes[..(sizeof(long) + text.Length)]);
    }
}
