using Revisit.Records;

namespace Revisit.Ingest;

/// <summary>Reads one source file into a landing, row by row.</summary>
internal sealed class SourceReading(SourceProfile profile, string sourceName, Landing landing, RejectedSpill rejected, IProgress<string>? progress)
{
    private const int ProgressEvery = 250_000;
    private readonly ReadingRow row = new();

    /// <summary>Data rows met.</summary>
    public int RowsRead { get; private set; }

    /// <summary>Things worth saying that are no faults: headings not used, headings missing.</summary>
    public List<string> Remarks { get; } = [];

    /// <exception cref="UserError">The headings do not fit the profile.</exception>
    public void Run(Stream stream)
    {
        using var text = TextSource.Open(stream, profile.Encoding);
        var record = new RecordReader(text, profile.Delimiter);
        if (profile.Kind == SourceKind.Csv)
        {
            Csv(record);
        }
        else
        {
            Ndjson(record);
        }
    }

    private void Csv(RecordReader record)
    {
        record.SkipLines(profile.PreambleLines);
        if (!record.Read())
        {
            Remarks.Add($"{sourceName} is empty");
            return;
        }

        var headings = new List<string>();
        for (var i = 0; i < record.FieldCount; i++)
        {
            headings.Add(record.FieldText(i).Trim());
        }

        CheckHeadings(headings, record.Line);
        var privateSlots = Enumerable.Range(0, headings.Count).Where(i => profile.Private.Contains(headings[i])).ToArray();
        var rawText = new PrivateText(headings.Count, privateSlots, profile.Delimiter);
        var fields = new CsvFields(record);
        var builder = new RowBuilder(profile, headings.IndexOf);
        while (record.Read())
        {
            if (record.Blank)
            {
                continue;
            }

            Count();
            row.Line = record.Line;
            Rejection? why = record.Broken
                ? new("broken_quotes", "a quotation mark opens and does not close before the next field; the line was given up and reading went on with the next")
                : record.FieldCount != headings.Count
                    ? new("wrong_number_of_fields", $"{record.FieldCount} fields where the heading line has {headings.Count}")
                    : builder.Build(row, fields);
            if (why is { } reason)
            {
                rejected.Add(record.Line, rawText.OfCsv(record), reason);
            }
            else
            {
                rawText.SawSound(record.Field(0));
                landing.Add(row);
            }
        }
    }

    private void Ndjson(RecordReader record)
    {
        var paths = profile.Columns.SelectMany(c => c.From).Distinct().ToList();
        var fields = new JsonFields(paths);
        var builder = new RowBuilder(profile, paths.IndexOf);
        while (record.ReadLine())
        {
            if (record.Blank)
            {
                continue;
            }

            Count();
            row.Line = record.Line;
            var line = record.Field(0).ToString();
            Rejection? why = record.Broken
                ? new("too_long", $"more than {RecordReader.MaxRecord} characters")
                : !fields.TryParse(line) ? new("not_json", "expected one whole JSON object a line") : builder.Build(row, fields);
            if (why is { } reason)
            {
                rejected.Add(record.Line, PrivateText.OfJson(line, profile.Private), reason);
            }
            else
            {
                landing.Add(row);
            }
        }
    }

    private void Count()
    {
        if (++RowsRead % ProgressEvery == 0)
        {
            progress?.Report(string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{sourceName}: {RowsRead:N0} rows read"));
        }
    }

    private void CheckHeadings(List<string> headings, int line)
    {
        var problems = new List<string>();
        foreach (var column in profile.Columns)
        {
            var missing = column.From.Where(f => !headings.Contains(f)).ToList();
            if (missing.Count > 0 && profile.Name != "plain")
            {
                problems.Add($"{profile.Name}.yaml:{column.Line}: '{column.Column}' wants the heading '{string.Join("', '", missing)}', which {sourceName} line {line} does not have");
            }
            else if (column.From.Any(f => headings.Count(h => h == f) > 1))
            {
                problems.Add($"{profile.Name}.yaml:{column.Line}: '{column.Column}' reads '{column.From[0]}', which stands twice in the heading line of {sourceName}");
            }
        }

        var required = new[] { "visit_id", "reading_no", "install_id", "crew_id", "visit_kind", "visited_at" };
        var lost = profile.Columns.Where(c => required.Contains(c.Column) && !c.From.Any(headings.Contains)).Select(c => c.Column).ToList();
        if (lost.Count > 0)
        {
            problems.Add($"no row can be told apart without {string.Join(", ", lost)}; the headings of {sourceName} are: {string.Join(" | ", headings)}");
            throw new UserError($"{sourceName} does not fit the profile '{profile.Name}':", problems);
        }

        Remarks.AddRange(problems.Select(p => p + "; the column stays empty"));
        var known = profile.Columns.SelectMany(c => c.From).Concat(profile.Private).Concat(profile.Ignored).ToHashSet();
        var unused = headings.Where(h => h.Length > 0 && !known.Contains(h)).ToList();
        if (unused.Count > 0)
        {
            Remarks.Add($"{sourceName}: headings not used by profile '{profile.Name}': {string.Join(", ", unused)}; map them, or list them under ignored or private");
        }
    }
}
