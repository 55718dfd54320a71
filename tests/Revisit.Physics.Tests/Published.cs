using System.Globalization;

namespace Revisit.Physics.Tests;

/// <summary>Reads a table of <c>Published/</c>: comment lines with the citation, a header, rows.</summary>
internal static class Published
{
    public static IEnumerable<Row> Rows(string file)
    {
        string[]? header = null;
        foreach (string line in File.ReadLines(Path.Combine(AppContext.BaseDirectory, "Published", file)))
        {
            if (line.Length == 0 || line[0] == '#') continue;
            string[] cells = line.Split(',');
            if (header is null) header = cells;
            else if (cells.Length == header.Length) yield return new Row(header, cells);
            else throw new InvalidDataException($"{file}: a row of {cells.Length} cells under {header.Length} headings: {line}");
        }
    }

    internal sealed record Row(string[] Header, string[] Cells)
    {
        public string this[string column] => Cells[Array.IndexOf(Header, column)];

        public double Number(string column) => this[column].Length == 0 ? double.NaN : double.Parse(this[column], NumberStyles.Float, CultureInfo.InvariantCulture);
    }
}
