namespace Revisit.Ingest;

/// <summary>The rows of one month, column by column, in the order readings are kept: time, visit, reading.</summary>
internal sealed class MonthRows
{
    public static readonly int VisitId = ReadingRow.At("visit_id"), ReadingNo = ReadingRow.At("reading_no"), VisitedAt = ReadingRow.At("visited_at"),
        InstallId = ReadingRow.At("install_id"), CrewId = ReadingRow.At("crew_id"), VisitKind = ReadingRow.At("visit_kind"), Correction = ReadingRow.At("correction");

    private readonly Array[] columns;
    private readonly string[] sources;
    private readonly int[] lines, days;
    private int[] order = [];

    /// <summary>Room for a number of rows, every value missing.</summary>
    public MonthRows(int capacity)
    {
        columns = [.. Enumerable.Range(0, ReadingRow.Width).Select(i => ReadingRow.MissingColumn(ReadingRow.TermAt(i).Kind, capacity))];
        (sources, lines, days) = (new string[capacity], new int[capacity], new int[capacity]);
    }

    /// <summary>Set-aside values with the row they belong to.</summary>
    public List<(int Row, SetAside Value)> SetAside { get; } = [];

    public int Rows { get; private set; }

    /// <summary>Takes in the landed rows of a source but those on lost lines.</summary>
    public void Add(ByteReader reader, string source, HashSet<int>? lost)
    {
        var skipped = new ReadingRow();
        while (!reader.AtEnd)
        {
            var line = reader.Int32();
            if (lost is not null && lost.Contains(line))
            {
                skipped.ReadValues(reader);
                continue;
            }

            var row = Rows++;
            (sources[row], lines[row], days[row]) = (source, line, reader.Int32());
            for (var mask = reader.UInt64(); mask != 0; mask &= mask - 1)
            {
                switch (columns[System.Numerics.BitOperations.TrailingZeroCount(mask)])
                {
                    case double[] numbers:
                        numbers[row] = reader.Double();
                        break;
                    case string?[] texts:
                        texts[row] = reader.Text();
                        break;
                    case long[] wholes:
                        wholes[row] = reader.Int64();
                        break;
                }
            }

            for (var aside = reader.Count(); aside > 0; aside--)
            {
                SetAside.Add((row, Ingest.SetAside.Read(reader)));
            }
        }
    }

    /// <summary>Row numbers in reading order; call <see cref="Sort"/> first.</summary>
    public ReadOnlySpan<int> Order => order;

    public void Sort()
    {
        var (at, visit, number) = ((long[])columns[VisitedAt], (string?[])columns[VisitId], (long[])columns[ReadingNo]);
        order = [.. Enumerable.Range(0, Rows)];
        var keys = at.AsSpan(0, Rows).ToArray();
        Array.Sort(keys, order);
        Comparer<int>? ties = null;
        for (var start = 0; start < Rows;)
        {
            var end = start + 1;
            while (end < Rows && keys[end] == keys[start])
            {
                end++;
            }

            // Rows of one moment, by visit and reading.
            Array.Sort(order, start, end - start, ties ??= Comparer<int>.Create((a, b) =>
                string.CompareOrdinal(visit[a], visit[b]) is var v and not 0 ? v : number[a].CompareTo(number[b])));
            start = end;
        }
    }

    public double Number(int column, int row) => ((double[])columns[column])[row];

    public string? Text(int column, int row) => ((string?[])columns[column])[row];

    /// <summary>Whole numbers, days as day numbers, instants as ticks; <see cref="ReadingRow.NoWhole"/> is missing.</summary>
    public long Whole(int column, int row) => ((long[])columns[column])[row];

    public string Source(int row) => sources[row];

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
    public void Fill(Array target, int column, ReadOnlySpan<int> rows)
    {
        switch (target)
        {
            case double[] numbers:
                var fromNumbers = (double[])columns[column];
                for (var i = 0; i < rows.Length; i++)
                {
                    numbers[i] = fromNumbers[rows[i]];
                }

                break;
            case string?[] texts:
                var fromTexts = (string?[])columns[column];
                for (var i = 0; i < rows.Length; i++)
                {
                    texts[i] = fromTexts[rows[i]];
                }

                break;
            case int?[] wholes:
                FillWhole(wholes, column, rows, static v => (int)v);
                break;
            case DateOnly?[] dates:
                FillWhole(dates, column, rows, static v => DateOnly.FromDayNumber((int)v));
                break;
            case DateTime?[] instants:
                FillWhole(instants, column, rows, static v => new DateTime(v, DateTimeKind.Utc));
                break;
        }
    }

    private void FillWhole<T>(T?[] target, int column, ReadOnlySpan<int> rows, Func<long, T> convert)
        where T : struct
    {
        var from = (long[])columns[column];
        for (var i = 0; i < rows.Length; i++)
        {
            var value = from[rows[i]];
            target[i] = value == ReadingRow.NoWhole ? null : convert(value);
        }
    }
}
