namespace Revisit.Ingest.Tests;

/// <summary>One JSON document a line.</summary>
public class NdjsonTests
{
    internal static readonly SourceProfile Profile = ProfileReader.Parse("""
        name: probes
        format: { kind: ndjson }
        columns:
          visit_id: job.id
          reading_no: job.no
          install_id: unit
          crew_id: crew
          visit_kind: why
          visited_at: at
          return_db_f: { from: air.back, unit: Cel }
          supply_db_f: { from: air.blown, unit: Cel }
          notes: note
        """, "probes.yaml");

    private static string Line(string id, string rest = "") =>
        $$"""{"job":{"id":"{{id}}","no":1},"unit":"I1","crew":"C1","why":"callback","at":"2026-07-14T15:00:00Z"{{rest}}}""" + "\n";

    private static (SourceSummary Summary, List<string[]> Rows, SampleLake Lake) Ingest(string text)
    {
        var lake = new SampleLake();
        return (lake.IngestText(text, "probes.ndjson", Profile), lake.Query("SELECT visit_id, return_db_f, supply_db_f, notes FROM readings ORDER BY visit_id"), lake);
    }

    private static string[] Only(string rest)
    {
        var (_, rows, lake) = Ingest(Line("V1", rest));
        lake.Dispose();
        return rows.Single();
    }

    [Theory]
    [InlineData(""","air":{"back":25,"blown":14.5},"note":"fine" """, "77", "58.1", "fine")]
    [InlineData(""","air":{"back":null,"blown":14.5},"note":null""", "NULL", "58.1", "NULL")]
    [InlineData("", "NULL", "NULL", "NULL")]
    [InlineData(""","air":7,"note":"x" """, "NULL", "NULL", "x")]
    [InlineData(""","air":null,"note":"x" """, "NULL", "NULL", "x")]
    [InlineData(""","air":{"back":"25"},"note":"a \"b\" \u00e9\n" """, "77", "NULL", "a \"b\" é")]
    [InlineData(""","air":{"back":20},"air":{"back":25},"note":"1","note":"2" """, "77", "NULL", "2")]
    public void Paths_nulls_missing_parts_texts_and_repeated_keys(string rest, string back, string blown, string note) =>
        Assert.Equal(["V1", back, blown, note], Only(rest));

    [Theory]
    [InlineData("NaN")]
    [InlineData("-Infinity")]
    [InlineData("Infinity")]
    public void A_bare_NaN_loses_its_own_value_only(string word)
    {
        var (summary, rows, lake) = Ingest(Line("V1", $$""","air":{"back":{{word}},"blown":14.5},"note":"NaN read at \"10\" o'clock" """));
        using (lake)
        {
            Assert.Equal((1, 1), (summary.Accepted, summary.SetAside));
            Assert.Equal(["V1", "NULL", "58.1", "NaN read at \"10\" o'clock"], rows.Single());
            Assert.Equal(["return_db_f", word, "not_a_number"], lake.Query("SELECT column_name, raw_value, set_aside_reason FROM set_aside_values").Single());
        }
    }

    [Theory]
    [InlineData("{\"job\":{\"id\":\"V9\"")]
    [InlineData("[1,2]")]
    [InlineData("7")]
    [InlineData("null")]
    [InlineData("-- end --")]
    [InlineData("{} {}")]
    [InlineData("{\"a\":1,}")]
    public void A_line_that_is_no_object_is_rejected_and_the_next_is_read(string broken)
    {
        var (summary, rows, lake) = Ingest(Line("V1") + broken + "\n\n" + Line("V2"));
        using (lake)
        {
            Assert.Equal((3, 2, 1), (summary.RowsRead, summary.Accepted, summary.Rejected));
            Assert.Equal(["V1", "V2"], rows.Select(r => r[0]));
            Assert.Equal(["2", broken, "not_json"], lake.Query("SELECT source_line, raw_text, rejected_reason FROM rejected_rows").Single());
            Assert.Equal("4", lake.One("SELECT max(source_line) FROM readings"));
        }
    }

    [Fact]
    public void Nesting_without_end_is_rejected_and_ends_nothing()
    {
        var deep = Line("V1", ",\"deep\":" + string.Concat(Enumerable.Repeat("{\"a\":", 5_000)) + "1" + new string('}', 5_000));
        var (summary, rows, lake) = Ingest(deep + Line("V2"));
        lake.Dispose();
        Assert.Equal((2, 1), (summary.RowsRead, summary.Rejected));
        Assert.Equal("V2", rows.Single()[0]);
    }

    [Fact]
    public void A_path_of_many_parts_is_followed()
    {
        var profile = ProfileReader.Parse("name: p\nformat: { kind: ndjson }\ncolumns: { visit_id: a.b.c.d.e, reading_no: n, install_id: i, crew_id: c, visit_kind: k, visited_at: t }", "p.yaml");
        using var lake = new SampleLake();
        _ = lake.IngestText("""{"a":{"b":{"c":{"d":{"e":"V5"}}}},"n":1,"i":"I1","c":"C1","k":"other","t":"2026-07-14T15:00:00Z"}""", "p.ndjson", profile);
        Assert.Equal("V5", lake.One("SELECT visit_id FROM readings"));
    }

    [Fact]
    public void A_line_over_the_limit_is_rejected_as_too_long()
    {
        var (summary, rows, lake) = Ingest(Line("V1", ",\"note\":\"" + new string('x', 2 * RecordReader.MaxRecord) + "\"") + Line("V2"));
        using (lake)
        {
            Assert.Equal("V2", rows.Single()[0]);
            Assert.Equal(summary.Rejected.ToString(System.Globalization.CultureInfo.InvariantCulture), lake.One("SELECT count(*) FROM rejected_rows WHERE source_line >= 1"));
            Assert.Equal("1", lake.One("SELECT source_line FROM rejected_rows WHERE rejected_reason = 'too_long'"));
        }
    }

    [Fact]
    public void Plain_names_need_no_profile()
    {
        using var lake = new SampleLake();
        var summary = lake.IngestText("""{"visit_id":"V1","reading_no":2,"install_id":"I1","crew_id":"C1","visit_kind":"other","visited_at":"2026-07-14T15:00:00Z","outdoor_db_f":88.5}""", "plain.jsonl");
        Assert.Equal((1, "plain"), (summary.Accepted, summary.Profile));
        Assert.Equal("88.5", lake.One("SELECT outdoor_db_f FROM readings WHERE reading_no = 2"));
    }
}
