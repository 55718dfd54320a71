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
        return ReportStage.Run(session, Out, month, settings: new() { Note = note }).Where(p => p.EndsWith(".html", StringComparison.Ordinal)).ToDictionary(p => Path.GetFileName(p), File.ReadAllText);
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
            (Tables.SetAsideValues, "2026-03", [new() { ["source_id"] = "s", ["source_line"] = 1, ["column_name"] = Bad, ["raw_value"] = Bad, ["set_aside_reason"] = Bad, ["detail"] = Bad, ["suggestion"] = Bad }]),
            (Tables.CopyQuestions, "all", [.. new[] { "2026-Q1", "2025-Q4" }.Select(q => new Dictionary<string, object?> { ["crew_id"] = Bad, ["quarter"] = q, ["visits"] = 5, ["spread_column"] = Bad, ["spread_chance"] = 1e-9, ["adjusted_chance"] = 1e-8, ["is_asked"] = 1 })]),
            (Tables.RepeatedVisits, "all", [new() { ["visit_id"] = Bad, ["crew_id"] = Bad, ["visited_on"] = day, ["earlier_visit_id"] = Bad }]),
            (Tables.CrewRates, "all", [.. new[] { "airflow", Bad }.Select(c => CrewPagesTests.Standing("compared", Bad, c, 20, 30, 10, "more"))]),
            (Tables.CrewMistakes, "all", [CrewPagesTests.Standing("habit", Bad, Bad, 20, 30, 10, "more")]),
            (Tables.CoachingPoints, "all", [CrewPagesTests.Point(Bad, "to_change", 1, Bad)]),
            (Tables.CoachingExamples, "all", [new() { ["crew_id"] = Bad, ["habit"] = Bad, ["sheet_place"] = 1, ["install_id"] = Bad, ["visit_id"] = Bad, ["seen_on"] = day }]),
            (Tables.CrewChanges, "all", [new() { ["crew_id"] = Bad, ["compared"] = Bad, ["direction"] = Bad }]),
            (Tables.CrewQuarters, "all", [new() { ["crew_id"] = Bad, ["compared"] = "airflow", ["quarter"] = Bad, ["judged"] = 3, ["observed"] = 1, ["rate"] = 0.3, ["expected_rate"] = 0.3, ["limit_low"] = 0.0, ["limit_high"] = 1.0 }]));
        var bad = LakeSession.Literal(Bad);
        Adopt("readings_judged", $"SELECT {bad} AS crew_id, m AS month, s AS source_id, {bad} AS source_name, {bad} AS profile, 30 AS readings, 3 AS judged FROM unnest(['2026-03', '2026-02']) t(m), unnest(['a', 'b']) u(s)");
        Adopt("missing_values", $"SELECT {bad} AS crew_id, '2026-03' AS month, {bad} AS column_name, 9 AS readings, 3 AS missing, 1 AS set_aside, 2 AS not_written");
        Adopt("doubts", $"SELECT {bad} AS crew_id, '2026-03' AS month, {bad} AS cannot_judge_reason, 3 AS readings");
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
    public void Without_follow_ups_there_is_no_rate_and_one_crew_is_not_set_against_others()
    {
        Publish(
            (Tables.Installs, "all", [new() { ["install_id"] = "I1", ["crew_id"] = "C1", ["installed_on"] = new DateOnly(2026, 3, 1) }]),
            (Tables.FollowUps, "all", [new() { ["install_id"] = "I1", ["crew_id"] = "C1", ["installed_on"] = new DateOnly(2026, 3, 1), ["follow_up_state"] = "none_yet" }]),
            (Tables.CrewRates, "all", [CrewPagesTests.Standing("compared", "C1", "airflow", 5, 24, 5, "as_expected")]));
        var pages = Pages();
        var words = PageText.Words(pages["index.html"]);
        Assert.Contains("In March 2026 crews started up 1 install; 1 stand in the records at the month's end, and 1 of them", words, StringComparison.Ordinal);
        Assert.Contains("No install had its first follow-up in March 2026, so there is no correction rate for the month.", words, StringComparison.Ordinal);
        Assert.Contains("No install had its first follow-up in these twelve months, so there is nothing to draw.", words, StringComparison.Ordinal);
        Assert.Contains("1 crew has enough judged first follow-ups to be looked at.", PageText.Words(pages["crews.html"]), StringComparison.Ordinal);
        Assert.All(pages.Values, p => Assert.DoesNotContain("NaN", PageText.Words(p), StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(0, "It cannot be told: no worklist of the month before is kept.")]
    [InlineData(4, "It cannot be told yet: fewer than 10 first follow-ups")]
    [InlineData(15, "A correction was needed more often where the list said to go: it was needed at 15 of 15 (100 %, 95 % interval 80 to 100 %), against 0 of 15 (0 %")]
    public void Last_months_list_is_held_against_the_visits_since_where_there_are_enough(int each, string said)
    {
        var listed = new DateOnly(2026, 2, 28);
        Dictionary<string, object?> Install(int i) => new()
        {
            ["install_id"] = $"I{i:00}",
            ["installed_on"] = new DateOnly(2026, 1, 5),
            ["follow_up_state"] = "observed",
            ["followed_up_on"] = listed.AddDays(3),
            ["needed_airflow_correction"] = i < each ? 1 : 0,
            ["needed_charge_correction"] = 0,
        };
        Publish((Tables.FollowUps, "all", [.. Enumerable.Range(0, 2 * each).Select(Install)]));
        if (each > 0) Publish((Tables.PastWorklists, "2026-02", [.. Enumerable.Range(0, each).Select(i => new Dictionary<string, object?> { ["scored_on"] = listed, ["rank"] = i + 1, ["install_id"] = $"I{i:00}" })]));
        Assert.Contains(said, PageText.Words(Pages()["index.html"]), StringComparison.Ordinal);
        // The list of March is of no use for April's page until there is one of March.
        Assert.Contains("It cannot be told: no worklist", PageText.Words(Pages("2026-04")["index.html"]), StringComparison.Ordinal);
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
    public void What_is_judged_and_what_is_missing_is_shown_by_month_by_source_and_by_value()
    {
        Publish((Tables.Findings, "2026-03", [new() { ["visit_id"] = "V1", ["reading_no"] = 1, ["visited_on"] = new DateOnly(2026, 3, 5), ["finding"] = "cannot_judge", ["cannot_judge_because"] = "the findings' own words" }]));
        Adopt("readings_judged", """
            SELECT * FROM (VALUES ('C7', '2026-03', 's1', 'north.csv', 'north', 30, 20), ('C8', '2026-03', 's2', 'west.csv', 'west', 10, 9), ('C8', '2026-03', 's1', 'north.csv', 'north', 10, 0),
                ('C7', '2025-04', 's1', 'north.csv', 'north', 50, 25), ('C7', '2025-03', 's1', 'north.csv', 'north', 77, 66), ('C7', '2026-04', 's1', 'north.csv', 'north', 88, 66))
            t(crew_id, month, source_id, source_name, profile, readings, judged)
            """);
        Adopt("missing_values", """
            SELECT * FROM (VALUES ('C7', '2026-03', 'return_wb_f', 40, 12, 2, 10), ('C8', '2026-03', 'return_wb_f', 10, 1, 0, 1), ('C7', '2026-03', 'phase', 40, 0, 0, 0), ('C8', '2026-03', 'phase', 10, 0, 0, 0),
                ('C7', '2026-03', 'liquid_line_f', 40, 20, 0, 20), ('C8', '2026-03', 'liquid_line_f', 10, 0, 0, 0), ('C7', '2026-03', 'airflow_cfm', 40, 40, 0, 40), ('C8', '2026-03', 'airflow_cfm', 10, 10, 0, 10), ('C7', '2026-02', 'blower_tap', 40, 40, 0, 40))
            t(crew_id, month, column_name, readings, missing, set_aside, not_written)
            """);
        Adopt("doubts", "SELECT * FROM (VALUES ('C7', '2026-03', 'read_too_early', 7), ('C8', '2026-03', 'read_too_early', 2), ('C8', '2026-03', 'too_cold_outdoors', 11), ('C8', '2026-02', 'other', 30)) t(crew_id, month, cannot_judge_reason, readings)");
        var words = PageText.Words(Pages()["records.html"]);
        Assert.Contains("too cold outdoors 11 read too early: let it run longer before reading 9 ", words, StringComparison.Ordinal);
        Assert.DoesNotContain("the findings' own words", words, StringComparison.Ordinal);
        Assert.Contains("north.csv north 20 40 50 % 35 to 65 % west.csv west 9 10 90 % 60 to 98 % ", words, StringComparison.Ordinal);
        Assert.Contains("March 2026 29 50 58 % 44 to 71 % April 2025 25 50 50 % 37 to 63 % ", words, StringComparison.Ordinal);
        Assert.Contains("Values missing in this month's 50 readings", words, StringComparison.Ordinal);
        Assert.Contains("liquid line 20 0 40 % 28 to 54 % return wet bulb 11 2 26 % 16 to 40 % Of help", words, StringComparison.Ordinal);
        Assert.Contains("missing in: airflow (100 %).", words, StringComparison.Ordinal);
    }

    [Fact]
    public void What_looks_copied_is_a_question_with_its_rate_of_being_asked_for_nothing()
    {
        Dictionary<string, object?> Question(string crew, string quarter, int repeated, double repeat, double digit, double spread, double adjusted) => new()
        {
            ["crew_id"] = crew,
            ["quarter"] = quarter,
            ["visits"] = 1_139,
            ["repeated_visits"] = repeated,
            ["repeat_chance"] = repeat,
            ["digits"] = 832,
            ["digit_chance"] = digit,
            ["spread_column"] = "suction_pressure_psig",
            ["spread_ratio"] = 0.31,
            ["spread_chance"] = spread,
            ["adjusted_chance"] = adjusted,
            ["is_asked"] = adjusted < CopyLimits.Asked ? 1 : 0,
        };
        Publish(
            (Tables.CopyQuestions, "all",
            [
                Question("C2", "2026-Q1", 1, 1e-7, 0.5, 1, 0.0067), Question("C1", "2026-Q1", 2, 0.004, 1e-4, 1e-4, 2.34e-4), Question("C3", "2026-Q1", 1, 0.02, 0.5, 1, 0.4),
                Question("C1", "2025-Q4", 39, 0, 0.5, double.NaN, 0), Question("C1", "2025-Q2", 1, 0, 0, 0, 0.5), Question("C1", "2025-Q1", 7, 0, 0, 0, 0), Question("C1", "2026-Q2", 7, 0, 0, 0, 0),
            ]),
            (Tables.RepeatedVisits, "all",
            [
                new() { ["visit_id"] = "V9", ["crew_id"] = "C2", ["visited_on"] = new DateOnly(2026, 3, 31), ["earlier_visit_id"] = "V3", ["compared_columns"] = 11, ["repeated_columns"] = 9 },
                new() { ["visit_id"] = "V8", ["crew_id"] = "C2", ["visited_on"] = new DateOnly(2026, 4, 1), ["earlier_visit_id"] = "V3", ["compared_columns"] = 11, ["repeated_columns"] = 9 },
            ]));
        var words = PageText.Words(Pages()["records.html"]);
        Assert.Contains("In 2026-Q1 there are questions to 2 of the 3 crews looked at. It is a question to ask, not an accusation", words, StringComparison.Ordinal);
        Assert.Contains("at most 1 fleet in 100 would have a crew asked about that copies nothing", words, StringComparison.Ordinal);
        Assert.Contains(
            "2026-Q1 C1 last digits are uneven (832 looked at); suction pressure spreads 31 % as widely as the fleet's at like conditions 1,139 1 in 4,200 "
            + "2026-Q1 C2 1 visit repeats an earlier one 1,139 1 in 140 ", words, StringComparison.Ordinal);
        Assert.Contains("The three quarters before: 1 question, 2 crews and quarters looked at", words, StringComparison.Ordinal);
        Assert.Contains("2025-Q4 C1 39 visits repeat an earlier one 1,139 under 1 in a million ", words, StringComparison.Ordinal);
        Assert.Contains("31 Mar 2026 C2 V9 V3 9 of 11", words, StringComparison.Ordinal);
        Assert.DoesNotContain("V8", words, StringComparison.Ordinal);
        Assert.DoesNotContain("2026-Q2", words, StringComparison.Ordinal);
        Assert.DoesNotContain("2025-Q1", words, StringComparison.Ordinal);

        Publish((Tables.CopyQuestions, "all", [Question("C1", "2026-Q1", 0, 1, 0.5, 1, 1)]), (Tables.RepeatedVisits, "all", []));
        Assert.Contains("In 2026-Q1 there is nothing to ask; crews looked at: 1.", PageText.Words(Pages()["records.html"]), StringComparison.Ordinal);
        Publish((Tables.CopyQuestions, "all", []));
        Assert.DoesNotContain("copied", PageText.Words(Pages()["records.html"]), StringComparison.Ordinal);
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
        Assert.Contains("The newest worklist was scored for 31 Mar 2026, not for August 2026", PageText.Words(later["worklist.html"]), StringComparison.Ordinal);
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

        Assert.Equal(["crews.html", "index.html", "method.html", "records.html", "worklist.html"], Directory.GetFiles(Path.Combine(Out, "2026-03")).Select(Path.GetFileName).Order(StringComparer.Ordinal));
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
