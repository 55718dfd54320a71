using System.Numerics;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Ingest;

/// <summary>
/// What the visits say about each install. Every month keeps its own short summary, in the order of the installs' ids; the table is their
/// merge, side by side, so that no more is held than a row group: an attribute is what the latest visit that gives it says, the crew is that
/// of the commissioning visit, or of the earliest visit known.
/// </summary>
internal static class InstallMerge
{
    public const string Area = "landed_installs";
    private const int GroupRows = 65_536, BlockBytes = 1 << 16, CollectEvery = 3;
    private static readonly int From = ReadingRow.At(Tables.InstallColumns[0]), Width = Tables.InstallColumns.Count;

    /// <summary>Writes the summary of one month.</summary>
    /// <returns>Installs in it.</returns>
    public static long WriteMonth(Stream stream, MonthRows rows)
    {
        var order = rows.Order;
        var (place, placeOf) = (new int[order.Length], new int[rows.List(MonthRows.InstallId).Length]);
        var ids = new List<string>();
        for (var i = 0; i < order.Length; i++)
        {
            ref var number = ref placeOf[rows.Place(MonthRows.InstallId, order[i])];
            if (number == 0)
            {
                ids.Add(rows.Text(MonthRows.InstallId, order[i])!);
                number = ids.Count;
            }

            place[i] = number - 1;
        }

        // Installs lie in the order of their ids from here on, so that they are written from one end to the other.
        var sorted = SortedOrder.Of([.. ids.Select(SortedOrder.LeadingCharacters)], (a, b) => string.CompareOrdinal(ids[a], ids[b]));
        var rank = new int[ids.Count];
        for (var i = 0; i < sorted.Length; i++)
        {
            rank[sorted[i]] = i;
        }

        for (var i = 0; i < place.Length; i++)
        {
            place[i] = rank[place[i]];
        }

        var installs = new Columns(ids.Count);
        var commissioning = Array.IndexOf(rows.List(MonthRows.VisitKind), "commissioning");
        for (var i = 0; i < order.Length; i++)
        {
            var r = order[i];
            installs.Visit(place[i], rows.Place(MonthRows.CrewId, r), rows.Place(MonthRows.VisitKind, r) == commissioning, rows.Day(r), rows.Day(r));
        }

        var given = rows.Given >> From & ((1UL << Width) - 1);
        for (var m = given; m != 0; m &= m - 1)
        {
            var c = BitOperations.TrailingZeroCount(m);
            switch (installs.Values[c])
            {
                case double[] numbers:
                    Keep(numbers, place, rows.Numbers(From + c), order, double.NaN);
                    break;
                case long[] wholes:
                    Keep(wholes, place, rows.Wholes(From + c), order, ReadingRow.NoWhole);
                    break;
                case int[] places:
                    Keep(places, place, rows.Places(From + c), order, 0);
                    break;
            }
        }

        var block = new ByteWriter();
        for (var i = 0; i < sorted.Length; i++)
        {
            block.Text(ids[sorted[i]]);
            installs.Write(block, i, given, rows);
            if (block.Position >= BlockBytes)
            {
                Put(stream, block);
            }
        }

        Put(stream, block);
        return ids.Count;
    }

    private static void Put(Stream stream, ByteWriter block)
    {
        stream.Write(Blocks.HeadOf(block.Position));
        stream.Write(block.Written().Span);
        block.Clear();
    }

    /// <summary>Keeps, at each place, the last of the values in the order given that is not missing.</summary>
    private static void Keep<T>(T[] kept, int[] place, ReadOnlySpan<T> values, ReadOnlySpan<int> order, T missing)
        where T : struct, IEquatable<T>
    {
        for (var i = 0; i < place.Length; i++)
        {
            var value = values[order[i]];
            if (!value.Equals(missing))
            {
                kept[place[i]] = value;
            }
        }
    }

    /// <summary>Merges the summaries of all months into the installs table.</summary>
    /// <param name="publication">Where the table goes.</param>
    /// <param name="months">The summary of every month in order, none for a month without rows.</param>
    public static async Task PutInto(Publication publication, IReadOnlyList<Task<CatalogEntry?>> months)
    {
        var summaries = await Task.WhenAll(months).ConfigureAwait(false);
        var madeFrom = Fingerprint.Of(summaries.Select(s => s?.Sha256 ?? ""));
        if (madeFrom != publication.Pending.Find(Tables.Installs.Name, "all")?.MadeFrom)
        {
            publication.Put(Tables.Installs, "all", OneAhead(Merged([.. summaries.Where(s => s is not null).Select(s => publication.PathOf(s!))])), madeFrom);
        }
    }

