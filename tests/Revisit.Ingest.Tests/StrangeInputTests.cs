namespace Revisit.Ingest.Tests;

/// <summary>Inputs that once crashed the ingest, were misread in silence or hung it.</summary>
public class StrangeInputTests
{
    [Theory]
    [InlineData("private: { Phone: yes }")]
    [InlineData("private: Phone\nformat: csv")]
    [InlineData("zone: [UTC]")]
    [InlineData("format: { encoding: utf-7 }")]
    [InlineData("format: { decimal: \",\", thousands: \",\" }")]
    [InlineData("format: { delimiter: '\"' }")]
    public void A_key_of_the_wrong_shape_is_a_fault(string lines) => Assert.NotEmpty(ProfileTests.Fails($"name: made\n{lines}\ncolumns:\n{ProfileTests.Identity}").Problems);

    [Theory]
    [InlineData("  outdoor_db_f: { from: Out, unit: Cel, pressure: absolute }")]
    [InlineData("  external_static_inwc: { from: Out, unit: Pa, pressure: absolute }")]
    [InlineData("  metering: { from: Valve, values: { x: [txv] } }")]
    public void A_column_setting_that_makes_no_sense_is_a_fault(string column) => Assert.NotEmpty(ProfileTests.Fails($"name: made\ncolumns:\n{ProfileTests.Identity}\n{column}").Problems);

    [Theory]
    [InlineData("format: { kind: csv")]
    public void Unclosed_yaml_is_a_fault_and_no_crash(string lines) => Assert.NotEmpty(ProfileTests.Fails($"name: made\n{lines}\ncolumns:\n{ProfileTests.Identity}").Problems);

    [Fact]
    public void With_bare_returns_an_unclosed_quote_still_breaks_its_own_line_only()
    {
        var got = RecordReaderTests.ReadAll("a,b\r1,\"open\r2,x\r3,y\r");
        Assert.Equal([(1, false), (2, true), (3, false), (4, false)], got.Select(r => (r.Line, r.Broken)));
    }

    [Fact]
    public void A_record_a_little_over_the_limit_is_broken()
    {
        var got = RecordReaderTests.ReadAll("h,i\n1," + new string('x', RecordReader.MaxRecord + 100_000) + "\n2,y\n");
        Assert.Equal([false, true, false], got.Select(r => r.Broken));
    }

    [Fact]
    public void A_draft_takes_the_heading_line_where_quoted_numbers_hold_the_delimiter()
    {
        var draft = ProfileDraft.Of(Path.Combine(SampleLake.Repository, "synthetic-data", "exports", "harbor.csv"));
        Assert.DoesNotContain("555-01", draft.Yaml, StringComparison.Ordinal);
        Assert.Equal(2, ProfileReader.Parse(draft.Yaml, "draft.yaml").PreambleLines);
    }

    [Fact]
    public void Half_a_surrogate_pair_costs_one_row_at_most()
    {
        using var lake = new SampleLake();
        const string rest = "\"reading_no\":1,\"install_id\":\"I1\",\"crew_id\":\"C1\",\"visit_kind\":\"other\",\"visited_at\":\"2026-07-14T15:00:00Z\"";
        var summary = lake.IngestText($"{{\"visit_id\":\"V1\",{rest},\"notes\":\"\\ud83d\"}}\n{{\"visit_id\":\"V2\",{rest}}}\n", "plain.ndjson");
        Assert.Equal(2, summary.RowsRead);
        Assert.Equal("1", lake.One("SELECT count(*) FROM readings WHERE visit_id = 'V2'"));
    }

    [Fact]
    public void A_text_that_ends_in_a_backslash_does_not_hide_a_bare_NaN()
    {
        using var lake = new SampleLake();
        var summary = lake.IngestText("""{"visit_id":"V1","notes":"C:\\","reading_no":1,"install_id":"I1","crew_id":"C1","visit_kind":"other","visited_at":"2026-07-14T15:00:00Z","outdoor_db_f":NaN}""", "plain.ndjson");
        Assert.Equal((1, 0), (summary.Accepted, summary.Rejected));
    }

