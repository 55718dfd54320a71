using System.Globalization;
using System.Text;

namespace Revisit.Simulator.Exports;

/// <summary>Writes an export of a branch and its key, sheet after sheet; only the sheet at hand is held.</summary>
internal sealed class ExportWriter : IDisposable
{
    private const int SheetRows = 2_000;
    private static readonly UTF8Encoding Utf8 = new(false);

    private readonly ExportShape shape;
    private readonly StreamWriter text, key;
    private readonly List<SimulatedReading> waiting = [];
    private int line = 1;

    public ExportWriter(ExportShape shape, Stream text, Stream key)
    {
        this.shape = shape;
        this.text = new StreamWriter(text, shape.Encoding, 1 << 16);
        this.key = new StreamWriter(key, Utf8, 1 << 12);
        this.key.Write("line,column,kind,source_column\n");
        foreach (var head in shape.Head)
            Add(head);
    }

    /// <summary>Adds a reading; dirt falls on a share of the rows, every kind of the shape alike.</summary>
    public void Add(SimulatedReading reading, Rng rng, double dirtShare)
    {
        waiting.Add(reading);
        if (waiting.Count == SheetRows)
            Soil(rng, dirtShare);
    }

    /// <summary>Writes what waits, with dirt on a share of the rows.</summary>
    public void Soil(Rng rng, double dirtShare)
    {
        var sheet = new ExportSheet(shape.Columns, waiting);
        waiting.Clear();
        for (var row = 0; row < sheet.Rows.Count; row++)
        {
            if (rng.Chance(dirtShare))
                shape.Soils[rng.Below(shape.Soils.Length)].Put(sheet, row);
        }

        Write(sheet);
    }

    /// <summary>Writes a sheet and keys its dirt by line.</summary>
    public void Write(ExportSheet sheet)
    {
        var dirt = sheet.Dirt.ToLookup(d => d.Row, ReferenceEqualityComparer.Instance);
        foreach (var row in sheet.Rows)
        {
            foreach (var d in dirt[row])
                Key(d.Plain, d.Kind, d.Plain.Length == 0 ? "" : shape.Columns.First(c => c.Plain == d.Plain).Heading);
            Add(shape.Render(row));
        }
    }

    /// <summary>Writes the lines below the data and closes both files.</summary>
    public void Dispose()
    {
        foreach (var foot in shape.Foot)
        {
            Key("", "not_a_data_row", "");
            Add(foot);
        }

        text.Dispose();
        key.Dispose();
    }

    private void Key(string plain, string kind, string heading) =>
        key.Write(string.Create(CultureInfo.InvariantCulture, $"{line},{plain},{kind},{PlainCsv.Quoted(heading)}\n"));

    private void Add(string written)
    {
        text.Write(written);
        text.Write(shape.NewLine);
        line += 1 + written.Count(c => c == '\n');
    }
}
