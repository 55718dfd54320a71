using System.Text.RegularExpressions;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Report.Tests;

public sealed partial class ReportStageTests : IDisposable
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

    private int Ask(string sql)
    {
        using var session = Lake.At(LakeFolder).OpenSession();
        using var reader = session.Query(sql);
        reader.Read();
        return (int)reader.GetInt64(0);
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

    /// <summary>What a reader sees: scripts, styles and tags taken away, white space made one.</summary>
    private static string Words(string page) =>
        System.Net.WebUtility.HtmlDecode(Spaces().Replace(Tags().Replace(Blocks().Replace(page, " "), " "), " "));

    [GeneratedRegex("<(script|style)\\b.*?</\\1>", RegexOptions.Singleline)]
    private static partial Regex Blocks();

    [GeneratedRegex("<[^>]*>")]
    private static partial Regex Tags();

    [GeneratedRegex("\\s+")]
    private static partial Regex Spaces();

    [GeneratedRegex("(?:\\b(?:src|href|action|data|poster|srcset)\\s*=\\s*[\"']?|@import\\s+[\"']?|url\\(\\s*[\"']?)([^\"'\\s>)]+)", RegexOptions.IgnoreCase)]
    private static partial Regex Loads();

    [Fact]
    public void The_owner_page_counts_what_the_tables_hold()
    {
        SampleFleet.Write(LakeFolder);
        var words = Words(Pages()["index.html"]);
        const string InMonth = "followed_up_on BETWEEN DATE '2026-03-01' AND DATE '2026-03-31'";
        const string InYear = "followed_up_on BETWEEN DATE '2025-04-01' AND DATE '2026-03-31'";
        var started = Ask("SELECT count(*) FROM installs WHERE strftime(installed_on, '%Y-%m') = '2026-03'");
        var waiting = Ask("SELECT count(*) FROM follow_ups WHERE followed_up_on IS NULL");
        var follow = Ask($"SELECT count(*) FROM follow_ups WHERE {InMonth}");
        var corrected = Ask($"SELECT count(*) FROM follow_ups WHERE {InMonth} AND needed_airflow_correction + needed_charge_correction > 0");
        var yearFollow = Ask($"SELECT count(*) FROM follow_ups WHERE {InYear}");
        var yearCorrected = Ask($"SELECT count(*) FROM follow_ups WHERE {InYear} AND needed_airflow_correction + needed_charge_correction > 0");
        var high = Ask($"SELECT count(*) FROM follow_ups WHERE {InYear} AND as_found_finding = 'airflow_high'");
        var judged = Ask($"SELECT count(*) FROM follow_ups WHERE {InYear} AND as_found_finding <> 'cannot_judge'");
        var cured = Ask("SELECT count(*) FROM visit_outcomes WHERE outcome = 'cured' AND visited_on BETWEEN DATE '2025-04-01' AND DATE '2026-03-31'");
        var work = Ask("SELECT count(*) FROM worklist");
        Assert.True(started > 5 && follow > 5 && corrected > 1 && high > 5 && cured > 5, "the sample is too thin to prove anything");
        Assert.Contains($"In March 2026 crews started up {started} installs; 300 stand in the records at the month's end, and {waiting} of them have had no follow-up yet.", words, StringComparison.Ordinal);
        Assert.Contains($"Of {follow} installs that had their first follow-up, an airflow or charge correction was needed at {corrected} of {follow} (", words, StringComparison.Ordinal);
        Assert.Contains($"eleven months before, {yearCorrected - corrected} of {yearFollow - follow} (", words, StringComparison.Ordinal);
        Assert.Contains($"was too much air, at {high} of {judged} judged first follow-ups", words, StringComparison.Ordinal);
        Assert.Contains($"{cured} ended cured", words, StringComparison.Ordinal);
        Assert.Contains($"The worklist names {work} installs to go back to", words, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_cell_of_sizes_by_seasons_agrees_with_its_own_count()
    {
        SampleFleet.Write(LakeFolder);
        var words = Words(Pages()["index.html"]);
        var summer = Ask("SELECT count(*) FROM follow_ups JOIN installs USING (install_id) WHERE nominal_tons = 2 AND followed_up_on BETWEEN DATE '2025-06-01' AND DATE '2025-08-31'");
        var corrected = Ask("SELECT count(*) FROM follow_ups JOIN installs USING (install_id) WHERE nominal_tons = 2 AND followed_up_on BETWEEN DATE '2025-06-01' AND DATE '2025-08-31' AND needed_airflow_correction + needed_charge_correction > 0");
        Assert.True(summer > 0);
        Assert.Contains($"2.0 tons summer {corrected} {summer} ", words, StringComparison.Ordinal);
        // March belongs to spring, December to winter: the whole year is in the cells.
        Assert.Contains($"{Ask("SELECT count(*) FROM follow_ups WHERE followed_up_on BETWEEN DATE '2025-04-01' AND DATE '2026-03-31'")} first follow-ups of twelve months; darker", words, StringComparison.Ordinal);
    }

    [Fact]
    public void Crews_stand_in_order_of_name_and_only_with_twenty_judged_installs()
    {
        SampleFleet.Write(LakeFolder);
        var page = Pages()["index.html"];
        using var session = Lake.At(LakeFolder).OpenSession();
        using var reader = session.Query("SELECT crew_id, count(*) FROM follow_ups WHERE as_found_finding <> 'cannot_judge' AND followed_up_on BETWEEN DATE '2025-04-01' AND DATE '2026-03-31' GROUP BY 1 ORDER BY 1");
        var section = page[page.IndexOf("<h2>Crews</h2>", StringComparison.Ordinal)..page.IndexOf("<h2>The worklist</h2>", StringComparison.Ordinal)];
        int shown = 0, hidden = 0, last = 0;
        while (reader.Read())
        {
            var at = section.IndexOf($"<td>{reader.GetString(0)}</td>", StringComparison.Ordinal);
            if (reader.GetInt64(1) >= 20)
            {
                shown++;
                Assert.True(at > last, reader.GetString(0));
                last = at;
            }
            else
            {
                hidden++;
                Assert.True(at < 0, reader.GetString(0));
            }
        }

        Assert.True(shown > 0 && hidden > 0, $"the sample must have both: {shown} and {hidden}");
    }

    [Fact]
    public void The_records_page_accounts_for_every_row_and_says_so_when_a_file_does_not_add_up()
    {
        SampleFleet.Write(LakeFolder);
        var words = Words(Pages()["records.html"]);
        Assert.Contains("From 2 source files 1,840 rows were read: 1,810 accepted, 12 exact duplicates, 8 replaced by a later save, 10 rejected. Every row read is accounted for.", words, StringComparison.Ordinal);
        Assert.Contains("unit slip 1 1 ", words, StringComparison.Ordinal);
        Assert.Contains("not a number 1 0 ", words, StringComparison.Ordinal);
        Assert.Contains("unit slip : suction_pressure_psig 814 north_2026.csv, line 17. Expected 5 to 300 psig. Suggestion: reads like kPa.", words, StringComparison.Ordinal);
        Assert.Contains("wrong number of fields 10 ", words, StringComparison.Ordinal);
        Publish((Tables.Sources, "all", [new() { ["source_id"] = "c", ["source_name"] = "west.csv", ["rows_read"] = 10, ["rows_accepted"] = 9, ["rows_rejected"] = 0 }]));
        Assert.Contains("In 1 file the rows do not add up", Words(Pages()["records.html"]), StringComparison.Ordinal);
    }

    [Fact]
    public void The_worklist_puts_cautions_before_the_rows_and_keeps_every_row_in_rank_order()
    {
        SampleFleet.Write(LakeFolder);
        var page = Pages()["worklist.html"];
        Assert.True(page.IndexOf("locked out and proved dead", StringComparison.Ordinal) is > 0 and var caution && caution < page.IndexOf("<table id=\"worklist\"", StringComparison.Ordinal));
        var ranks = Regex.Matches(page, "data-label=\"Rank\" data-value=\"(\\d+)\"").Select(m => m.Groups[1].Value).ToArray();
        Assert.Equal(Enumerable.Range(1, Ask("SELECT count(*) FROM worklist")).Select(r => r.ToString(System.Globalization.CultureInfo.InvariantCulture)), ranks);
        Assert.Equal(ranks.Length, Regex.Count(page, "<details>"));
        Assert.Equal(11, Regex.Count(page, "<th scope=\"col\" aria-sort=\"(none|ascending)\"[^>]*><button type=\"button\">"));
        Assert.Contains("<label for=\"filter\">", page, StringComparison.Ordinal);
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

    [Fact]
    public void A_page_loads_nothing_and_runs_only_its_own_scripts()
    {
        SampleFleet.Write(LakeFolder);
        string[] own = ["index.html", "worklist.html", "records.html"];
        foreach (var (file, page) in Pages())
        {
            // The library's own text is not markup; the policy below keeps it from loading anything.
            var markup = Regex.Replace(page, "<script>.*?</script>", "", RegexOptions.Singleline);
            Assert.All(Loads().Matches(markup), m => Assert.Contains(m.Groups[1].Value, own));
            var policy = System.Net.WebUtility.HtmlDecode(Regex.Match(page, "Content-Security-Policy\" content=\"([^\"]*)\"").Groups[1].Value);
            Assert.StartsWith("default-src 'none';", policy, StringComparison.Ordinal);
            Assert.DoesNotContain("unsafe", policy[policy.IndexOf("script-src", StringComparison.Ordinal)..], StringComparison.Ordinal);
            foreach (Match script in Regex.Matches(page, "<script>(.*?)</script>", RegexOptions.Singleline))
            {
                var hash = Convert.ToBase64String(System.Security.Cryptography.SHA256.HashData(System.Text.Encoding.UTF8.GetBytes(script.Groups[1].Value)));
                Assert.True(policy.Contains($"'sha256-{hash}'", StringComparison.Ordinal), $"{file}: a script is not named in the policy");
            }
        }
    }

    [Theory]
    [InlineData("<img src=\"http://x.example/a.png\">")]
    [InlineData("<style>@import 'https://x.example/a.css'</style>")]
    [InlineData("<p style=\"background:url(//x.example/a)\">")]
    public void The_search_for_loads_finds_one(string markup) => Assert.NotEmpty(Loads().Matches(markup));

    [Fact]
    public void There_is_one_plotting_script_and_only_where_there_are_figures()
    {
        SampleFleet.Write(LakeFolder);
        var pages = Pages();
        Assert.Equal(1, Regex.Count(pages["index.html"], "plotly\\.js v"));
        Assert.All(new[] { "worklist.html", "records.html" }, p => Assert.DoesNotContain("plotly", pages[p], StringComparison.OrdinalIgnoreCase));
        Assert.Equal(
            ["figure-trend", "figure-causes", "figure-sizes", "figure-outcomes"],
            Regex.Matches(pages["index.html"], "<div class=\"plot\" id=\"([^\"]*)\"").Select(m => m.Groups[1].Value));
    }

    [Fact]
    public void The_same_lake_gives_the_same_bytes_under_any_culture()
    {
        SampleFleet.Write(LakeFolder);
        var first = Pages();
        var before = System.Globalization.CultureInfo.CurrentCulture;
        try
        {
            System.Globalization.CultureInfo.CurrentCulture = System.Globalization.CultureInfo.GetCultureInfo("de-DE");
            Assert.Equal(first, Pages());
        }
        finally
        {
            System.Globalization.CultureInfo.CurrentCulture = before;
        }

        Assert.Equal([Path.Combine(Out, SampleFleet.Month)], Directory.GetFileSystemEntries(Out));
    }

    [Fact]
    public void An_empty_lake_gives_pages_that_say_so()
    {
        Publish((Tables.Sources, "all", []));
        var pages = Pages("2031-01");
        Assert.Contains("No install stands in the records up to the end of January 2031.", pages["index.html"], StringComparison.Ordinal);
        Assert.Contains("Nothing in this month&#39;s records calls for a decision.", pages["index.html"], StringComparison.Ordinal);
        Assert.Contains("The worklist is empty", pages["worklist.html"], StringComparison.Ordinal);
        Assert.Contains("No source file has been read.", pages["records.html"], StringComparison.Ordinal);
        Assert.All(pages.Values, p => Assert.DoesNotContain("NaN", Words(p), StringComparison.Ordinal));
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
        var words = Words(Pages()["index.html"]);
        Assert.Contains("In March 2026 crews started up 1 install; 1 stand", words, StringComparison.Ordinal);
        Assert.Contains("needed at 0 of 1 (0 %, 95 % interval 0 to 79 %).", words, StringComparison.Ordinal);
        Assert.Contains("The 1 first follow-up of these twelve months that could be judged was in line.", words, StringComparison.Ordinal);
        Assert.Contains("No crew has 20 judged first follow-ups", words, StringComparison.Ordinal);
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