    [Fact]
    public void A_preamble_of_a_file_with_bare_returns_is_skipped_by_lines()
    {
        using var lake = new SampleLake();
        var profile = SourceProfile.Plain(SourceKind.Csv) with { PreambleLines = 1 };
        Assert.Equal(1, lake.IngestText(("list\n" + PlainRows.Csv(PlainRows.Row())).Replace('\n', '\r'), "branch.txt", profile).Accepted);
    }

    [Fact]
    public void A_constant_reading_number_counts_as_one()
    {
        using var lake = new SampleLake();
        var profile = ProfileReader.Parse("name: made\nconstants: { reading_no: 1, installed_on: 2026-05-01 }\ncolumns: { visit_id: V, install_id: I, crew_id: C, visit_kind: K, visited_at: T }", "made.yaml");
        Assert.Equal(1, lake.IngestText("V,I,C,K,T\nV1,I1,C1,other,2026-07-14T15:00:00Z\n", "branch.txt", profile).Accepted);
        Assert.Equal("2026-05-01", lake.One("SELECT installed_on FROM installs"));
    }

    [Fact]
    public void A_mended_profile_wins_over_what_the_faulty_one_read()
    {
        // Whatever the hashes are: the file is taken in by a faulty profile and again by the mended one, which must win.
        for (var n = 0; n < 8; n++)
        {
            using var lake = new SampleLake();
            var path = lake.File("plain.csv", PlainRows.Csv(PlainRows.Row(("saved_at", "2026-07-14T16:00:00Z"))));
            var plain = SourceProfile.Plain(SourceKind.Csv);
            lake.Ingest(plain with { Name = "made", Hash = $"faulty {n}", Columns = [.. plain.Columns.Where(c => c.Column != "outdoor_db_f")], Ignored = ["outdoor_db_f"] }, path);
            lake.Ingest(plain with { Name = "made", Hash = $"mended {n}" }, path);
            Assert.Equal("88", lake.One("SELECT outdoor_db_f FROM readings"));
        }
    }

    [Theory]
    [InlineData("7/14/2026 10:00")]
    [InlineData("04/07/2026 10:00")]
    public void A_time_that_is_not_iso_needs_a_format(string written) => Assert.Equal("bad_time", TimeTests.Read(TimeTests.Profile("America/Chicago"), written)[0]);

    [Fact]
    public void Without_a_zone_the_offset_gives_the_day_at_the_site()
    {
        using var lake = new SampleLake();
        _ = lake.IngestText(PlainRows.Csv(PlainRows.Row(("visited_at", "2026-07-31T22:30:00-05:00"))));
        Assert.Equal("2026-07-31", lake.One("SELECT visited_on FROM readings"));
    }

    [Fact]
    public void A_return_temperature_typed_in_celsius_does_not_cost_the_supply_temperature()
    {
        using var lake = new SampleLake();
        _ = lake.IngestText(PlainRows.Csv(PlainRows.Row(("return_db_f", "24.5"), ("return_wb_f", ""))));
        Assert.Equal(["NULL", "57"], lake.Query("SELECT return_db_f, supply_db_f FROM readings").Single());
    }

    [Fact]
    public async Task A_disk_that_fails_while_rows_land_ends_the_run_and_does_not_hang_it()
    {
        using var lake = new SampleLake();
        Directory.CreateDirectory(lake.Folder);
        using var landing = new Landing(Path.Combine(lake.Folder, "work"));
        var rejected = new RejectedSpill(Path.Combine(lake.Folder, "rejected"));
        rejected.Dispose(); // stands for a disk that takes no more
        var text = PlainRows.Heading + string.Concat(Enumerable.Repeat("x,y,z\n", 100_000));
        var reading = new SourceReading(SourceProfile.Plain(SourceKind.Csv), "made.csv", landing, rejected, null);
        var run = Task.Run(() => reading.Run(new MemoryStream(System.Text.Encoding.UTF8.GetBytes(text))));
        _ = await Assert.ThrowsAsync<ObjectDisposedException>(() => run.WaitAsync(TimeSpan.FromSeconds(20)));
    }

