namespace Revisit.Records;

/// <summary>
/// Rows of one table, column-wise. A number that is missing is NaN here and NULL in the table;
/// a missing whole number, day or instant is null; a missing text is null.
/// </summary>
public sealed class Batch
{
    private readonly Array?[] columns;
    private readonly Func<Array>?[] makers;
    private readonly string?[]?[] texts;

    /// <summary>An empty batch with room for a number of rows.</summary>
    public Batch(TableContract table, int rows)
    {
        Table = table;
        Rows = rows;
        columns = new Array?[table.Columns.Count];
        makers = new Func<Array>?[table.Columns.Count];
        texts = new string?[]?[table.Columns.Count];
    }

    public TableContract Table { get; }

    /// <summary>Number of rows.</summary>
    public int Rows { get; }

    public string?[] Text(string column) => (string?[])At(Table.IndexOf(column));

    public int?[] Whole(string column) => (int?[])At(Table.IndexOf(column));

    /// <summary>Numbers; NaN is missing.</summary>
    public double[] Number(string column) => (double[])At(Table.IndexOf(column));

    public DateOnly?[] Day(string column) => (DateOnly?[])At(Table.IndexOf(column));

    /// <summary>Instants, UTC.</summary>
    public DateTime?[] Instant(string column) => (DateTime?[])At(Table.IndexOf(column));

    /// <summary>
    /// Makes a text column one of places in a list of texts, for columns that repeat few texts over many rows: an int a row
    /// instead of a reference. <see cref="At"/> then gives the places.
    /// </summary>
    /// <param name="column">A text column that has not been touched yet.</param>
    /// <param name="list">The texts; null is missing.</param>
    /// <returns>The place of each row, to be filled.</returns>
    public int[] Places(string column, string?[] list)
    {
        var index = Table.IndexOf(column);
        var places = new int[Rows];
        (columns[index], texts[index]) = (places, list);
        return places;
    }

    /// <summary>Has a column made each time it is asked for, and never held: a wide table then takes the memory of one column.</summary>
    /// <param name="column">A column that has not been touched yet.</param>
    /// <param name="make">Gives the values, typed by the column's kind; with <paramref name="list"/>, their places in it.</param>
    /// <param name="list">The texts of a text column; null is missing.</param>
    public void Later(string column, Func<Array> make, string?[]? list = null)
    {
        var index = Table.IndexOf(column);
        (makers[index], texts[index]) = (make, list);
    }

    /// <summary>The list of a column of places, otherwise null.</summary>
    public string?[]? ListOf(int index) => texts[index];

    /// <summary>Whether a column has never been touched, so that all its values are missing.</summary>
    public bool IsMissing(int index) => columns[index] is null && makers[index] is null;

    /// <summary>The column at a position, typed by its term's kind.</summary>
    public Array At(int index) => makers[index]?.Invoke() ?? (columns[index] ??= Table.Terms[index].Kind switch
    {
        ColumnKind.Text => new string?[Rows],
        ColumnKind.Whole => new int?[Rows],
        ColumnKind.Number => NaNs(Rows),
        ColumnKind.Day => new DateOnly?[Rows],
        _ => new DateTime?[Rows],
    });

    private static double[] NaNs(int rows)
    {
        var values = new double[rows];
        Array.Fill(values, double.NaN);
        return values;
    }
}