    /// <summary>The same batches; the next is made while one is written.</summary>
    private static IEnumerable<Batch> OneAhead(IEnumerable<Batch> batches)
    {
        using var source = batches.GetEnumerator();
        Task<Batch?> Next() => Task.Run(() => source.MoveNext() ? source.Current : null);
        var next = Next();
        try
        {
            while (next.GetAwaiter().GetResult() is { } batch)
            {
                next = Next();
                yield return batch;
            }
        }
        finally
        {
            ((IAsyncResult)next).AsyncWaitHandle.WaitOne(); // a writer that failed leaves while the next is being made
        }
    }

    /// <summary>The table, a row group at a time, from summaries in month order.</summary>
    private static IEnumerable<Batch> Merged(IReadOnlyList<string> summaries)
    {
        var next = new PriorityQueue<MonthSummary, (string Id, int Month)>(Comparer<(string Id, int Month)>.Create((a, b) =>
            string.CompareOrdinal(a.Id, b.Id) is var c and not 0 ? c : a.Month.CompareTo(b.Month)));
        var (ids, texts, installs) = (new List<string>(), new TextTable(), new Columns(GroupRows));
        for (var month = 0; month < summaries.Count; month++)
        {
            var summary = new MonthSummary(summaries[month]);
            if (summary.Next() is { } id)
            {
                next.Enqueue(summary, (id, month));
            }
        }

        for (var groups = 0; next.TryPeek(out var summary, out var at);)
        {
            if (ids.Count == 0 || ids[^1] != at.Id)
            {
                if (ids.Count == GroupRows)
                {
                    if (groups++ % CollectEvery == 0)
                    {
                        // What a group leaves behind is large and short-lived; what the months left behind is given back as well.
                        GC.Collect(GC.MaxGeneration, GCCollectionMode.Aggressive, blocking: true, compacting: true);
                    }

                    yield return installs.ToBatch(ids, texts.Texts);
                    ids.Clear();
                    installs.Clear();
                    texts = new TextTable();
                }

                ids.Add(at.Id);
            }

            installs.Read(summary.Block!, ids.Count - 1, texts);
            _ = summary.Next() is { } id ? next.DequeueEnqueue(summary, (id, at.Month)) : next.Dequeue();
        }

        if (ids.Count > 0)
        {
            yield return installs.ToBatch(ids, texts.Texts);
        }
    }

    /// <summary>The installs of a month's summary, one after another.</summary>
    private sealed class MonthSummary(string path)
    {
        private readonly IEnumerator<ByteReader> blocks = Blocks.Read(path).GetEnumerator();

        /// <summary>Stands behind the id that <see cref="Next"/> gave.</summary>
        public ByteReader? Block { get; private set; }

        /// <summary>The id of the next install, null after the last.</summary>
        public string? Next()
        {
            if (Block is null or { AtEnd: true })
            {
                Block = blocks.MoveNext() ? blocks.Current : null;
            }

            return Block?.Text();
        }
    }

    /// <summary>Installs, column by column.</summary>
    private sealed class Columns
    {
        private readonly int[] crews, firstDays, lastDays;
        private readonly bool[] commissioned;

        public Columns(int most)
        {
            (crews, firstDays, lastDays, commissioned) = (new int[most], new int[most], new int[most], new bool[most]);
            Values = [.. Tables.InstallColumns.Select(Array (c) => Nomenclature.Of(c).Kind switch
            {
                ColumnKind.Number => new double[most],
                ColumnKind.Text => new int[most],
                _ => new long[most],
            })];
            Clear();
        }

        /// <summary>By column of <see cref="Tables.InstallColumns"/>: numbers, whole numbers, or places of texts.</summary>
        public Array[] Values { get; }

        public void Clear()
        {
            Array.Clear(crews);
            foreach (var column in Values)
            {
                switch (column)
                {
                    case double[] numbers:
                        Array.Fill(numbers, double.NaN);
                        break;
                    case long[] wholes:
                        Array.Fill(wholes, ReadingRow.NoWhole);
                        break;
                    default:
                        Array.Clear(column);
                        break;
                }
            }
        }

