using Revisit.Records;

namespace Revisit.Ingest;

/// <summary>A value that was set aside, with why.</summary>
internal readonly record struct SetAside(int Column, string RawValue, string Reason, string Detail, string? Suggestion)
{
    public void Write(BinaryWriter writer)
    {
        writer.Write((byte)Column);
        writer.Write(RawValue);
        writer.Write(Reason);
        writer.Write(Detail);
        writer.Write(Suggestion ?? "");
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

    public readonly double[] Numbers = new double[Width];
    public readonly string?[] Texts = new string?[Width];

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

    /// <summary>Writes the row compactly: a mask of the columns present, then their values.</summary>
    public void Write(BinaryWriter writer)
    {
        writer.Write(Line);
        writer.Write(VisitedOn);
        WriteValues(writer);
        writer.Write7BitEncodedInt(SetAside.Count);
        foreach (var s in SetAside)
        {
            s.Write(writer);
        }
    }

    private void WriteValues(BinaryWriter writer)
    {
        ulong mask = 0;
        for (var i = 0; i < Width; i++)
        {
            mask |= Has(i) ? 1UL << i : 0;
        }

        writer.Write(mask);
        for (var i = 0; i < Width; i++)
        {
            if ((mask >> i & 1) != 0)
            {
                switch (Kinds[i])
                {
                    case ColumnKind.Number:
                        writer.Write(Numbers[i]);
                        break;
                    case ColumnKind.Text:
                        writer.Write(Texts[i]!);
                        break;
                    default:
                        writer.Write(Wholes[i]);
                        break;
                }
            }
        }
    }

    /// <summary>Reads past what <see cref="Write"/> wrote after the line.</summary>
    public void ReadValues(ByteReader reader)
    {
        VisitedOn = reader.Int32();
        var mask = reader.UInt64();
        for (var i = 0; i < Width; i++)
        {
            if ((mask >> i & 1) != 0)
            {
                _ = Kinds[i] switch
                {
                    ColumnKind.Number => reader.Double(),
                    ColumnKind.Text => reader.Text().Length,
                    _ => (double)reader.Int64(),
                };
            }
        }

        for (var aside = reader.Count(); aside > 0; aside--)
        {
            _ = Ingest.SetAside.Read(reader);
        }
    }

    /// <summary>A column with every value missing.</summary>
    public static Array MissingColumn(ColumnKind kind, int rows)
    {
        if (kind == ColumnKind.Text)
        {
            return new string?[rows];
        }

        if (kind == ColumnKind.Number)
        {
            var numbers = new double[rows];
            Array.Fill(numbers, double.NaN);
            return numbers;
        }

        var wholes = new long[rows];
        Array.Fill(wholes, NoWhole);
        return wholes;
    }
}
