using System.Globalization;
using System.IO.Compression;
using SpreadCheetah;
using SpreadCheetah.Worksheets;

namespace Revisit.Report.Files;

/// <summary>
/// Lists as sheets of one XLSX workbook (ECMA-376). Texts are cells of type text, so that none is calculated, whatever it starts with; days
/// are written as text, year first. The zip bears no time, so that the same lists give the same bytes.
/// </summary>
internal static class Workbook
{
    private static readonly DateTimeOffset NoTime = new(1980, 1, 1, 0, 0, 0, TimeSpan.Zero);

    public static byte[] Of(IReadOnlyList<Sheet> sheets)
    {
        using var stream = new MemoryStream();
        Write(stream, sheets).GetAwaiter().GetResult();
        return WithoutTimes(stream.ToArray());
    }

    private static async Task Write(Stream stream, IReadOnlyList<Sheet> sheets)
    {
        var options = new SpreadCheetahOptions { DocumentProperties = null };
        await using var book = await Spreadsheet.CreateNewAsync(stream, options).ConfigureAwait(false);
        foreach (var sheet in sheets)
        {
            var look = new WorksheetOptions { FrozenRows = 1 };
            for (var c = 0; c < sheet.Columns.Count; c++)
            {
                look.Column(c + 1).Width = Math.Clamp(sheet.Columns[c].Length + 2, 12, 24);
            }

            await book.StartWorksheetAsync(sheet.Title, look).ConfigureAwait(false);
            await book.AddRowAsync(sheet.Columns.Select(c => new DataCell(c)).ToList()).ConfigureAwait(false);
            for (var r = 0; r < sheet.Rows.Rows; r++)
            {
                await book.AddRowAsync(sheet.Columns.Select(c => CellOf(sheet.Cell(c, r))).ToList()).ConfigureAwait(false);
            }
        }

        await book.FinishAsync().ConfigureAwait(false);
    }

    private static DataCell CellOf(object? value) => value switch
    {
        null => default,
        double number => new(number),
        int whole => new(whole),
        DateOnly day => new(day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)),
        var text => new((string)text),
    };

    private static byte[] WithoutTimes(byte[] zip)
    {
        using var result = new MemoryStream();
        using (var from = new ZipArchive(new MemoryStream(zip), ZipArchiveMode.Read))
        using (var to = new ZipArchive(result, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var part in from.Entries)
            {
                var entry = to.CreateEntry(part.FullName, CompressionLevel.Optimal);
                entry.LastWriteTime = NoTime;
                using var source = part.Open();
                using var target = entry.Open();
                source.CopyTo(target);
            }
        }

        return result.ToArray();
    }
}
