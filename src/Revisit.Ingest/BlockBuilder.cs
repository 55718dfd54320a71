namespace Revisit.Ingest;

/// <summary>Builds the rows of blocks; one builder works on one block at a time, several builders side by side.</summary>
internal abstract class BlockBuilder
{
    protected static readonly Rejection TooLong = new("too_long", $"more than {RecordReader.MaxRecord} characters");
    private readonly ReadingRow row = new();

    /// <summary>Builds every row of a block into <paramref name="result"/>.</summary>
    public void Build(RecordBlock block, BlockRows result)
    {
        Begin(block);
        for (var i = 0; i < block.Count; i++)
        {
            row.Line = block.Line(i);
            if (BuildRow(block, i, row) is { } why)
            {
                result.Rejected.Add((row.Line, RawText(block, i), why));
            }
            else
            {
                result.Add(row);
            }
        }
    }

    /// <summary>How many times that occur twice, as daylight saving ended, were taken as the earlier.</summary>
    public abstract int TakenAsEarlier { get; }

    protected virtual void Begin(RecordBlock block)
    {
    }

    protected abstract Rejection? BuildRow(RecordBlock block, int record, ReadingRow row);

    protected abstract string RawText(RecordBlock block, int record);
}

/// <summary>Rows of delimited text.</summary>
internal sealed class CsvBlockBuilder(SourceProfile profile, List<string> headings) : BlockBuilder
{
    private readonly KeptText keptText = new(profile, headings.IndexOf);
    private readonly RowBuilder builder = new(profile, headings.IndexOf);
    private readonly BlockFields fields = new();

    public override int TakenAsEarlier => builder.TakenAsEarlier;

    protected override void Begin(RecordBlock block) => keptText.Learn(block, headings.Count);

    protected override Rejection? BuildRow(RecordBlock block, int record, ReadingRow row)
    {
        if (block.TooLong(record))
        {
            return TooLong;
        }

        if (block.Broken(record))
        {
            return new("broken_quotes", "a quotation mark opens and does not close before the next field; the line was given up and reading went on with the next");
        }

        if (block.FieldCount(record) != headings.Count)
        {
            var filled = 0;
            for (var i = 0; i < block.FieldCount(record); i++)
            {
                filled += block.Field(record, i).Trim().Length > 0 ? 1 : 0;
            }

            var detail = $"{block.FieldCount(record)} fields where the heading line has {headings.Count}";
            return filled <= 1 && block.FieldCount(record) <= 2 ? new("not_a_data_row", detail) : new("wrong_number_of_fields", detail);
        }

        fields.MoveTo(block, record);
        return builder.Build(row, fields);
    }

    protected override string RawText(RecordBlock block, int record) => keptText.OfCsv(block, record, profile.Delimiter);
}

/// <summary>Rows of one JSON document a line.</summary>
internal sealed class JsonBlockBuilder : BlockBuilder
{
    private readonly List<string> paths;
    private readonly JsonFields fields;
    private readonly RowBuilder builder;
    private readonly KeptText keptText;
    private bool parsed;

    public override int TakenAsEarlier => builder.TakenAsEarlier;

    public JsonBlockBuilder(SourceProfile profile)
    {
        paths = profile.Columns.SelectMany(c => c.From).Distinct().ToList();
        fields = new JsonFields(paths);
        builder = new RowBuilder(profile, paths.IndexOf);
        keptText = new KeptText(profile, paths.IndexOf);
    }

    protected override Rejection? BuildRow(RecordBlock block, int record, ReadingRow row)
    {
        parsed = !block.TooLong(record) && fields.TryParse(block.Field(record, 0).ToString());
        return parsed ? builder.Build(row, fields)
            : block.TooLong(record) ? TooLong
            : new("not_json", "expected one whole JSON object a line");
    }

    protected override string RawText(RecordBlock block, int record) => keptText.OfJson(block.Field(record, 0).ToString(), parsed, fields, paths);
}
