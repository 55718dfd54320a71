namespace Revisit.Simulator.Exports;

/// <summary>A column of a branch export.</summary>
/// <param name="Heading">What the branch calls it; for JSON the path, parts joined by a dot.</param>
/// <param name="Plain">The plain column it carries, or "private" or "ignored".</param>
/// <param name="Of">The cell of a reading as the branch writes it; empty is missing.</param>
internal sealed record ExportColumn(string Heading, string Plain, Func<SimulatedReading, string> Of);

/// <summary>A row of a branch export; cut after a number of cells when its tail was lost.</summary>
internal sealed record ExportRow(SimulatedReading Reading, string[] Cells)
{
    public bool Cut { get; set; }

    /// <summary>What becomes of the row's text on its way into the file.</summary>
    public Func<string, string>? Spoilt { get; set; }
}

/// <summary>What is wrong with a row, and in which column; row-wide when the column is empty.</summary>
/// <param name="Row">The row.</param>
/// <param name="Plain">Plain column, or empty.</param>
/// <param name="Kind">Kind, one of <see cref="DirtKinds"/>.</param>
/// <param name="Reasons">Reasons that are right for ingest to give, joined by |; null when the kind says it.</param>
internal sealed record Dirt(ExportRow Row, string Plain, string Kind, string? Reasons = null);

/// <summary>Rows of a branch export, all or a stretch of them, and the dirt put into them on purpose.</summary>
internal sealed class ExportSheet
{
    /// <summary>The second part of a row that stands on two lines by mistake, keyed on the second.</summary>
    public const string RestOfRow = "rest_of_row";

    private readonly ExportColumn[] columns;
    private readonly HashSet<SimulatedReading> dirty = [];

    public ExportSheet(ExportColumn[] columns, IEnumerable<SimulatedReading> readings)
    {
        this.columns = columns;
        Rows = [.. readings.Select(r => new ExportRow(r, [.. columns.Select(c => c.Of(r))]))];
    }

    public IReadOnlyList<ExportColumn> Columns => columns;

    public List<ExportRow> Rows { get; }

    public List<Dirt> Dirt { get; } = [];

    /// <summary>Exchanges two cells of the next sound row from a position on.</summary>
    public void Swap(int from, string plain, string other, string kind)
    {
        if (Next(from, plain, other) is not { } row)
            return;
        (row.Cells[At(plain)], row.Cells[At(other)]) = (row.Cells[At(other)], row.Cells[At(plain)]);
        Dirt.Add(new(row, plain, kind));
        Dirt.Add(new(row, other, kind));
    }

    /// <summary>Writes something else into a cell of the next sound row from a position on.</summary>
    public void Replace(int from, string plain, string kind, Func<SimulatedReading, string> with, string? reasons = null)
    {
        if (Next(from, plain) is not { } row)
            return;
        row.Cells[At(plain)] = with(row.Reading);
        Dirt.Add(new(row, plain, kind, reasons));
    }

    /// <summary>Loses the tail of the next sound row from a position on.</summary>
    public void Cut(int from, string kind)
    {
        if (Next(from) is not { } row)
            return;
        row.Cut = true;
        Dirt.Add(new(row, "", kind));
    }

    /// <summary>Does something to the text of the next sound row from a position on.</summary>
    public void Spoil(int from, string kind, Func<string, string> with, bool fallsApart = false)
    {
        if (Next(from) is not { } row)
            return;
        row.Spoilt = with;
        Dirt.Add(new(row, "", kind));
        if (fallsApart)
            Dirt.Add(new(row, "", RestOfRow));
    }

    /// <summary>Puts a line that is no reading in front of a row.</summary>
    public void Insert(int at, string kind, string text)
    {
        var row = new ExportRow(Rows[at].Reading, [.. Rows[at].Cells]) { Spoilt = _ => text };
        Rows.Insert(at, row);
        Dirt.Add(new(row, "", kind));
    }

    /// <summary>Repeats the next sound row some rows later, byte for byte.</summary>
    public void Duplicate(int from, int later = 4)
    {
        if (Next(from) is not { } row)
            return;
        var copy = row with { Cells = [.. row.Cells] };
        Rows.Insert(Math.Min(Rows.Count, Rows.IndexOf(row) + later), copy);
        Dirt.Add(new(copy, "", "exact_duplicate"));
    }

    /// <summary>Saves the next sound row again a few rows later, with one cell put right.</summary>
    public void SaveAgain(int from, string plain, Func<ExportRow, string> with, Func<SimulatedReading, (string Plain, string Cell)[]> saved)
    {
        if (Next(from, plain) is not { } row)
            return;
        var later = row with { Cells = [.. row.Cells] };
        later.Cells[At(plain)] = with(row);
        foreach (var (column, cell) in saved(row.Reading))
            later.Cells[Array.FindIndex(columns, c => c.Heading == column)] = cell;
        Rows.Insert(Math.Min(Rows.Count, Rows.IndexOf(row) + 3), later);
        Dirt.Add(new(row, "", "superseded"));
        Dirt.Add(new(later, "", "later_save"));
    }

    /// <summary>The next sound row from a position on whose named cells are filled; it is sound no more.</summary>
    public ExportRow? Next(int from, params string[] plain) => Next(from, row => plain.All(p => row.Cells[At(p)].Length > 0));

    /// <summary>The next sound row from a position on that fits; it is sound no more.</summary>
    public ExportRow? Next(int from, Func<ExportRow, bool> fits)
    {
        for (var i = from; i < Rows.Count; i++)
        {
            if (!dirty.Contains(Rows[i].Reading) && fits(Rows[i]))
            {
                dirty.Add(Rows[i].Reading);
                return Rows[i];
            }
        }

        return null;
    }

    public int At(string plain) => Array.FindIndex(columns, c => c.Plain == plain);
}
