using System.Text.RegularExpressions;

namespace Revisit.Report.Tests;

/// <summary>The pages of the invented fleet against counts made apart from the page's own queries.</summary>
public sealed class SamplePagesTests(SamplePages sample) : IClassFixture<SamplePages>
{
    [Fact]
    public void The_owner_page_counts_what_the_tables_hold()
    {
        var words = PageText.Words(sample.Pages["index.html"]);
        const string InMonth = "followed_up_on BETWEEN DATE '2026-03-01' AND DATE '2026-03-31'";
        const string InYear = "followed_up_on BETWEEN DATE '2025-04-01' AND DATE '2026-03-31'";
        var started = sample.Ask("SELECT count(*) FROM installs WHERE strftime(installed_on, '%Y-%m') = '2026-03'");
        var waiting = sample.Ask("SELECT count(*) FROM follow_ups WHERE followed_up_on IS NULL");
        var follow = sample.Ask($"SELECT count(*) FROM follow_ups WHERE {InMonth}");
        var corrected = sample.Ask($"SELECT count(*) FROM follow_ups WHERE {InMonth} AND needed_airflow_correction + needed_charge_correction > 0");
        var yearFollow = sample.Ask($"SELECT count(*) FROM follow_ups WHERE {InYear}");
        var yearCorrected = sample.Ask($"SELECT count(*) FROM follow_ups WHERE {InYear} AND needed_airflow_correction + needed_charge_correction > 0");
        var high = sample.Ask($"SELECT count(*) FROM follow_ups WHERE {InYear} AND as_found_finding = 'airflow_high'");
        var judged = sample.Ask($"SELECT count(*) FROM follow_ups WHERE {InYear} AND as_found_finding <> 'cannot_judge'");
        var cured = sample.Ask("SELECT count(*) FROM visit_outcomes WHERE outcome = 'cured' AND visited_on BETWEEN DATE '2025-04-01' AND DATE '2026-03-31'");
        var work = sample.Ask("SELECT count(*) FROM worklist");
        Assert.True(started > 5 && follow > 5 && corrected > 1 && high > 5 && cured > 5, "the sample is too thin to prove anything");
        Assert.Contains($"In March 2026 crews started up {started} installs; 300 stand in the records at the month's end, and {waiting} of them have had no follow-up yet.", words, StringComparison.Ordinal);
        Assert.Contains($"Of {follow} installs that had their first follow-up, an airflow or charge correction was needed at {corrected} of {follow} (", words, StringComparison.Ordinal);
        Assert.Contains($"eleven months before, {yearCorrected - corrected} of {yearFollow - follow} (", words, StringComparison.Ordinal);
        Assert.Contains($"The fault most often found over twelve months was too much air, at {high} of {judged} judged first follow-ups", words, StringComparison.Ordinal);
        Assert.Contains($"{cured} ended cured", words, StringComparison.Ordinal);
        Assert.Contains($"The worklist names {work} installs to go back to", words, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_cell_of_sizes_by_seasons_agrees_with_its_own_count()
    {
        var words = PageText.Words(sample.Pages["index.html"]);
        var summer = sample.Ask("SELECT count(*) FROM follow_ups JOIN installs USING (install_id) WHERE nominal_tons = 2 AND followed_up_on BETWEEN DATE '2025-06-01' AND DATE '2025-08-31'");
        var corrected = sample.Ask("SELECT count(*) FROM follow_ups JOIN installs USING (install_id) WHERE nominal_tons = 2 AND followed_up_on BETWEEN DATE '2025-06-01' AND DATE '2025-08-31' AND needed_airflow_correction + needed_charge_correction > 0");
        Assert.True(summer > 0);
        Assert.Contains($"2.0 tons summer {corrected} {summer} ", words, StringComparison.Ordinal);
        // March belongs to spring, December to winter: the whole year is in the cells.
        Assert.Contains($"{sample.Ask("SELECT count(*) FROM follow_ups WHERE followed_up_on BETWEEN DATE '2025-04-01' AND DATE '2026-03-31'")} first follow-ups of twelve months; darker", words, StringComparison.Ordinal);
    }

    [Fact]
    public void The_pages_in_spanish_hold_no_english_and_say_so()
    {
        var pages = sample.With(new() { Language = "es", Note = "Datos inventados." });
        foreach (var (file, page) in pages)
        {
            Assert.Contains("<html lang=\"es\">", page, StringComparison.Ordinal);
            // Names of columns, files and published works stay as they are.
            var words = PageText.Words(Regex.Replace(page, "<code>.*?</code>", " ", RegexOptions.Singleline));
            Assert.True(!Regex.IsMatch(words, @"\b(the|of|with|and|from|was|were|is|at|under|over|read|reading|charge|airflow|crew)\b") || file == "method.html", file + ": " + Regex.Match(words, @".{0,40}\b(the|of|with|and|from|was|were|is|at|under|over|read|reading|charge|airflow|crew)\b.{0,40}").Value);
        }

        Assert.Contains("Instalaciones y seguimientos, marzo de 2026", pages["index.html"], StringComparison.Ordinal);
        Assert.Contains("31 mar 2026", pages["worklist.html"], StringComparison.Ordinal);
        Assert.Contains("Corte la energía, bloquéela con candado", pages["brief-1.html"], StringComparison.Ordinal);
    }

    [Fact]
    public void The_records_page_accounts_for_every_row()
    {
        var words = PageText.Words(sample.Pages["records.html"]);
        Assert.Contains("From 2 source files 1,840 rows were read: 1,810 accepted, 12 exact duplicates, 8 replaced by a later save, 10 rejected. Every row read is accounted for.", words, StringComparison.Ordinal);
        Assert.Contains("unit slip 1 1 ", words, StringComparison.Ordinal);
        Assert.Contains("not a number 1 0 ", words, StringComparison.Ordinal);
        Assert.Contains("unit slip : suction pressure 814 north_2026.csv, line 17. 814 psig is outside -15 to 300 Suggestion: reads like kPa (118 psig).", words, StringComparison.Ordinal);
        Assert.Contains("wrong number of fields 10 ", words, StringComparison.Ordinal);
    }

    [Fact]
    public void The_worklist_puts_cautions_before_the_rows_and_keeps_every_row_in_rank_order()
    {
        var page = sample.Pages["worklist.html"];
        Assert.True(page.IndexOf("locked out and proved dead", StringComparison.Ordinal) is > 0 and var caution && caution < page.IndexOf("<table id=\"worklist\"", StringComparison.Ordinal));
        var ranks = Regex.Matches(page, "data-label=\"Rank\" data-value=\"(\\d+)\"").Select(m => m.Groups[1].Value).ToArray();
        Assert.Equal(Enumerable.Range(1, sample.Ask("SELECT count(*) FROM worklist")).Select(r => r.ToString(System.Globalization.CultureInfo.InvariantCulture)), ranks);
        Assert.Equal(ranks.Length, Regex.Count(page, "<details>"));
        Assert.Equal(10, Regex.Count(page, "<th scope=\"col\" aria-sort=\"(none|ascending)\"[^>]*><button type=\"button\">"));
        Assert.Contains("<label for=\"filter\">", page, StringComparison.Ordinal);
    }

    [Fact]
    public void A_brief_sets_the_readings_against_what_is_expected_after_cautions_and_checks()
    {
        var words = PageText.Words(sample.Pages["brief-1.html"]);
        Assert.True(words.IndexOf("proved dead", StringComparison.Ordinal) is > 0 and var caution && caution < words.IndexOf("First checks, in order", StringComparison.Ordinal));
        Assert.Contains("Finding: too much air, 93 % sure. For too much air over in line: split 5.3 °F under expected (±1.1), measured", words, StringComparison.Ordinal);
        Assert.Contains("Ran 20 min, outdoors 88.0 °F, static —, tap high, filter clean.", words, StringComparison.Ordinal);
        Assert.Contains("Temperature split, °F 15.1 ± 1.6 20.4 -5.3 ± 2.2 Subcooling, °F 10.5 ± 1.4 10.0 0.5 ± 1.4 ", words, StringComparison.Ordinal);
        Assert.Contains("Planned for 2 Apr 2026, 08:20, with crew 1 of those that go back; 90 minutes on site.", words, StringComparison.Ordinal);
        Assert.Contains("2 Apr 2026 north 1 08:20 ", PageText.Words(sample.Pages["worklist.html"]), StringComparison.Ordinal);
        Assert.Contains("No reading of this install is on record.", PageText.Words(sample.Pages["brief-2.html"]), StringComparison.Ordinal);
    }

    [Fact]
    public void A_page_loads_nothing_and_runs_only_its_own_scripts()
    {
        string[] own = [.. sample.Pages.Keys, "plotly.js"];
        foreach (var (file, page) in sample.Pages)
        {
            // The library's own text is not markup; the policy below keeps it from loading anything.
            var markup = Regex.Replace(page, "<script>.*?</script>", "", RegexOptions.Singleline);
            Assert.All(PageText.Loads(markup), l => Assert.Contains(l.Split('#')[0], own));
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

    [Fact]
    public void There_is_one_plotting_script_and_only_where_there_are_figures()
    {
        var pages = sample.Pages;
        Assert.Contains("plotly.js v", File.ReadAllText(Path.Combine(sample.Out, SampleFleet.Month, "plotly.js")), StringComparison.Ordinal);
        Assert.Equal(1, Regex.Count(pages["index.html"], "<script src=\"plotly.js\">"));
        Assert.All(new[] { "worklist.html", "records.html" }, p => Assert.DoesNotContain("plotly", pages[p], StringComparison.OrdinalIgnoreCase));
        Assert.Equal(
            ["figure-trend", "figure-causes", "figure-sizes", "figure-outcomes", "figure-funnel-airflow"],
            Regex.Matches(pages["index.html"], "<div class=\"plot\" id=\"([^\"]*)\"").Select(m => m.Groups[1].Value));
    }

    [Fact]
    public void The_same_lake_gives_the_same_bytes_under_any_culture()
    {
        var first = sample.Pages;
        var before = System.Globalization.CultureInfo.CurrentCulture;
        try
        {
            System.Globalization.CultureInfo.CurrentCulture = System.Globalization.CultureInfo.GetCultureInfo("de-DE");
            Assert.Equal(first, sample.Write());
        }
        finally
        {
            System.Globalization.CultureInfo.CurrentCulture = before;
        }

        Assert.Equal([Path.Combine(sample.Out, SampleFleet.Month)], Directory.GetFileSystemEntries(sample.Out));
    }

    [Fact]
    public void The_cost_of_faults_is_the_middle_of_the_readings_that_have_one()
    {
        const string Faults = "follow_ups JOIN findings ON visit_id = follow_up_visit_id WHERE as_found_finding NOT IN ('in_line', 'cannot_judge') AND followed_up_on BETWEEN DATE '2025-04-01' AND DATE '2026-03-31' AND extra_energy_pct IS NOT NULL";
        var of = sample.Ask($"SELECT count(*) FROM {Faults}");
        using var session = sample.Lake.OpenSession();
        using var reader = session.Query($"SELECT extra_energy_pct FROM {Faults} ORDER BY 1");
        var values = new List<double>();
        while (reader.Read())
        {
            values.Add(reader.GetDouble(0));
        }

        var middle = (values[(values.Count - 1) / 2] + values[values.Count / 2]) / 2;
        Assert.True(of > 10);
        Assert.Contains(
            string.Create(System.Globalization.CultureInfo.InvariantCulture, $"because of the fault, at the {of} follow-ups where it could be computed: {middle:F1} % in the middle"),
            PageText.Words(sample.Pages["index.html"]), StringComparison.Ordinal);
    }
}
