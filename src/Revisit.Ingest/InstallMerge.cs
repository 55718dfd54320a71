using System.Numerics;
using System.Runtime.InteropServices;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Ingest;

/// <summary>
/// What the visits say about each install. Every month keeps its own short summary, column by column; the table is their merge:
/// an attribute is what the latest visit that gives it says, the crew is that of the commissioning visit, or of the earliest
/// visit known.
/// </summary>
internal sealed class InstallMerge
{
    public const string Area = "landed_installs";
    private const int GroupRows = 65_536;
    private static readonly int From = ReadingRow.At(Tables.InstallColumns[0]), Width = Tables.InstallColumns.Count;

    // Number of an install's id less one is its place in every list below.
    private readonly TextTable ids = new(), texts = new();
    private readonly List<int> crews = [], firstDays = [], lastDays = [];
    private readonly List<bool> commissioned = [];

    /// <summary>By column of <see cref="Tables.InstallColumns"/>: numbers, whole numbers, or numbers of texts in <see cref="texts"/>.</summary>
    private readonly object[] values = [.. Tables.InstallColumns.Select(object (c) => Nomenclature.Of(c).Kind switch
    {
        ColumnKind.Number => new List<double>(),
        ColumnKind.Text => new List<int>(),
        _ => new List<long>(),
    })];

    /// <summary>Writes the summary of one month.</summary>
    public static long WriteMonth(Stream stream, MonthRows rows)
    {
        var merge = new InstallMerge();
        var order = rows.Order;
        var place = new int[order.Length];
        var (placeOf, crewOf) = (new int[rows.List(MonthRows.InstallId).Length], new int[rows.List(MonthRows.CrewId).Length]);
        var commissioning = Array.IndexOf(rows.List(MonthRows.VisitKind), "commissioning");
        for (var i = 0; i < order.Length; i++)
        {
            var r = order[i];
            ref var number = ref placeOf[rows.Place(MonthRows.InstallId, r)];
            number = number > 0 ? number : merge.ids.Add(rows.Text(MonthRows.InstallId, r)!);
            place[i] = number - 1;
            merge.Visit(place[i], merge.NumberOf(crewOf, rows, MonthRows.CrewId, rows.Place(MonthRows.CrewId, r)), rows.Place(MonthRows.VisitKind, r) == commissioning, rows.Day(r), rows.Day(r));
        }

        var given = rows.Given >> From & ((1UL << Width) - 1);
        for (var m = given; m != 0; m &= m - 1)
        {
            var c = BitOperations.TrailingZeroCount(m);
            switch (merge.values[c])
            {
                case List<double> numbers:
                    Keep(numbers, place, rows.Numbers(From + c), order, double.NaN);
                    break;
                case List<long> wholes:
                    Keep(wholes, place, rows.Wholes(From + c), order, ReadingRow.NoWhole);
                    break;
                case List<int> numbersOfTexts:
                    Keep(numbersOfTexts, place, rows.Places(From + c), order, 0);
                    var numberOf = new int[rows.List(From + c).Length];
                    foreach (ref var text in CollectionsMarshal.AsSpan(numbersOfTexts))
                    {
                        text = merge.NumberOf(numberOf, rows, From + c, text);
                    }

                    break;
            }
        }

        merge.Write(stream, given);
        return merge.crews.Count;
    }

    /// <summary>Number in <see cref="texts"/> of a text at a place of a column; <paramref name="known"/> keeps it by place.</summary>
    private int NumberOf(int[] known, MonthRows rows, int column, int place) =>
        known[place] > 0 || place == 0 ? known[place] : known[place] = texts.Add(rows.List(column)[place]!);

    /// <summary>Merges the summaries of all months, in month order, into the installs table.</summary>
    /// <param name="publication">Where the table goes.</param>
    /// <param name="months">The summary of every month in order, none for a month without rows. Merging goes on while later ones are made.</param>
    public static async Task PutInto(Publication publication, IReadOnlyList<Task<CatalogEntry?>> months)
    {
        var standing = publication.Pending.Find(Tables.Installs.Name, "all")?.MadeFrom;
        string MadeFrom() => Fingerprint.Of(months.Select(m => m.Result?.Sha256 ?? ""));
        if (months.All(m => m.IsCompletedSuccessfully) && MadeFrom() == standing)
        {
            return;
        }

        var merge = new InstallMerge();
        foreach (var month in months)
        {
            if (await month.ConfigureAwait(false) is { } summary)
            {
                using var reader = ByteReader.Open(publication.PathOf(summary));
                merge.Add(reader);
            }
        }

        publication.Put(Tables.Installs, "all", merge.Batches(), MadeFrom());
    }

    /// <summary>Notes a visit; visits come in time order. The first commissioning visit names the crew, before it the first of any kind.</summary>
    private void Visit(int place, int crew, bool commissioning, int firstDay, int lastDay)
    {
        if (place == crews.Count)
        {
            crews.Add(crew);
            commissioned.Add(commissioning);
            firstDays.Add(firstDay);
            lastDays.Add(lastDay);
            foreach (var column in values)
            {
                switch (column)
                {
                    case List<double> numbers:
                        numbers.Add(double.NaN);
                        break;
                    case List<int> numbersOfTexts:
                        numbersOfTexts.Add(0);
                        break;
                    case List<long> wholes:
                        wholes.Add(ReadingRow.NoWhole);
                        break;
                }
            }

            return;
        }

        if (commissioning && !commissioned[place])
        {
            (crews[place], commissioned[place]) = (crew, true);
        }

        firstDays[place] = Math.Min(firstDays[place], firstDay);
        lastDays[place] = Math.Max(lastDays[place], lastDay);
    }

