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

    private readonly Dictionary<string, int> places = new(StringComparer.Ordinal);
    private readonly List<string> ids = [], crews = [];
    private readonly List<bool> commissioned = [];
    private readonly List<int> firstDays = [], lastDays = [];

    /// <summary>By column of <see cref="Tables.InstallColumns"/>: doubles, longs or texts, one an install.</summary>
    private readonly object[] values = [.. Tables.InstallColumns.Select(object (c) => Nomenclature.Of(c).Kind switch
    {
        ColumnKind.Number => new List<double>(),
        ColumnKind.Text => new List<string?>(),
        _ => new List<long>(),
    })];

    /// <summary>Writes the summary of one month.</summary>
    public static long WriteMonth(Stream stream, MonthRows rows)
    {
        var merge = new InstallMerge();
        var order = rows.Order;
        var place = new int[order.Length];
        for (var i = 0; i < order.Length; i++)
        {
            var r = order[i];
            place[i] = merge.Visit(rows.Text(MonthRows.InstallId, r)!, rows.Text(MonthRows.CrewId, r)!, rows.Text(MonthRows.VisitKind, r) == "commissioning", rows.Day(r), rows.Day(r));
        }

        for (var c = 0; c < Width; c++)
        {
            switch (merge.values[c])
            {
                case List<double> numbers:
                    for (var i = 0; i < order.Length; i++)
                    {
                        Keep(numbers, place[i], rows.Number(From + c, order[i]));
                    }

                    break;
                case List<string?> texts:
                    for (var i = 0; i < order.Length; i++)
                    {
                        Keep(texts, place[i], rows.Text(From + c, order[i]));
                    }

                    break;
                case List<long> wholes:
                    for (var i = 0; i < order.Length; i++)
                    {
                        Keep(wholes, place[i], rows.Whole(From + c, order[i]));
                    }

                    break;
            }
        }

        merge.Write(stream);
        return merge.ids.Count;
    }

    /// <summary>Merges the summaries of all months, in month order, into the installs table.</summary>
    public static void PutInto(Publication publication)
    {
        var months = publication.Pending.Of(Area).ToList();
        var fingerprint = Fingerprint.Of(months.Select(e => e.Sha256));
        if (publication.Pending.Find(Tables.Installs.Name, "all")?.MadeFrom == fingerprint)
        {
            return;
        }

        var merge = new InstallMerge();
        var pool = new TextPool();
        foreach (var month in months)
        {
            merge.Add(ByteReader.Open(publication.PathOf(month), pool));
        }

        publication.Put(Tables.Installs, "all", merge.Batches(), fingerprint);
    }

    /// <summary>Notes a visit; visits come in time order. The first commissioning visit names the crew, before it the first of any kind.</summary>
    private int Visit(string id, string crew, bool commissioning, int firstDay, int lastDay)
    {
        if (!places.TryGetValue(id, out var place))
        {
            place = places[id] = ids.Count;
            ids.Add(id);
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
                    case List<string?> texts:
                        texts.Add(null);
                        break;
                    case List<long> wholes:
                        wholes.Add(ReadingRow.NoWhole);
                        break;
                }
            }

            return place;
        }

        if (commissioning && !commissioned[place])
        {
            (crews[place], commissioned[place]) = (crew, true);
        }

        firstDays[place] = Math.Min(firstDays[place], firstDay);
        lastDays[place] = Math.Max(lastDays[place], lastDay);
        return place;
    }

    private static void Keep(List<double> column, int place, double value) => column[place] = double.IsNaN(value) ? column[place] : value;

    private static void Keep(List<string?> column, int place, string? value) => column[place] = value ?? column[place];

    private static void Keep(List<long> column, int place, long value) => column[place] = value == ReadingRow.NoWhole ? column[place] : value;

    private void Write(Stream stream)
    {
        using var writer = new BinaryWriter(stream, System.Text.Encoding.UTF8, leaveOpen: true);
        writer.Write(ids.Count);
        for (var i = 0; i < ids.Count; i++)
        {
            writer.Write(ids[i]);
            writer.Write(crews[i]);
            writer.Write(commissioned[i]);
            writer.Write(firstDays[i]);
            writer.Write(lastDays[i]);
        }

        foreach (var column in values)
        {
            switch (column)
            {
                case List<double> numbers:
                    writer.Write(MemoryMarshal.AsBytes(CollectionsMarshal.AsSpan(numbers)));
                    break;
                case List<long> wholes:
                    writer.Write(MemoryMarshal.AsBytes(CollectionsMarshal.AsSpan(wholes)));
                    break;
                case List<string?> texts:
                    WriteTexts(writer, texts);
                    break;
            }
        }
    }

    /// <summary>Few installs differ in a text: the distinct texts once, then a number for each install, 0 for none.</summary>
    private static void WriteTexts(BinaryWriter writer, List<string?> texts)
    {
        var numbers = new Dictionary<string, int>(StringComparer.Ordinal);
        var codes = new int[texts.Count];
        for (var i = 0; i < codes.Length; i++)
        {
            if (texts[i] is { } text && !numbers.TryGetValue(text, out codes[i]))
            {
                codes[i] = numbers[text] = numbers.Count + 1;
            }
        }

        writer.Write(numbers.Count);
        foreach (var text in numbers.Keys)
        {
            writer.Write(text);
        }

        writer.Write(MemoryMarshal.AsBytes(codes.AsSpan()));
    }

    private void Add(ByteReader reader)
    {
        var place = new int[reader.Int32()];
        for (var i = 0; i < place.Length; i++)
        {
            place[i] = Visit(reader.Text(), reader.Text(), reader.Flag(), reader.Int32(), reader.Int32());
        }

        foreach (var column in values)
        {
            switch (column)
            {
                case List<double> numbers:
                    foreach (var p in place)
                    {
                        Keep(numbers, p, reader.Double());
                    }

                    break;
                case List<long> wholes:
                    foreach (var p in place)
                    {
                        Keep(wholes, p, reader.Int64());
                    }

                    break;
                case List<string?> texts:
                    var distinct = new string?[reader.Int32() + 1];
                    for (var i = 1; i < distinct.Length; i++)
                    {
                        distinct[i] = reader.Text();
                    }

                    foreach (var p in place)
                    {
                        Keep(texts, p, distinct[reader.Int32()]);
                    }

                    break;
            }
        }
    }

    private IEnumerable<Batch> Batches()
    {
        var order = Enumerable.Range(0, ids.Count).ToArray();
        Array.Sort([.. ids], order, StringComparer.Ordinal);
        return order.Chunk(GroupRows).Select(ToBatch);
    }

    private Batch ToBatch(int[] order)
    {
        var batch = new Batch(Tables.Installs, order.Length);
        MonthRows.Fill(batch.Text("install_id"), order, p => ids[p]);
        MonthRows.Fill(batch.Text("crew_id"), order, p => crews[p]);
        MonthRows.Fill(batch.Day("first_visited_on"), order, p => DateOnly.FromDayNumber(firstDays[p]));
        MonthRows.Fill(batch.Day("last_visited_on"), order, p => DateOnly.FromDayNumber(lastDays[p]));
        for (var c = 0; c < Width; c++)
        {
            switch (batch.At(Tables.Installs.IndexOf(Tables.InstallColumns[c])), values[c])
            {
                case (double[] target, List<double> numbers):
                    MonthRows.Fill(target, order, p => numbers[p]);
                    break;
                case (string?[] target, List<string?> texts):
                    MonthRows.Fill(target, order, p => texts[p]);
                    break;
                case (int?[] target, List<long> wholes):
                    MonthRows.Fill(target, order, p => wholes[p] == ReadingRow.NoWhole ? null : (int)wholes[p]);
                    break;
                case (DateOnly?[] target, List<long> days):
                    MonthRows.Fill(target, order, p => days[p] == ReadingRow.NoWhole ? null : DateOnly.FromDayNumber((int)days[p]));
                    break;
            }
        }

        return batch;
    }
}
