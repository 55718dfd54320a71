using System.Text;

namespace Revisit.Ingest.Tests;

/// <summary>Delimited text from file to table: delimiters, encodings, marks, preambles, odd ends.</summary>
public class DelimitedTests
{
    static DelimitedTests() => Encoding.RegisterProvider(CodePagesEncodingProvider.Instance);

    private const string Columns = """
        columns:
          visit_id: Visit
          reading_no: No
          install_id: Unit
          crew_id: Crew
          visit_kind: Why
          visited_at: At
          return_db_f: { from: Back, unit: Cel }
          airflow_cfm: Flow
          notes: Note
        """;

    private static SourceProfile Profile(string format, string more = "") => ProfileReader.Parse($"name: made\nformat: {{ {format} }}\n{more}\n{Columns}", "made.yaml");

    private static string Text(char d, string back, string flow, string note, string newline = "\n") =>
        string.Join(d, "Visit", "No", "Unit", "Crew", "Why", "At", "Back", "Flow", "Note") + newline
        + string.Join(d, "V1", "1", "I1", "C1", "callback", "2026-07-14 10:00Z", back, flow, note) + newline;

    /// <summary>The one reading of a text: return air, airflow, note, and how many values were set aside.</summary>
    private static string[] Reading(SourceProfile profile, string text, Encoding? encoding = null)
    {
        using var lake = new SampleLake();
        Assert.Equal(1, lake.IngestText(text, "branch.txt", profile, encoding).Accepted);
        return Assert.Single(lake.Query("SELECT return_db_f, airflow_cfm, notes, (SELECT count(*) FROM set_aside_values) FROM readings"));
    }

    [Theory]
    [InlineData(',', "\",\"")]
    [InlineData(';', "\";\"")]
    [InlineData('\t', "\"\\t\"")]
    [InlineData('\t', "tab")]
    [InlineData('|', "\"|\"")]
    public void Any_delimiter(char delimiter, string written) =>
        Assert.Equal(["77", "1200", "ok", "0"], Reading(Profile($"delimiter: {written}"), Text(delimiter, "25", "1200", "ok")));

    [Theory]
    [InlineData("25,5", "1.200", "77.9", "1200")]
    [InlineData("25,5", "1.200,5", "77.9", "1200.5")]
    [InlineData("25,5", "1200", "77.9", "1200")]
    [InlineData("-1,5e1", "1.1.200", "set aside", "set aside")]
    [InlineData("25.5", "12.00", "set aside", "set aside")]
    public void Decimal_comma_with_thousands_points(string back, string flow, string backRead, string flowRead)
    {
        var got = Reading(Profile("delimiter: ;, decimal: \",\", thousands: \".\""), Text(';', back, flow, "ok"));
        Assert.Equal([backRead == "set aside" ? "NULL" : backRead, flowRead == "set aside" ? "NULL" : flowRead], got[..2]);
        Assert.Equal(((backRead == "set aside" ? 1 : 0) + (flowRead == "set aside" ? 1 : 0)).ToString(System.Globalization.CultureInfo.InvariantCulture), got[3]);
    }

    [Theory]
    [InlineData("\"1,200\"", "1200")]
    [InlineData("\"1,200.5\"", "1200.5")]
    [InlineData("\"1,20\"", "NULL")]
    [InlineData("\"12,00.5\"", "NULL")]
    public void Thousands_commas(string flow, string read) => Assert.Equal(read, Reading(Profile("thousands: \",\""), Text(',', "25", flow, "ok"))[1]);

    [Fact]
    public void A_comma_where_no_mark_is_set_is_not_a_number() => Assert.Equal("NULL", Reading(Profile("kind: csv"), Text(',', "25", "\"1,200\"", "ok"))[1]);

    [Theory]
    [InlineData("\"said \"\"warm\"\", left\"", "said \"warm\", left")]
    [InlineData("\"first\nsecond\r\nthird\"", "first\nsecond\r\nthird")]
    [InlineData("5\" duct", "5\" duct")]
    [InlineData("\"\"", "NULL")]
    [InlineData("= café ☼ 😀", "= café ☼ 😀")]
    public void Quotes_and_notes_over_several_lines(string note, string read) => Assert.Equal(read, Reading(Profile("kind: csv"), Text(',', "25", "1200", note))[2]);

    public static TheoryData<string, string> Encodings => new() { { "utf-8", "utf-8" }, { "utf-8", "utf-16" }, { "utf-16", "utf-16" }, { "utf-8", "utf-16BE" }, { "windows-1252", "windows-1252" } };

    [Theory]
    [MemberData(nameof(Encodings))]
    public void Encodings_and_byte_order_marks(string profile, string written) =>
        Assert.Equal("batterie – œuvre é", Reading(Profile($"encoding: {profile}"), Text(',', "25", "1200", "batterie – œuvre é"), Encoding.GetEncoding(written))[2]);

    [Fact]
    public void Preamble_and_blank_lines_are_no_rows()
    {
        using var lake = new SampleLake();
        var summary = lake.IngestText("Office list, \"unclosed\nprinted today\n" + Text(',', "25", "1200", "ok").Replace("\n", "\n\n", StringComparison.Ordinal) + "\r\n\n", "branch.txt", Profile("preamble_lines: 2"));
        Assert.Equal((1, 1), (summary.RowsRead, summary.Accepted));
        Assert.Equal("5", lake.One("SELECT source_line FROM readings"));
    }

