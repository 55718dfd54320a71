using System.Globalization;
using System.Text;
using Revisit.Records;

namespace Revisit.Simulator.Exports;

/// <summary>The plain reading row: the contract's own names and units, UTC, commas, UTF-8.</summary>
internal static class Plain
{
    public static ExportShape Shape()
    {
        static string Z(DateTime utc) => utc.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);
        ExportColumn[] columns = [.. Tables.PlainColumns.Select(c => new ExportColumn(c, c, PlainCsv.CellOf(c)))];
        string Line(IEnumerable<string> cells) => string.Join(',', cells.Select(c => PlainCsv.Quoted(c)));
        return new ExportShape(
            "plain.csv", new UTF8Encoding(false), "\n", columns, [Line(columns.Select(c => c.Heading))], row => Line(row.Cut ? row.Cells.Take(30) : row.Cells), [], [])
        {
            Delimiter = ',',
            BadTimes = ["2026-02-31T09:15:00Z", "7/14/2026 9:15 AM", "yesterday", "1926-07-14T09:15:00Z", "2026-07-14", "2026-07-14T25:15:00Z", "1784020500"],
            BadDays = ["2026-13-45", "7/14/2026", "spring", "2025-02-29", "0000-00-00"],
            Saved = utc => [("saved_at", Z(utc))],
        };
    }
}
