using Revisit.Records;

namespace Revisit.Ingest;

/// <summary>The rows of one month, column by column, in the order readings are kept: time, visit, reading.</summary>
internal sealed class MonthRows
{
    public static readonly int VisitId = ReadingRow.At("visit_id"), ReadingNo = ReadingRow.At("reading_no"), VisitedAt = ReadingRow.At("visited_at"),
        InstallId = ReadingRow.At("install_id"), CrewId = ReadingRow.At("crew_id"), VisitKind = ReadingRow.At("visit_kind"), Correction = ReadingRow.At("correction");

    private readonly object[] columns = [.. Enumerable.Range(0, ReadingRow.Width).Select(object (i) => ReadingRow.TermAt(i).Kind switch
    {
        ColumnKind.Number => new List<double>(),
        ColumnKind.Text => new List<string?>(),
        _ => new List<long>(),
    })];

    private readonly List<string> sources = [];
    private readonly List<int> lines = [];
    private readonly List<int> days = [];
    private int[] order = [];

    /// <summary>Set-aside values with the row they belong to.</summary>
    public List<(int Row, SetAside Value)> SetAside { get; } = [];

    public int Rows => lines.Count;

    public void Add(ReadingRow row, string source)
    {
        foreach (var value in row.SetAside)
        {
            SetAside.Add((Rows, value));
        }

        for (var i = 0; i < columns.Length; i++)
        {
            switch (columns[i])
            {
                case List<double> numbers:
                    numbers.Add(row.Numbers[i]);
                    break;
                case List<string?> texts:
                    texts.Add(row.Texts[i]);
                    break;
                case List<long> wholes:
                    wholes.Add(row.Wholes[i]);
                    break;
            }
        }

        sources.Add(source);
        lines.Add(row.Line);
        days.Add(row.VisitedOn);
    }

    /// <summary>Row numbers in reading order; call <see cref="Sort"/> first.</summary>
    public ReadOnlySpan<int> Order => order;

    public void Sort()
    {
        var (at, visit, number) = ((List<long>)columns[VisitedAt], (List<string?>)columns[VisitId], (List<long>)columns[ReadingNo]);
        order = [.. Enumerable.Range(0, Rows)];
        Array.Sort(order, (a, b) =>
            at[a].CompareTo(at[b]) is var t and not 0 ? t
            : string.CompareOrdinal(visit[a], visit[b]) is var v and not 0 ? v
            : number[a].CompareTo(number[b]));
    }

    public double Number(int column, int row) => ((List<double>)columns[column])[row];

    public string? Text(int column, int row) => ((List<string?>)columns[column])[row];

    /// <summary>Whole numbers, days as day numbers, instants as ticks; <see cref="ReadingRow.NoWhole"/> is missing.</summary>
    public long Whole(int column, int row) => ((List<long>)columns[column])[row];

    public string Source(int row) => sources[row];

    public int Line(int row) => lines[row];

    public int Day(int row) => days[row];

    /// <summary>Copies a plain column into a column of a batch, for rows in the order given.</summary>
    public void Fill(Array target, int column, ReadOnlySpan<int> rows)
    {
        switch (target)
        {
            case double[] numbers:
                var fromNumbers = (List<double>)columns[column];
                for (var i = 0; i < rows.Length; i++)
                {
                    numbers[i] = fromNumbers[rows[i]];
                }

                break;
            case string?[] texts:
                var fromTexts = (List<string?>)columns[column];
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
        var from = (List<long>)columns[column];
        for (var i = 0; i < rows.Length; i++)
        {
            var value = from[rows[i]];
            target[i] = value == ReadingRow.NoWhole ? null : convert(value);
        }
    }
}
