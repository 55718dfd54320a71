namespace Revisit.Ingest;

/// <summary>The cells of one delimited record.</summary>
internal sealed class CsvFields(RecordReader record) : FieldSource
{
    public override ReadOnlySpan<char> Cell(int slot)
    {
        if (slot < 0 || slot >= record.FieldCount)
        {
            return default;
        }

        var field = record.Field(slot);
        return field.Contains('"') ? record.FieldText(slot) : field;
    }
}
