namespace Revisit.Ingest;

/// <summary>
/// Some hundred records of a source, copied out of the reader's buffer, so that rows can be built on another core while reading goes on.
/// They are few enough to stay in a core's cache.
/// </summary>
internal sealed class RecordBlock
{
    private const int Records = 250, Characters = 1 << 20;
    private (int Start, int Length)[] fields = new (int, int)[1 << 12];
    private readonly List<(int FirstField, int FieldCount, int Line, bool Broken, bool TooLong)> records = [];
    private char[] chars = new char[1 << 16];
    private int used, usedFields;

    /// <summary>Number of records.</summary>
    public int Count => records.Count;

    public bool IsFull => records.Count >= Records || used >= Characters;

    /// <summary>Makes the block empty, to be filled again.</summary>
    public void Clear()
    {
        records.Clear();
        (used, usedFields) = (0, 0);
    }

    /// <summary>Copies the reader's current record.</summary>
    public void Add(RecordReader reader)
    {
        records.Add((usedFields, reader.FieldCount, reader.Line, reader.Broken, reader.TooLong));
        var record = reader.Record;
        if (used + record.Length > chars.Length)
        {
            Array.Resize(ref chars, Math.Max(chars.Length * 2, used + record.Length));
        }

        if (usedFields + reader.FieldCount > fields.Length)
        {
            Array.Resize(ref fields, Math.Max(fields.Length * 2, usedFields + reader.FieldCount));
        }

        record.CopyTo(chars.AsSpan(used));
        for (var i = 0; i < reader.FieldCount; i++)
        {
            var (start, length) = reader.Place(i);
            fields[usedFields++] = (used + start, reader.IsEscaped(i) ? Unescape(chars.AsSpan(used + start, length)) : length);
        }

        used += record.Length;
    }

    public int Line(int record) => records[record].Line;

    public bool Broken(int record) => records[record].Broken;

    public bool TooLong(int record) => records[record].TooLong;

    public int FieldCount(int record) => records[record].FieldCount;

    /// <summary>A field, without quotes.</summary>
    public ReadOnlySpan<char> Field(int record, int field)
    {
        var (start, length) = fields[records[record].FirstField + field];
        return chars.AsSpan(start, length);
    }

    /// <summary>The places of a record's fields, and the text they lie in.</summary>
    public (char[] Text, ArraySegment<(int Start, int Length)> Places) Fields(int record) =>
        (chars, new(fields, records[record].FirstField, records[record].FieldCount));

    private static int Unescape(Span<char> text)
    {
        var n = 0;
        for (var i = 0; i < text.Length; i++)
        {
            text[n++] = text[i];
            i += text[i] == '"' && i + 1 < text.Length && text[i + 1] == '"' ? 1 : 0;
        }

        return n;
    }
}

/// <summary>The cells of one record of a block.</summary>
internal sealed class BlockFields : FieldSource
{
    private char[] text = [];
    private (int Start, int Length)[] places = [];
    private int first, count;

    /// <summary>Looks at a record.</summary>
    public void MoveTo(RecordBlock block, int record)
    {
        (text, var fields) = block.Fields(record);
        (places, first, count) = (fields.Array!, fields.Offset, fields.Count);
    }

    public override ReadOnlySpan<char> Cell(int slot)
    {
        if ((uint)slot >= (uint)count)
        {
            return default;
        }

        var (start, length) = places[first + slot];
        return text.AsSpan(start, length);
    }
}
