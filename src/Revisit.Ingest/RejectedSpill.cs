using Revisit.Records;

namespace Revisit.Ingest;

/// <summary>Rejected rows of one source, kept on disk until they are written as a table.</summary>
internal sealed class RejectedSpill(string path) : IDisposable
{
    private const int BatchRows = 10_000;
    private const int LongestRaw = 4_000;
    private readonly BinaryWriter writer = new(new FileStream(path, FileMode.Create, FileAccess.Write, FileShare.None, 1 << 16));

    public int Rows { get; private set; }

    /// <summary>Counts by reason, for the summary.</summary>
    public SortedDictionary<string, int> ByReason { get; } = new(StringComparer.Ordinal);

    public void Add(int line, string rawText, Rejection why)
    {
        writer.Write(line);
        writer.Write(rawText.Length > LongestRaw ? rawText[..(char.IsHighSurrogate(rawText[LongestRaw - 1]) ? LongestRaw - 1 : LongestRaw)] + "…" : rawText);
        writer.Write(why.Reason);
        writer.Write(why.Detail);
        Rows++;
        ByReason[why.Reason] = ByReason.GetValueOrDefault(why.Reason) + 1;
    }

    /// <summary>The rows as batches of the table.</summary>
    public IEnumerable<Batch> Batches(string sourceId, string sourceName)
    {
        writer.Dispose();
        using var reader = new BinaryReader(File.OpenRead(path));
        for (var left = Rows; left > 0; left -= BatchRows)
        {
            var batch = new Batch(Tables.RejectedRows, Math.Min(left, BatchRows));
            var (line, raw, reason, detail) = (batch.Whole("source_line"), batch.Text("raw_text"), batch.Text("rejected_reason"), batch.Text("detail"));
            Array.Fill(batch.Text("source_id"), sourceId);
            Array.Fill(batch.Text("source_name"), sourceName);
            for (var i = 0; i < batch.Rows; i++)
            {
                (line[i], raw[i], reason[i], detail[i]) = (reader.ReadInt32(), reader.ReadString(), reader.ReadString(), reader.ReadString());
            }

            yield return batch;
        }
    }

    public void Dispose() => writer.Dispose();
}
