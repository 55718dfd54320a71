using Revisit.Records;

namespace Revisit.Ingest;

/// <summary>A value that was set aside, with why.</summary>
internal readonly record struct SetAside(int Column, string RawValue, string Reason, string Detail, string? Suggestion)
{
    public void Write(ByteWriter writer)
    {
        writer.Byte((byte)Column);
        writer.Text(RawValue);
        writer.Text(Reason);
        writer.Text(Detail);
        writer.Text(Suggestion ?? "");
    }

    public static SetAside Read(ByteReader reader) =>
        new(reader.Byte(), reader.Text(), reader.Text(), reader.Text(), reader.Text() is { Length: > 0 } suggestion ? suggestion : null);
}

/// <summary>
/// One plain reading row being normalised: numbers in the units of the contract (NaN missing), texts, days and instants by
/// position in <see cref="Tables.PlainColumns"/>. Reused from row to row.
/// </summary>
internal sealed class ReadingRow
{
    public static readonly int Width = Tables.PlainColumns.Count;
    private static readonly Term[] Terms = [.. Tables.PlainColumns.Select(Nomenclature.Of)];
    private static readonly ColumnKind[] Kinds = [.. Terms.Select(t => t.Kind)];

    /// <summary>Columns by how they are kept: texts of a closed vocabulary as their number in it, other texts, numbers, and the rest as whole numbers.</summary>
    public static readonly int[] CodedColumns = Those(t => IsCoded(t)), TextColumns = Those(t => t.Kind == ColumnKind.Text && !IsCoded(t)),
        NumberColumns = Those(t => t.Kind == ColumnKind.Number), WholeColumns = Those(t => t.Kind is not (ColumnKind.Text or ColumnKind.Number));

    public readonly double[] Numbers = new double[Width];

    /// <summary>Texts; of a column in <see cref="CodedColumns"/> the number stands in <see cref="Codes"/> beside it.</summary>
    public readonly string?[] Texts = new string?[Width];

    /// <summary>By coded column: 1 and up, the place in the vocabulary; it counts only where there is a text.</summary>
    public readonly byte[] Codes = new byte[Width];

    /// <summary>Days as day numbers, instants as UTC ticks, whole numbers as themselves; <see cref="NoWhole"/> is missing.</summary>
    public readonly long[] Wholes = new long[Width];

    public readonly List<SetAside> SetAside = [];
    public const long NoWhole = long.MinValue;

    /// <summary>Day of the reading at the site, as a day number.</summary>
    public int VisitedOn;

    /// <summary>First physical line in the source.</summary>
    public int Line;

    public static int At(string column)
    {
        for (var i = 0; i < Width; i++)
        {
            if (Tables.PlainColumns[i] == column)
            {
                return i;
            }
        }

        throw new KeyNotFoundException(column);
    }

    public static Term TermAt(int column) => Terms[column];

    public void Clear()
    {
        Array.Fill(Numbers, double.NaN);
        Array.Clear(Texts);
        Array.Fill(Wholes, NoWhole);
        SetAside.Clear();
    }

    /// <summary>Takes over the values of another row.</summary>
    public void CopyFrom(ReadingRow other)
    {
        other.Numbers.CopyTo(Numbers, 0);
        other.Texts.CopyTo(Texts, 0);
        other.Codes.CopyTo(Codes, 0);
        other.Wholes.CopyTo(Wholes, 0);
        SetAside.Clear();
    }

    public bool Has(int column) => Kinds[column] switch
    {
        ColumnKind.Number => !double.IsNaN(Numbers[column]),
        ColumnKind.Text => Texts[column] is not null,
        _ => Wholes[column] != NoWhole,
    };

    /// <summary>Takes a value out of the row and keeps it aside.</summary>
    public void PutAside(int column, string raw, string reason, string detail, string? suggestion = null)
    {
        Numbers[column] = double.NaN;
        Texts[column] = null;
        Wholes[column] = NoWhole;
        SetAside.Add(new(column, raw, reason, detail, suggestion));
    }

    /// <summary>Writes the row compactly: a mask of the columns present, then their values, kind by kind.</summary>
    public void Write(ByteWriter writer)
    {
        writer.Int32(Line);
        writer.Int32(VisitedOn);
        var masked = writer.Position;
        ulong mask = 0;
        writer.UInt64(mask);
        foreach (var i in CodedColumns)
        {
            if (Texts[i] is not null)
            {
                mask |= 1UL << i;
                writer.Byte(Codes[i]);
            }
        }

        foreach (var i in TextColumns)
        {
            if (Texts[i] is { } text)
            {
                mask |= 1UL << i;
                writer.Text(text);
            }
        }

        foreach (var i in NumberColumns)
        {
            if (!double.IsNaN(Numbers[i]))
            {
                mask |= 1UL << i;
                writer.Double(Numbers[i]);
            }
        }

        foreach (var i in WholeColumns)
        {
            if (Wholes[i] != NoWhole)
            {
                mask |= 1UL << i;
                writer.Int64(Wholes[i]);
            }
        }

        writer.UInt64At(masked, mask);
        writer.Count(SetAside.Count);
        foreach (var s in SetAside)
        {
            s.Write(writer);
        }
    }

    private static bool IsCoded(Term term) => term.Kind == ColumnKind.Text && term.Codes.Count > 0;

    private static int[] Those(Func<Term, bool> wanted) => [.. Enumerable.Range(0, Width).Where(i => wanted(Terms[i]))];
}