        /// <summary>Notes a visit; visits come in time order. The first commissioning visit names the crew, before it the first of any kind.</summary>
        public void Visit(int at, int crew, bool commissioning, int firstDay, int lastDay)
        {
            var isNew = crews[at] == 0; // every visit has a crew
            if (isNew || (commissioning && !commissioned[at]))
            {
                (crews[at], commissioned[at]) = (crew, commissioning);
            }

            firstDays[at] = isNew ? firstDay : Math.Min(firstDays[at], firstDay);
            lastDays[at] = isNew ? lastDay : Math.Max(lastDays[at], lastDay);
        }

        /// <summary>Writes one install but its id.</summary>
        /// <param name="block">Where to.</param>
        /// <param name="at">Its place.</param>
        /// <param name="given">A bit a column that may have a value.</param>
        /// <param name="rows">Whose lists the texts stand in.</param>
        public void Write(ByteWriter block, int at, ulong given, MonthRows rows)
        {
            block.Text(rows.List(MonthRows.CrewId)[crews[at]]!);
            block.Byte(commissioned[at] ? (byte)1 : (byte)0);
            block.Int32(firstDays[at]);
            block.Int32(lastDays[at]);
            var masked = block.Position;
            block.UInt64(0);
            var mask = 0UL;
            for (var m = given; m != 0; m &= m - 1)
            {
                var c = BitOperations.TrailingZeroCount(m);
                switch (Values[c])
                {
                    case double[] numbers when !double.IsNaN(numbers[at]):
                        block.Double(numbers[at]);
                        break;
                    case long[] wholes when wholes[at] != ReadingRow.NoWhole:
                        block.Int64(wholes[at]);
                        break;
                    case int[] places when places[at] != 0:
                        block.Text(rows.List(From + c)[places[at]]!);
                        break;
                    default:
                        continue;
                }

                mask |= 1UL << c;
            }

            block.UInt64At(masked, mask);
        }

        /// <summary>Reads what <see cref="Write"/> wrote, over what earlier months said.</summary>
        public void Read(ByteReader block, int at, TextTable texts)
        {
            Visit(at, texts.Add(block.Utf8()), block.Flag(), block.Int32(), block.Int32());
            for (var m = block.UInt64(); m != 0; m &= m - 1)
            {
                switch (Values[BitOperations.TrailingZeroCount(m)])
                {
                    case double[] numbers:
                        numbers[at] = block.Double();
                        break;
                    case long[] wholes:
                        wholes[at] = block.Int64();
                        break;
                    case int[] places:
                        places[at] = texts.Add(block.Utf8());
                        break;
                }
            }
        }

        public Batch ToBatch(List<string> ids, string?[] texts)
        {
            var batch = new Batch(Tables.Installs, ids.Count);
            ids.CopyTo(batch.Text("install_id")!);
            Copy(crews, batch.Places("crew_id", texts));
            Fill(batch.Day("first_visited_on"), firstDays, d => DateOnly.FromDayNumber(d));
            Fill(batch.Day("last_visited_on"), lastDays, d => DateOnly.FromDayNumber(d));
            foreach (var (column, values) in Tables.InstallColumns.Zip(Values))
            {
                switch (values)
                {
                    case double[] numbers:
                        Copy(numbers, batch.Number(column));
                        break;
                    case int[] places:
                        Copy(places, batch.Places(column, texts));
                        break;
                    case long[] wholes when Nomenclature.Of(column).Kind == ColumnKind.Day:
                        Fill(batch.Day(column), wholes, v => v == ReadingRow.NoWhole ? null : DateOnly.FromDayNumber((int)v));
                        break;
                    case long[] wholes:
                        Fill(batch.Whole(column), wholes, v => v == ReadingRow.NoWhole ? null : (int)v);
                        break;
                }
            }

            return batch;
        }

        private static void Copy<T>(T[] from, T[] to) => from.AsSpan(0, to.Length).CopyTo(to);

        private static void Fill<TFrom, TTo>(TTo?[] to, TFrom[] from, Func<TFrom, TTo?> convert)
            where TTo : struct
        {
            for (var i = 0; i < to.Length; i++)
            {
                to[i] = convert(from[i]);
            }
        }
    }
}
