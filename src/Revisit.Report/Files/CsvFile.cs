using System.Globalization;
using System.Text;
using Revisit.Records;

namespace Revisit.Report.Files;

/// <summary>A list as CSV (RFC 4180), UTF-8, line feeds, numbers with a point; a text never turns into a formula.</summary>
internal static class CsvFile
{
    public static byte[] Of(Sheet sheet)
    {
        var text = new StringBuilder().AppendJoin(',', sheet.Columns).Append('\n');
        for (var r = 0; r < sheet.Rows.Rows; r++)
        {
            text.AppendJoin(',', sheet.Columns.Select(c => sheet.Cell(c, r) switch
            {
                null => "",
                double number => number.ToString("R", CultureInfo.InvariantCulture),
                int whole => whole.ToString(CultureInfo.InvariantCulture),
                DateOnly day => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
                var other => CsvCell.Of((string)other, mayBeNumber: false),
            })).Append('\n');
        }

        return Encoding.UTF8.GetBytes(text.ToString());
    }
}
