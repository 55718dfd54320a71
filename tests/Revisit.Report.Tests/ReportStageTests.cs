using System.Text.RegularExpressions;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Report.Tests;

public sealed class ReportStageTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("revisit-report-").FullName;

    private string LakeFolder => Path.Combine(folder, "lake");

    private string Out => Path.Combine(folder, "pages");

    public void Dispose() => Directory.Delete(folder, recursive: true);

    private Dictionary<string, string> Pages(string month = SampleFleet.Month, string? note = null)
    {
        using var session = Lake.At(LakeFolder).OpenSession();
        return ReportStage.Run(session, Out, month, note: note).ToDictionary(p => Path.GetFileName(p), File.ReadAllText);
    }

    private void Publish(params (TableContract Table, string Partition, Dictionary<string, object?>[] Rows)[] tables)
    {
        using var publication = Lake.At(LakeFolder).BeginPublication();
        foreach (var (table, partition, rows) in tables)
        {
            publication.Put(table, partition, [Fill.Table(table, rows)]);
        }

        publication.Commit();
    }

    [Fact]
    public void Text_from_outside_shows_as_text()
    {
        const string Bad = "<script>alert(1)</script>\"'=HYPERLINK(\"http://x.example\")</table>";
        var day = new DateOnly(2026, 3, 5);
        Publish(
            (Tables.Installs, "all", [new() { ["install_id"] = Bad, ["crew_id"] = Bad, ["installed_on"] = day, ["nominal_tons"] = 2.0 }]),
            (Tables.FollowUps, "all", [.. Enumerable.Range(0, 25).Select(i => new Dictionary<string, object?>
            {
                ["install_id"] = Bad + i.ToString("D2", System.Globalization.CultureInfo.InvariantCulture), ["crew_id"] = Bad, ["installed_on"] = day, ["follow_up_state"] = "observed", ["follow_up_kind"] = Bad,
                ["followed_up_on"] = day.AddDays(3), ["as_found_finding"] = Bad, ["needed_airflow_correction"] = 1, ["needed_charge_correction"] = 0,
            })]),
            (Tables.VisitOutcomes, "2026-03", [new() { ["visit_id"] = Bad, ["visited_on"] = day, ["as_found_finding"] = Bad, ["as_left_finding"] = Bad, ["outcome"] = Bad }]),
            (Tables.Findings, "2026-03", [new() { ["visit_id"] = Bad, ["reading_no"] = 1, ["visited_on"] = day, ["finding"] = "cannot_judge", ["cannot_judge_because"] = Bad, ["crew_id"] = Bad }]),
            (Tables.Scores, "all", [new() { ["install_id"] = Bad, ["abstains_because"] = Bad, ["model_version"] = Bad, ["scored_on"] = day }]),
            (Tables.Worklist, "all", [new()
            {
                ["rank"] = 1, ["install_id"] = Bad, ["crew_id"] = Bad, ["refrigerant"] = Bad, ["metering"] = Bad, ["finding"] = Bad, ["likely_correction"] = Bad, ["first_checks"] = Bad, ["cautions"] = Bad, ["score_because"] = Bad,
            }]),
            (Tables.Sources, "all", [new() { ["source_id"] = "s", ["source_name"] = Bad, ["profile"] = Bad, ["rows_read"] = 1, ["rows_rejected"] = 1 }]),
            (Tables.RejectedRows, "s", [new() { ["source_id"] = "s", ["source_name"] = Bad, ["source_line"] = 1, ["raw_text"] = Bad + "\0\u202E", ["rejected_reason"] = Bad, ["detail"] = Bad }]),
            (Tables.SetAsideValues, "2026-03", [new() { ["source_id"] = "s", ["source_line"] = 1, ["column_name"] = Bad, ["raw_value"] = Bad, ["set_aside_reason"] = Bad, ["detail"] = Bad, ["suggestion"] = Bad }]));
        foreach (var (file, page) in Pages(note: Bad))
        {
            Assert.DoesNotContain("<script>alert", page, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotContain("=HYPERLINK(\"", page, StringComparison.Ordinal);
            Assert.DoesNotContain('\0', page);
            Assert.DoesNotContain('\u202E', page);
            Assert.Contains("&lt;script&gt;alert(1)&lt;/script&gt;&quot;&#39;=HYPERLINK(&quot;http://x.example&quot;)", page, StringComparison.Ordinal);
            Assert.True(Regex.Count(page, "<table") == Regex.Count(page, "</table>"), file);
        }
    }

    [Theory]
    [InlineData("<img src=\"http://x.example/a.png\">")]
    [InlineData("<style>@import 'https://x.example/a.css'</style>")]
    [InlineData("<p style=\"background:url(//x.example/a)\">")]
    public void The_search_for_loads_finds_one(string markup) => Assert.NotEmpty(PageText.Loads(markup));

    [Fact]
    public void An_empty_lake_gives_pages_that_say_so()
    {
        Publish((Tables.Sources, "all", []));
        var pages = Pages("2031-01");
        Assert.Contains("No install stands in the records up to the end of January 2031.", pages["index.html"], StringComparison.Ordinal);
        Assert.Contains("Nothing in this month&#39;s records calls for a decision.", pages["index.html"], StringComparison.Ordinal);
        Assert.Contains("The worklist is empty", pages["worklist.html"], StringComparison.Ordinal);
        Assert.Contains("No source file has been read.", pages["records.html"], StringComparison.Ordinal);
        Assert.All(pages.Values, p => Assert.DoesNotContain("NaN", PageText.Words(p), StringComparison.Ordinal));
        Assert.All(pages.Values, p => Assert.DoesNotContain("<script", p, StringComparison.Ordinal));
    }

    [Fact]
    public void One_install_with_one_follow_up_is_not_made_a_trend()
    {
        Publish(
            (Tables.Installs, "all", [new() { ["install_id"] = "I1", ["crew_id"] = "C1", ["installed_on"] = new DateOnly(2026, 3, 1), ["nominal_tons"] = 2.0 }]),
            (Tables.FollowUps, "all", [new()
            {
                ["install_id"] = "I1", ["crew_id"] = "C1", ["installed_on"] = new DateOnly(2026, 3, 1), ["follow_up_state"] = "observed", ["followed_up_on"] = new DateOnly(2026, 3, 20),
                ["as_found_finding"] = "in_line", ["needed_airflow_correction"] = 0, ["needed_charge_correction"] = 0,
            }]));
        var words = PageText.Words(Pages()["index.html"]);
        Assert.Contains("In March 2026 crews started up 1 install; 1 stand", words, StringComparison.Ordinal);
        Assert.Contains("needed at 0 of 1 (0 %, 95 % interval 0 to 79 %).", words, StringComparison.Ordinal);
        Assert.Contains("The 1 first follow-up of these twelve months that could be judged was in line.", words, StringComparison.Ordinal);
        Assert.Contains("No crew has 20 judged first follow-ups", words, StringComparison.Ordinal);
    }

    [Fact]
    public void A_file_whose_rows_do_not_add_up_is_named()
    {
        Publish((Tables.Sources, "all", [new() { ["source_id"] = "c", ["source_name"] = "west.csv", ["rows_read"] = 10, ["rows_accepted"] = 9, ["rows_rejected"] = 0 }]));
        var words = PageText.Words(Pages()["records.html"]);
        Assert.Contains("In 1 file the rows do not add up", words, StringComparison.Ordinal);
        Assert.Contains("west.csv 10 9 0 0 0 0 no ", words, StringComparison.Ordinal);
    }

    [Fact]
    public void Tables_counted_beforehand_are_shown_where_the_lake_has_them()
    {
        Publish((Tables.VisitOutcomes, "2026-03", [new() { ["visit_id"] = "V1", ["visited_on"] = new DateOnly(2026, 3, 5), ["outcome"] = "cured" }]));
        Adopt("corrections_worked", "SELECT 'blower_tap' AS correction, 12 AS visits, 6 AS cured, 2 AS better, 1 AS no_change, 1 AS worse, 2 AS cannot_judge, 10 AS judged");
        Adopt("findings_by_size_season", "SELECT '2' AS size_band, 'summer' AS season, 40 AS judged_as_found, 21 AS in_line_findings, 11 AS airflow_findings, 5 AS charge_findings, 3 AS other_findings");
        Adopt("record_quality", "SELECT * FROM (VALUES ('C7', '2026-03', 30, 21, 4, 6, 2, 3, 1), ('C8', '2026-03', 5, 5, 0, 0, 0, 0, 0), ('C7', '2026-02', 99, 98, 0, 0, 0, 0, 0)) t(crew_id, month, readings, judged, values_set_aside, without_wet_bulb, without_pressures, without_run_time, too_early)");
        var pages = Pages();
        Assert.Contains("blower tap 6 2 1 1 2 8 of 10 (80 %, ", PageText.Words(pages["index.html"]), StringComparison.Ordinal);
        Assert.Contains("2 summer 40 21 (", PageText.Words(pages["index.html"]), StringComparison.Ordinal);
        Assert.Contains("C7 21 30 70 % 52 to 83 % 6 2 3 1 4 ", PageText.Words(pages["records.html"]), StringComparison.Ordinal);
        Assert.DoesNotContain("C8", pages["records.html"], StringComparison.Ordinal);
        Assert.DoesNotContain("98", PageText.Words(pages["records.html"]), StringComparison.Ordinal);
    }

    [Fact]
    public void The_first_and_last_day_belong_to_the_month_and_the_days_around_it_do_not()
    {
        var days = new[] { new DateOnly(2026, 2, 28), new(2026, 3, 1), new(2026, 3, 31), new(2026, 4, 1) };
        Publish(
            (Tables.Installs, "all", [.. days.Select((d, i) => new Dictionary<string, object?> { ["install_id"] = $"I{i}", ["installed_on"] = d })]),
            (Tables.FollowUps, "all", [.. days.Select((d, i) => new Dictionary<string, object?>
            {
                ["install_id"] = $"I{i}", ["installed_on"] = d, ["follow_up_state"] = "observed", ["followed_up_on"] = d, ["follow_up_kind"] = "callback", ["needed_airflow_correction"] = 0, ["needed_charge_correction"] = 1,
            })]));
        var words = PageText.Words(Pages()["index.html"]);
        Assert.Contains("In March 2026 crews started up 2 installs; 3 stand in the records at the month's end, and 0 of them", words, StringComparison.Ordinal);
        Assert.Contains("needed at 2 of 2 (", words, StringComparison.Ordinal);
        Assert.Contains("eleven months before, 1 of 1 (", words, StringComparison.Ordinal);
        Assert.Contains("95 % interval callback 3 3 100 %", words, StringComparison.Ordinal);
    }

    [Fact]
    public void A_worklist_of_another_month_is_no_decision_of_this_one()
    {
        Publish(
            (Tables.Scores, "all", [new() { ["install_id"] = "I1", ["scored_on"] = new DateOnly(2026, 3, 31) }]),
            (Tables.Worklist, "all", [new() { ["rank"] = 1, ["install_id"] = "I1" }]));
        Assert.Contains("Whether to send someone to the 1 install on the worklist", PageText.Words(Pages("2026-03")["index.html"]), StringComparison.Ordinal);
        var later = Pages("2026-08");
        Assert.Contains("The worklist at hand was scored for 31 Mar 2026, not for this month.", PageText.Words(later["index.html"]), StringComparison.Ordinal);
        Assert.DoesNotContain("Whether to send someone", PageText.Words(later["index.html"]), StringComparison.Ordinal);
        Assert.Contains("Scores of 31 Mar 2026 are not of this page's month", PageText.Words(later["worklist.html"]), StringComparison.Ordinal);
    }

    [Fact]
    public void A_lake_with_a_demo_source_says_that_its_data_are_invented()
    {
        Publish((Tables.Sources, "all", [new() { ["source_id"] = "d", ["source_name"] = "demo_2026-03.csv" }]));
        Assert.All(Pages().Values, p => Assert.Contains("Invented data", p, StringComparison.Ordinal));
        Publish((Tables.Sources, "all", [new() { ["source_id"] = "d", ["source_name"] = "demolition_row.csv" }]));
        Assert.All(Pages().Values, p => Assert.DoesNotContain("Invented data", p, StringComparison.Ordinal));
    }

    [Fact]
    public void What_a_dead_run_left_is_cleared_and_a_running_one_is_respected()
    {
        Publish((Tables.Sources, "all", []));
        Directory.CreateDirectory(Path.Combine(Out, ".2026-03.new", "half"));
        Directory.CreateDirectory(Path.Combine(Out, ".2026-03.old"));
        Pages();
        Assert.Equal(["2026-03"], Directory.GetFileSystemEntries(Out).Select(Path.GetFileName));
        using (File.Open(Path.Combine(Out, ".2026-03.writing"), FileMode.Create, FileAccess.Write, FileShare.None))
        {
            Assert.Throws<UserError>(() => Pages());
        }

        Assert.Equal(3, Directory.GetFiles(Path.Combine(Out, "2026-03")).Length);
    }

    private void Adopt(string table, string select)
    {
        var path = Path.Combine(folder, table + ".parquet");
        using (var connection = new DuckDB.NET.Data.DuckDBConnection("DataSource=:memory:"))
        {
            connection.Open();
            using var command = connection.CreateCommand();
            command.CommandText = $"COPY ({select}) TO {LakeSession.Literal(path)} (FORMAT parquet)";
            command.ExecuteNonQuery();
        }

        using var publication = Lake.At(LakeFolder).BeginPublication();
        publication.Adopt(table, "all", ".parquet", path, 1, Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(path))));
        publication.Commit();
    }

    [Fact]
    public void A_folder_with_other_files_is_left_alone()
    {
        Publish((Tables.Sources, "all", []));
        var mine = Path.Combine(Out, "2026-03", "my notes.docx");
        Directory.CreateDirectory(Path.GetDirectoryName(mine)!);
        File.WriteAllText(mine, "x");
        Assert.Contains("my notes.docx", Assert.Throws<UserError>(() => Pages()).Message, StringComparison.Ordinal);
        Assert.True(File.Exists(mine));
    }

    [Theory]
    [InlineData("2026-13")]
    [InlineData("March")]
    [InlineData("../2026-03")]
    public void A_month_that_is_none_is_refused(string month)
    {
        Publish((Tables.Sources, "all", []));
        Assert.Throws<UserError>(() => Pages(month));
    }
}
