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
    private int line = 1, tooLong;

    public ExportWriter(ExportShape shape, Stream text, Stream key)
    {
        this.shape = shape;
        this.text = new StreamWriter(text, shape.Encoding, 1 << 16);
        this.key = new StreamWriter(key, Utf8, 1 << 12);
        this.key.Write("line,column,kind,source_column,raw_value,reads_as,answer,reasons\n");
        foreach (var head in shape.Head)
            Add(head);
    }

    /// <summary>Adds a reading; dirt falls on rows as the settings say.</summary>
    public void Add(SimulatedReading reading, Rng rng, SimulatorSettings settings)
    {
        waiting.Add(reading);
        if (waiting.Count == SheetRows)
            Soil(rng, settings);
    }

    /// <summary>Writes what waits, with dirt on rows as the settings say.</summary>
    public void Soil(Rng rng, SimulatorSettings settings)
    {
        var sheet = new ExportSheet(shape.Columns, waiting);
        waiting.Clear();
        var kinds = DirtKinds.Of(shape);
        double[] shares = [.. kinds.Select(k => settings.Dirt is { } dirt ? dirt.GetValueOrDefault(k) : settings.DirtShare / kinds.Count)];
        var all = shares.Sum();
        for (var row = 0; row < sheet.Rows.Count; row++)
        {
            if (!rng.Chance(all))
                continue;
            var kind = kinds[rng.Weighted(shares)];
            if (kind != "too_long" || ++tooLong <= DirtKinds.MostTooLong)
                DirtKinds.Put(kind, shape, sheet, row, rng);
        }

        Write(sheet);
    }

    /// <summary>Writes a sheet and keys its dirt by line.</summary>
    public void Write(ExportSheet sheet)
    {
        var dirt = sheet.Dirt.ToLookup(d => d.Row, ReferenceEqualityComparer.Instance);
        foreach (var row in sheet.Rows)
        {
            var written = shape.Render(row);
            written = row.Spoilt?.Invoke(written) ?? written;
            foreach (var d in dirt[row].Concat(Beyond(row, dirt[row])))
            {
                Key(line + (d.Kind == ExportSheet.RestOfRow ? 1 : 0), DirtAnswer.Keyed(shape, d));

                // A row whose quotes are broken, or that is given up for its length, falls apart into its lines.
                for (var rest = 1; d.Kind is "broken_quotes" or "too_long" && rest <= written.Count(c => c == '\n'); rest++)
                    Key(line + rest, DirtAnswer.Keyed(shape, new(row, "", ExportSheet.RestOfRow)));
            }

            Add(written);
        }
    }

    /// <summary>Writes the lines below the data and closes both files.</summary>
    public void Dispose()
    {
        foreach (var foot in shape.Foot)
        {
            var row = new ExportRow(null!, []);
            Key(line, DirtAnswer.Keyed(shape, new(row, "", "not_a_data_row")));
            Add(foot);
        }

        text.Dispose();
        key.Dispose();
    }

    /// <summary>What the simulator itself makes and the contract's ranges do not allow, such as supply air under a coil that should have iced.</summary>
    private IEnumerable<Dirt> Beyond(ExportRow row, IEnumerable<Dirt> known)
    {
        foreach (var column in known.Any(d => d.Plain.Length == 0) ? [] : shape.Columns)
        {
            if (DirtAnswer.Value(shape, row, column.Plain) is var value && !double.IsNaN(value) && !Records.Nomenclature.Of(column.Plain).Allows(value) && known.All(d => d.Plain != column.Plain))
                yield return new(row, column.Plain, "out_of_range");
        }
    }

    private void Key(int at, string keyed) => key.Write(string.Create(CultureInfo.InvariantCulture, $"{at},{keyed}\n"));

    private void Add(string written)
    {
        line += 1 + written.Count(c => c == '\n');
        var pieces = written.Replace(DirtKinds.RawQuote, '"').Split(DirtKinds.BadBytes);
        for (var i = 0; i < pieces.Length; i++)
        {
            if (i > 0)
            {
                text.Flush();
                text.BaseStream.Write(NoText);
            }

            text.Write(pieces[i]);
        }

        text.Write(shape.NewLine);
    }

    /// <summary>Bytes that no text in the shape's encoding holds: half a surrogate pair, a byte of no sequence, a byte without a character.</summary>
    private byte[] NoText => shape.Encoding.CodePage switch { 1200 => [0x00, 0xD8], 1252 => [0x81], _ => [0xFF] };
}