    [Theory]
    [InlineData("")]
    [InlineData("\uFEFF")]
    [InlineData("Visit,No,Unit,Crew,Why,At,Back,Flow,Note")]
    [InlineData("Visit,No,Unit,Crew,Why,At,Back,Flow,Note\r\n\r\n")]
    public void An_empty_file_and_a_lone_heading_line_have_no_rows(string text)
    {
        using var lake = new SampleLake();
        Assert.Equal((0, 0, 0), lake.IngestText(text, "branch.txt", Profile("kind: csv")) is var s ? (s.RowsRead, s.Accepted, s.Rejected) : default);
        Assert.Equal("0", lake.One("SELECT rows_read FROM sources"));
        Assert.Equal("0", lake.One("SELECT count(*) FROM readings"));
    }

    [Theory]
    [InlineData("\n")]
    [InlineData("\r\n")]
    [InlineData("\r")]
    public void Line_ends_and_a_last_line_without_one(string newline)
    {
        using var lake = new SampleLake();
        var text = PlainRows.Csv([.. Enumerable.Range(1, 5).Select(n => PlainRows.Row(("visit_id", $"V{n}")))]).Replace("\n", newline, StringComparison.Ordinal);
        Assert.Equal(5, lake.IngestText(text[..^newline.Length]).Accepted);
        Assert.Equal("2,3,4,5,6", lake.One("SELECT string_agg(source_line, ',' ORDER BY source_line) FROM readings"));
    }

    [Fact]
    public void A_broken_row_takes_no_other_with_it_and_is_kept_with_its_line()
    {
        using var lake = new SampleLake();
        var sound = Enumerable.Range(1, 6).Select(n => PlainRows.Row(("visit_id", $"V{n}"), ("notes", "said \"so\", twice"))).ToArray();
        var text = PlainRows.Csv(sound[0], "V9,1,\"open,C1\n", sound[1], sound[2].TrimEnd('\n') + ",more\n", sound[3], "V8,1\n", sound[4], sound[5]);
        var summary = lake.IngestText(text);
        Assert.Equal((8, 5, 3), (summary.RowsRead, summary.Accepted, summary.Rejected));
        Assert.Equal(new() { ["broken_quotes"] = 1, ["wrong_number_of_fields"] = 2 }, new SortedDictionary<string, int>(summary.RejectedByReason.ToDictionary()));
        Assert.Equal([["3", "broken_quotes", "V9,1,\"open,C1"], ["7", "wrong_number_of_fields", "V8,1"]],
            lake.Query("SELECT source_line, rejected_reason, raw_text FROM rejected_rows WHERE source_line <> 5 ORDER BY source_line"));
        Assert.Equal("wrong_number_of_fields", lake.One("SELECT rejected_reason FROM rejected_rows WHERE source_line = 5 AND ends_with(raw_text, ',more')"));
    }

    [Theory]
    [InlineData("visit_id", "", "missing_identity")]
    [InlineData("install_id", "", "missing_identity")]
    [InlineData("crew_id", "", "missing_identity")]
    [InlineData("reading_no", "", "missing_identity")]
    [InlineData("reading_no", "0", "missing_identity")]
    [InlineData("reading_no", "1.5", "missing_identity")]
    [InlineData("visit_kind", "tea", "bad_identity")]
    [InlineData("visit_id", "V\u0001", "bad_identity")]
    [InlineData("visited_at", "", "bad_time")]
    [InlineData("visited_at", "14/07/2026", "bad_time")]
    public void A_row_without_identity_is_rejected_whole(string column, string value, string reason)
    {
        using var lake = new SampleLake();
        var summary = lake.IngestText(PlainRows.Csv(PlainRows.Row((column, value)), PlainRows.Row(("visit_id", "V2"))));
        Assert.Equal((2, 1, 1), (summary.RowsRead, summary.Accepted, summary.Rejected));
        Assert.Equal(["2", reason], lake.Query("SELECT source_line, rejected_reason FROM rejected_rows").Single());
        Assert.Equal("V2", lake.One("SELECT visit_id FROM readings"));
    }

    [Fact]
    public void Every_row_of_a_long_file_stands_with_its_own_line_and_values()
    {
        var (random, text, line, expected) = (new Random(3), new StringBuilder(PlainRows.Heading), 2, new List<string[]>());
        for (var n = 0; n < 7_000; n++)
        {
            var note = random.Next(5) switch { 0 => $"n{n} \"so\", he\nsaid", 1 => $"n{n}, \"\"", _ => $"n{n}" };
            var broken = random.Next(50) == 0;
            _ = text.Append(broken ? $"V{n},1\n" : PlainRows.Row(("visit_id", $"V{n}"), ("notes", note)));
            if (!broken)
            {
                expected.Add([line.ToString(System.Globalization.CultureInfo.InvariantCulture), $"V{n}", note]);
            }

            line += 1 + (broken ? 0 : note.Count(c => c == '\n'));
        }

        using var lake = new SampleLake();
        var summary = lake.IngestText(text.ToString());
        Assert.Equal((7_000, expected.Count), (summary.RowsRead, summary.Accepted));
        Assert.Equal(expected, lake.Query("SELECT source_line, visit_id, notes FROM readings ORDER BY source_line"));
    }

    [Fact]
    public void A_heading_that_stands_twice_is_a_fault_told_with_its_name()
    {
        using var lake = new SampleLake();
        var error = Assert.Throws<Records.UserError>(() => lake.IngestText(Text(',', "25", "1200", "ok").Replace("Flow", "Back", StringComparison.Ordinal), "branch.txt", Profile("kind: csv")));
        Assert.Contains("'Back', which stands twice", error.Message, StringComparison.Ordinal);
    }
}
