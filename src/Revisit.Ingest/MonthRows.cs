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
        var capacity = most + 1; // the last one for a row that does not belong
        // Rented: the columns of a month are large, and the next month needs the same.
        (sources, lines, days) = (Rent(0, capacity), Rent(0, capacity), Rent(0, capacity));
        foreach (var i in (int[])[.. ReadingRow.TextColumns, .. ReadingRow.CodedColumns])
        {
            texts[i] = Rent(0, capacity);
        }

        foreach (var i in ReadingRow.NumberColumns)
        {
            numbers[i] = Rent(double.NaN, capacity);
        }

        foreach (var i in ReadingRow.WholeColumns)
        {
            wholes[i] = Rent(ReadingRow.NoWhole, capacity);
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
        var stands = true;
        for (; !reader.AtEnd; Rows += stands ? 1 : 0)
        {
            // The values of a row that does not belong are read into the place of the next one that does, and cleared.
            var row = Rows;
            (sources[row], lines[row], days[row]) = (sourceText, reader.Int32(), reader.Int32());
            stands = part.Holds(lines[row]);
            var mask = reader.UInt64();
            for (var m = mask & coded; m != 0; m &= m - 1)
            {
                texts[BitOperations.TrailingZeroCount(m)][row] = reader.Byte();
            }

            for (var m = mask & open; m != 0; m &= m - 1)
            {
                // Readings of a visit stand together: the text is often that of the row before.
                var column = BitOperations.TrailingZeroCount(m);
                var text = reader.Utf8();
                texts[column][row] = last[column] = table.Is(last[column], text) ? last[column] : table.Add(text);
            }

            for (var m = mask & number; m != 0; m &= m - 1)
            {
                numbers[BitOperations.TrailingZeroCount(m)][row] = reader.Double();
            }

            for (var m = mask & whole; m != 0; m &= m - 1)
            {
                wholes[BitOperations.TrailingZeroCount(m)][row] = reader.Int64();
            }

            for (var aside = reader.Count(); aside > 0; aside--)
            {
                var value = Ingest.SetAside.Read(reader);
                if (stands)
                {
                    SetAside.Add((row, value));
                }
            }

            if (stands)
            {
                Given |= mask;
            }
            else
            {
                Clear(row);
            }
        }
    }

    private void Clear(int row)
    {
        foreach (var column in texts)
        {
            column?[row] = 0;
        }

        foreach (var column in numbers)
        {
            column?[row] = double.NaN;
        }

        foreach (var column in wholes)
        {
            column?[row] = ReadingRow.NoWhole;
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

    /// <summary>Fills a column of a batch with the sources of rows in the order given.</summary>
    public void FillSource(Batch batch, string column, ReadOnlySpan<int> rows) => Pick<int>(sources, batch.Places(column, table.Texts), rows);

    public int Line(int row) => lines[row];

    public int Day(int row) => days[row];

    /// <summary>Fills a column of a batch with a value for each row, in the order given.</summary>
    public static void Fill<T>(T[] target, int[] order, Func<int, T> value)
    {
        for (var i = 0; i < order.Length; i++)
        {
            target[i] = value(order[i]);
        }
    }

    /// <summary>Copies a plain column into a column of a batch, for rows in the order given.</summary>
    public void Fill(Batch batch, string name, int column, ReadOnlySpan<int> rows)
    {
        if ((Given >> column & 1) == 0)
        {
            return;
        }

        if (texts[column] is { } places)
        {
            Pick<int>(places, batch.Places(name, List(column)), rows);
            return;
        }

        switch (batch.At(batch.Table.IndexOf(name)))
        {
            case double[] target:
                Pick<double>(numbers[column], target, rows);
                break;
            case int?[] target:
                FillWhole(target, column, rows, static v => (int)v);
                break;
            case DateOnly?[] target:
                FillWhole(target, column, rows, static v => DateOnly.FromDayNumber((int)v));
                break;
            case DateTime?[] target:
                FillWhole(target, column, rows, static v => new DateTime(v, DateTimeKind.Utc));
                break;
        }
    }

    /// <summary>The values at some places.</summary>
    public static T[] Pick<T>(ReadOnlySpan<T> from, ReadOnlySpan<int> places)
    {
        var picked = new T[places.Length];
        Pick(from, picked, places);
        return picked;
    }

    public static void Pick<T>(ReadOnlySpan<T> from, T[] target, ReadOnlySpan<int> rows)
    {
        for (var i = 0; i < rows.Length; i++)
        {
            target[i] = from[rows[i]];
        }
    }

    private void FillWhole<T>(T?[] target, int column, ReadOnlySpan<int> rows, Func<long, T> convert)
        where T : struct
    {
        var from = wholes[column];
        for (var i = 0; i < rows.Length; i++)
        {
            var value = from[rows[i]];
            target[i] = value == ReadingRow.NoWhole ? null : convert(value);
        }
    }
}
