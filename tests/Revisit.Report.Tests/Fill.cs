using Revisit.Records;

namespace Revisit.Report.Tests;

/// <summary>Makes a batch from rows of (column, value) pairs.</summary>
internal static class Fill
{
    public static Batch Table(TableContract table, IReadOnlyList<Dictionary<string, object?>> rows)
    {
        var batch = new Batch(table, rows.Count);
        for (var i = 0; i < rows.Count; i++)
        {
            foreach (var (column, value) in rows[i])
            {
                if (value is not null) batch.At(table.IndexOf(column)).SetValue(value, i);
            }
        }

        return batch;
    }
}