    /// <summary>A text that ends in a fault, as a damaged compressed file does.</summary>
    private sealed class FailingStream(byte[] bytes) : MemoryStream(bytes)
    {
        public override int Read(byte[] buffer, int offset, int count) => Position < Length ? base.Read(buffer, offset, count) : throw new IOException("made to fail");
    }

    [Fact]
    public void When_a_text_ends_in_a_fault_nothing_lands_any_more()
    {
        using var lake = new SampleLake();
        Directory.CreateDirectory(lake.Folder);
        using var landing = new Landing(Path.Combine(lake.Folder, "work"));
        using var rejected = new RejectedSpill(Path.Combine(lake.Folder, "rejected"));
        var text = System.Text.Encoding.UTF8.GetBytes(PlainRows.Heading + string.Concat(Enumerable.Repeat(PlainRows.Row(), 20_000)));
        var reading = new SourceReading(SourceProfile.Plain(SourceKind.Csv), "made.csv", landing, rejected, null);
        Assert.Throws<IOException>(() => reading.Run(new FailingStream(text)));
        var landed = landing.Rows;
        Thread.Sleep(200);
        Assert.Equal(landed, landing.Rows);
    }

    [Theory]
    [InlineData("plain.csv")]
    [InlineData("plain.ndjson")]
    public void A_line_of_many_megabytes_is_one_rejected_row(string name)
    {
        using var lake = new SampleLake();
        var (before, after) = name.EndsWith(".csv", StringComparison.Ordinal) ? (PlainRows.Heading, PlainRows.Row())
            : ("\n", """{"visit_id":"V1","reading_no":1,"install_id":"I1","crew_id":"C1","visit_kind":"other","visited_at":"2026-07-14T15:00:00Z"}""");
        var summary = lake.IngestText(before + new string('x', 10 * RecordReader.MaxRecord) + "\n" + after, name);
        Assert.Equal((2, 1, 1), (summary.RowsRead, summary.Accepted, summary.RejectedByReason["too_long"]));
        Assert.Equal(["2", "3"], lake.Query("SELECT (SELECT source_line FROM rejected_rows), source_line FROM readings").Single());
    }

    [Fact]
    public void A_rejected_row_whose_kept_text_ends_inside_a_pair_of_surrogates_is_kept()
    {
        using var lake = new SampleLake();
        var summary = lake.IngestText(PlainRows.Heading + "x" + string.Concat(Enumerable.Repeat("😀", 3_000)) + "\n");
        Assert.Equal((1, 1), (summary.RowsRead, summary.Rejected));
        Assert.Equal("x" + string.Concat(Enumerable.Repeat("😀", 1_999)) + "…", lake.One("SELECT raw_text FROM rejected_rows"));
    }

    [Fact]
    public void What_stands_where_headings_should_is_not_shown_without_end()
    {
        using var lake = new SampleLake();
        var columns = new string(',', 100_000);
        Assert.InRange(Assert.Throws<Records.UserError>(() => lake.IngestText("visit_id" + columns.Replace(",", ",x", StringComparison.Ordinal))).Message.Length, 200, 4_000);
        var summary = lake.IngestText(PlainRows.Heading.TrimEnd() + columns.Replace(",", ",y", StringComparison.Ordinal));
        Assert.InRange(Assert.Single(summary.Remarks).Length, 200, 4_000);
        Assert.EndsWith("and 99900 more; map them, or list them under ignored or private", Assert.Single(summary.Remarks), StringComparison.Ordinal);
    }
}