    /// <summary>Keeps, at each place, the last of the values in the order given that is not missing.</summary>
    private static void Keep<T>(List<T> column, int[] place, ReadOnlySpan<T> values, ReadOnlySpan<int> order, T missing)
        where T : struct, IEquatable<T>
    {
        var kept = CollectionsMarshal.AsSpan(column);
        for (var i = 0; i < place.Length; i++)
        {
            var value = values[order[i]];
            if (!value.Equals(missing))
            {
                kept[place[i]] = value;
            }
        }
    }

    private void Write(Stream stream, ulong given)
    {
        var writer = new ByteWriter();
        writer.Int32(texts.Count - 1);
        for (var i = 1; i < texts.Count; i++)
        {
            writer.Text(texts.Texts[i]!);
        }

        writer.Int32(crews.Count);
        for (var i = 0; i < crews.Count; i++)
        {
            writer.Text(ids.Texts[i + 1]!);
            writer.Int32(crews[i]);
            writer.Byte(commissioned[i] ? (byte)1 : (byte)0);
            writer.Int32(firstDays[i]);
            writer.Int32(lastDays[i]);
        }

        writer.UInt64(given);
        foreach (var column in values.Where((_, c) => (given >> c & 1) != 0))
        {
            writer.Bytes(column switch
            {
                List<double> numbers => MemoryMarshal.AsBytes(CollectionsMarshal.AsSpan(numbers)),
                List<int> numbersOfTexts => MemoryMarshal.AsBytes(CollectionsMarshal.AsSpan(numbersOfTexts)),
                _ => MemoryMarshal.AsBytes(CollectionsMarshal.AsSpan((List<long>)column)),
            });
        }

        stream.Write(writer.Written().Span);
    }

    private void Add(ByteReader reader)
    {
        var textOf = new int[reader.Int32() + 1];
        for (var i = 1; i < textOf.Length; i++)
        {
            textOf[i] = texts.Add(reader.Utf8());
        }

        var place = new int[reader.Int32()];
        for (var i = 0; i < place.Length; i++)
        {
            place[i] = ids.Add(reader.Utf8()) - 1;
            Visit(place[i], textOf[reader.Int32()], reader.Flag(), reader.Int32(), reader.Int32());
        }

        int[] order = [.. Enumerable.Range(0, place.Length)];
        var given = reader.UInt64();
        foreach (var column in values.Where((_, c) => (given >> c & 1) != 0))
        {
            switch (column)
            {
                case List<double> numbers:
                    Keep(numbers, place, reader.Span<double>(place.Length), order, double.NaN);
                    break;
                case List<int> numbersOfTexts:
                    Keep(numbersOfTexts, place, MonthRows.Pick<int>(textOf, reader.Span<int>(place.Length)), order, 0);
                    break;
                case List<long> wholes:
                    Keep(wholes, place, reader.Span<long>(place.Length), order, ReadingRow.NoWhole);
                    break;
            }
        }
    }

    private IEnumerable<Batch> Batches()
    {
        long[] keys = [.. ids.Texts[1..ids.Count].Select(id => SortedOrder.LeadingCharacters(id!))];
        var order = SortedOrder.Of(keys, (a, b) => string.CompareOrdinal(ids.Texts[a + 1], ids.Texts[b + 1]));
        return order.Chunk(GroupRows).AsParallel().AsOrdered().WithMergeOptions(ParallelMergeOptions.NotBuffered).Select(ToBatch);
    }

    private Batch ToBatch(int[] order)
    {
        var batch = new Batch(Tables.Installs, order.Length);
        MonthRows.Pick(ids.Texts.AsSpan(1), batch.Text("install_id"), order);
        MonthRows.Pick(CollectionsMarshal.AsSpan(crews), batch.Places("crew_id", texts.Texts), order);
        MonthRows.Fill(batch.Day("first_visited_on"), order, p => DateOnly.FromDayNumber(firstDays[p]));
        MonthRows.Fill(batch.Day("last_visited_on"), order, p => DateOnly.FromDayNumber(lastDays[p]));
        for (var c = 0; c < Width; c++)
        {
            var column = Tables.InstallColumns[c];
            switch (values[c])
            {
                case List<double> numbers:
                    MonthRows.Pick(CollectionsMarshal.AsSpan(numbers), batch.Number(column), order);
                    break;
                case List<int> numbersOfTexts:
                    MonthRows.Pick(CollectionsMarshal.AsSpan(numbersOfTexts), batch.Places(column, texts.Texts), order);
                    break;
                case List<long> wholes when Nomenclature.Of(column).Kind == ColumnKind.Day:
                    MonthRows.Fill(batch.Day(column), order, p => wholes[p] == ReadingRow.NoWhole ? null : DateOnly.FromDayNumber((int)wholes[p]));
                    break;
                case List<long> wholes:
                    MonthRows.Fill(batch.Whole(column), order, p => wholes[p] == ReadingRow.NoWhole ? null : (int)wholes[p]);
                    break;
            }
        }

        return batch;
    }
}
