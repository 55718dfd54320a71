namespace Revisit.Records;

/// <summary>
/// Rows of one table, column-wise. A number that is missing is NaN here and NULL in the table;
/// a missing whole number, day or instant is null; a missing text is null.
/// </summary>
public sealed class Batch
{
    private readonly Array[] columns;

    /// <summary>An empty batch with room for a number of rows.</summary>
    public Batch(TableContract table, int rows)
    {
        Table = table;
        Rows = rows;
        columns = [.. table.Terms.Select(Array (t) => t.Kind switch
        {
            ColumnKind.Text => new string?[rows],
            ColumnKind.Whole => new int?[rows],
            ColumnKind.Number => NaNs(rows),
            ColumnKind.Day => new DateOnly?[rows],
            _ => new DateTime?[rows],
        })];
    }

    public TableContract Table { get; }

    /// <summary>Number of rows.</summary>
    public int Rows { get; }

    public string?[] Text(string column) => (string?[])columns[Table.IndexOf(column)];

    public int?[] Whole(string column) => (int?[])columns[Table.IndexOf(column)];

    /// <summary>Numbers; NaN is missing.</summary>
    public double[] Number(string column) => (double[])columns[Table.IndexOf(column)];

    public DateOnly?[] Day(string column) => (DateOnly?[])columns[Table.IndexOf(column)];

    /// <summary>Instants, UTC.</summary>
    public DateTime?[] Instant(string column) => (DateTime?[])columns[Table.IndexOf(column)];

    /// <summary>The column at a position, typed by its term's kind.</summary>
    public Array At(int index) => columns[index];

    private static double[] NaNs(int rows)
    {
        var values = new double[rows];
        Array.Fill(values, double.NaN);
        return values;
    }
}
