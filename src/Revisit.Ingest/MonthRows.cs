using System.Buffers;
using System.Numerics;
using Revisit.Records;

namespace Revisit.Ingest;

/// <summary>The rows of one month, column by column, in the order readings are kept: time, visit, reading.</summary>
internal sealed class MonthRows : IDisposable
{
    public static readonly int VisitId = ReadingRow.At("visit_id"), ReadingNo = ReadingRow.At("reading_no"), VisitedAt = ReadingRow.At("visited_at"),
        InstallId = ReadingRow.At("install_id"), CrewId = ReadingRow.At("crew_id"), VisitKind = ReadingRow.At("visit_kind"), Correction = ReadingRow.At("correction");

    /// <summary>By coded column, its vocabulary from place 1.</summary>
    private static readonly string?[]?[] Vocabularies =
        [.. Enumerable.Range(0, ReadingRow.Width).Select(i => ReadingRow.CodedColumns.Contains(i) ? (string?[])[null, .. ReadingRow.TermAt(i).Codes] : null)];

    // By column; a column has one of the three.
    private readonly double[][] numbers = new double[ReadingRow.Width][];
    private readonly long[][] wholes = new long[ReadingRow.Width][];
    private readonly int[][] texts = new int[ReadingRow.Width][];
    private readonly TextTable table = new();
    private readonly int[] lines, days, sources;
    private int[] order = [];

    /// <summary>Room for a number of rows, every value missing.</summary>
    public MonthRows(int most)
    {
        // Rented: the columns of a month are large, and the next month needs the same.
        (sources, lines, days) = (Rent(0, most), Rent(0, most), Rent(0, most));
        foreach (var i in (int[])[.. ReadingRow.TextColumns, .. ReadingRow.CodedColumns])
        {
            texts[i] = Rent(0, most);
        }

        foreach (var i in ReadingRow.NumberColumns)
        {
            numbers[i] = Rent(double.NaN, most);
        }

        foreach (var i in ReadingRow.WholeColumns)
        {
            wholes[i] = Rent(ReadingRow.NoWhole, most);
        }
    }

    private static T[] Rent<T>(T missing, int capacity)
    {
        var rented = ArrayPool<T>.Shared.Rent(capacity);
        rented.AsSpan(0, capacity).Fill(missing);
        return rented;
    }

    /// <summary>Gives the columns back; nothing may be read afterwards.</summary>
    public void Dispose()
    {
        Return([sources, lines, days, .. texts]);
        Return(numbers);
        Return(wholes);
    }

    private static void Return<T>(T[]?[] columns)
    {
        foreach (var column in columns)
        {
            if (column is not null)
            {
                ArrayPool<T>.Shared.Return(column);
            }
        }

        Array.Clear(columns);
    }

    /// <summary>Set-aside values with the row they belong to.</summary>
    public List<(int Row, SetAside Value)> SetAside { get; } = [];

    public int Rows { get; private set; }

    /// <summary>A bit a column: whether any row gives a value.</summary>
    public ulong Given { get; private set; }

    /// <summary>Takes in those of some landed rows of a source that belong to the month.</summary>
    public void Add(ByteReader reader, LandedPart part)
    {
        var (coded, open, number, whole) = (Bits(ReadingRow.CodedColumns), Bits(ReadingRow.TextColumns), Bits(ReadingRow.NumberColumns), Bits(ReadingRow.WholeColumns));
        var sourceText = table.Add(part.SourceId);
        var last = new int[ReadingRow.Width];
        while (!reader.AtEnd)
        {
            var (line, day, mask) = (reader.Int32(), reader.Int32(), reader.UInt64());
            if (!part.Holds(line))
            {
                reader.Skip(BitOperations.PopCount(mask & coded));
                for (var texts = BitOperations.PopCount(mask & open); texts > 0; texts--)
                {
                    reader.Skip(reader.Count());
                }

                reader.Skip(sizeof(double) * BitOperations.PopCount(mask & number) + sizeof(long) * BitOperations.PopCount(mask & whole));
                for (var aside = reader.Count(); aside > 0; aside--)
                {
                    Ingest.SetAside.Read(reader);
                }

                continue;
            }

            var row = Rows++;
            (sources[row], lines[row], days[row]) = (sourceText, line, day);
            Given |= mask;
            var codes = reader.Span<byte>(BitOperations.PopCount(mask & coded));
            for (var (m, i) = (mask & coded, 0); m != 0; m &= m - 1)
            {
                texts[BitOperations.TrailingZeroCount(m)][row] = codes[i++];
            }

            for (var m = mask & open; m != 0; m &= m - 1)
            {
                // Readings of a visit stand together: the text is often that of the row before.
                var column = BitOperations.TrailingZeroCount(m);
                var text = reader.Utf8();
                texts[column][row] = last[column] = table.Is(last[column], text) ? last[column] : table.Add(text);
            }

            var doubles = reader.Span<double>(BitOperations.PopCount(mask & number));
            for (var (m, i) = (mask & number, 0); m != 0; m &= m - 1)
            {
                numbers[BitOperations.TrailingZeroCount(m)][row] = doubles[i++];
            }

            var longs = reader.Span<long>(BitOperations.PopCount(mask & whole));
            for (var (m, i) = (mask & whole, 0); m != 0; m &= m - 1)
            {
                wholes[BitOperations.TrailingZeroCount(m)][row] = longs[i++];
            }

            for (var aside = reader.Count(); aside > 0; aside--)
            {
                SetAside.Add((row, Ingest.SetAside.Read(reader)));
            }
        }
    }

