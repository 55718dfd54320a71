using System.IO.Hashing;

namespace Revisit.Ingest;

/// <summary>What became of the records of one block: landed rows by month with their keys, and rejected rows.</summary>
internal sealed class BlockRows
{
    private static readonly int VisitId = ReadingRow.At("visit_id"), ReadingNo = ReadingRow.At("reading_no"), SavedAt = ReadingRow.At("saved_at");
    private const int MostMonths = 100;
    private readonly Dictionary<int, MonthBytes> months = [];

    /// <summary>By month number: the rows, in the order of the file.</summary>
    public IEnumerable<(int Month, ReadOnlyMemory<byte> Bytes, int Rows)> Months =>
        months.Where(m => m.Value.Rows > 0).Select(m => (m.Key, m.Value.Writer.Written(), m.Value.Rows));

    /// <summary>Keys of the accepted rows, in the order of the file.</summary>
    public List<RowKey> Keys { get; } = [];

    /// <summary>Rejected rows: line, text with private places blanked, why.</summary>
    public List<(int Line, string RawText, Rejection Why)> Rejected { get; } = [];

    /// <summary>Makes it empty, to be filled again.</summary>
    public void Clear()
    {
        Keys.Clear();
        Rejected.Clear();
        if (months.Count > MostMonths)
        {
            months.Clear();
        }

        foreach (var month in months.Values)
        {
            month.Writer.Clear();
            month.Rows = 0;
        }
    }

    public void Add(ReadingRow row)
    {
        var number = Landing.MonthOf(row.VisitedOn);
        if (!months.TryGetValue(number, out var month))
        {
            months[number] = month = new MonthBytes();
        }

        var start = month.Writer.Position;
        row.Write(month.Writer);
        month.Rows++;

        // Content: all but the place in the source (the first four bytes).
        var content = month.Writer.Written(start + sizeof(int)).Span;
        Keys.Add(new(RowKey.Of(row.Texts[VisitId]!, row.Wholes[ReadingNo]), row.Wholes[SavedAt], XxHash64.HashToUInt64(content), row.Line, number));
    }

    private sealed class MonthBytes
    {
        public ByteWriter Writer { get; } = new();

        public int Rows { get; set; }
    }
}
