using Revisit.Records;

namespace Revisit.Report.Files;

/// <summary>A list to be written as a file of its own and as a sheet of the workbook.</summary>
/// <param name="File">Name of its CSV file.</param>
/// <param name="Title">Name of its sheet.</param>
/// <param name="Columns">Columns of the table that are shown, in order.</param>
/// <param name="Rows">The rows.</param>
internal sealed record Sheet(string File, string Title, IReadOnlyList<string> Columns, Batch Rows)
{
    /// <summary>A cell: a number, a whole number, a day, a text, or null where missing.</summary>
    public object? Cell(string column, int row) => Rows.Table.Terms[Rows.Table.IndexOf(column)].Kind switch
    {
        ColumnKind.Number => Rows.Number(column)[row] is var number && double.IsFinite(number) ? Math.Round(number, 4) : null,
        ColumnKind.Whole => Rows.Whole(column)[row],
        ColumnKind.Day => Rows.Day(column)[row],
        _ => Rows.Text(column)[row],
    };
}