    private static ulong Bits(int[] columns) => columns.Aggregate(0UL, (mask, i) => mask | 1UL << i);

    /// <summary>Row numbers in reading order; call <see cref="Sort"/> first.</summary>
    public ReadOnlySpan<int> Order => order;

    public void Sort()
    {
        var (visit, number) = (texts[VisitId], wholes[ReadingNo]);
        order = SortedOrder.Of(wholes[VisitedAt].AsSpan(0, Rows), (a, b) =>
            string.CompareOrdinal(table.Texts[visit[a]], table.Texts[visit[b]]) is var v and not 0 ? v : number[a].CompareTo(number[b]));
    }

    public double Number(int column, int row) => numbers[column][row];

    public string? Text(int column, int row) => List(column)[texts[column][row]];

    /// <summary>Place of a text in <see cref="List"/>: equal texts have equal places, 0 is no text.</summary>
    public int Place(int column, int row) => texts[column][row];

    /// <summary>The texts of a column by place.</summary>
    public string?[] List(int column) => Vocabularies[column] ?? table.Texts;

    /// <summary>Whole numbers, days as day numbers, instants as ticks; <see cref="ReadingRow.NoWhole"/> is missing.</summary>
    public long Whole(int column, int row) => wholes[column][row];

    /// <summary>A column of numbers by row.</summary>
    public ReadOnlySpan<double> Numbers(int column) => numbers[column].AsSpan(0, Rows);

    /// <summary>A column of whole numbers by row; see <see cref="Whole"/>.</summary>
    public ReadOnlySpan<long> Wholes(int column) => wholes[column].AsSpan(0, Rows);

    /// <summary>A column of texts by row; see <see cref="Place"/>.</summary>
    public ReadOnlySpan<int> Places(int column) => texts[column].AsSpan(0, Rows);

    public string Source(int row) => table.Texts[sources[row]]!;

    /// <summary>Gives a column of a batch the sources of rows in the order given.</summary>
    public void FillSource(Batch batch, string column, int[] rows) => batch.Later(column, () => Pick<int>(sources, rows), table.Texts);

    public int Line(int row) => lines[row];

    public int Day(int row) => days[row];

    /// <summary>Gives a column of a batch a value for each row, in the order given.</summary>
    public static void Fill<T>(Batch batch, string column, int[] rows, Func<int, T> value) => batch.Later(column, () => Array.ConvertAll(rows, r => value(r)));

    /// <summary>Copies a plain column into a column of a batch, for rows in the order given.</summary>
    public void Fill(Batch batch, string name, int column, int[] rows)
    {
        if ((Given >> column & 1) == 0)
        {
            return;
        }

        batch.Later(name, Nomenclature.Of(name).Kind switch
        {
            ColumnKind.Text => () => Pick<int>(texts[column], rows),
            ColumnKind.Number => () => Pick<double>(numbers[column], rows),
            ColumnKind.Whole => () => PickWhole(column, rows, static v => (int)v),
            ColumnKind.Day => () => PickWhole(column, rows, static v => DateOnly.FromDayNumber((int)v)),
            _ => () => PickWhole(column, rows, static v => new DateTime(v, DateTimeKind.Utc)),
        }, texts[column] is null ? null : List(column));
    }

    /// <summary>The values at some places.</summary>
    public static T[] Pick<T>(ReadOnlySpan<T> from, ReadOnlySpan<int> places)
    {
        var picked = new T[places.Length];
        for (var i = 0; i < places.Length; i++)
        {
            picked[i] = from[places[i]];
        }

        return picked;
    }

    private T?[] PickWhole<T>(int column, ReadOnlySpan<int> rows, Func<long, T> convert)
        where T : struct
    {
        var from = wholes[column];
        var picked = new T?[rows.Length];
        for (var i = 0; i < rows.Length; i++)
        {
            var value = from[rows[i]];
            picked[i] = value == ReadingRow.NoWhole ? null : convert(value);
        }

        return picked;
    }
}
