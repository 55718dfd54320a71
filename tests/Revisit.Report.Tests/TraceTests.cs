using System.Text.RegularExpressions;
using Revisit.Records;

namespace Revisit.Report.Tests;

/// <summary>Every number leads to how it is counted, and that names columns there are.</summary>
public sealed class TraceTests(SamplePages sample) : IClassFixture<SamplePages>
{
    /// <summary>Parts whose numbers stand in the text as it is written for every month.</summary>
    private static readonly string[] Fixed = ["What this rests on", "What to bring", "What to decide", "First checks, in order"];

    [Fact]
    public void Every_part_of_a_page_with_a_number_leads_to_how_it_is_counted()
    {
        var faults = new List<string>();
        var parts = 0;
        foreach (var (file, page) in sample.Pages.Where(p => p.Key != "method.html"))
        {
            var main = page[page.IndexOf("<main>", StringComparison.Ordinal)..page.IndexOf("<footer>", StringComparison.Ordinal)];
            foreach (var part in main.Split("<h2>").Skip(1))
            {
                var title = part[..part.IndexOf("</h2>", StringComparison.Ordinal)];
                if (Fixed.Contains(title) || !Regex.IsMatch(PageText.Words(part[title.Length..]), "[0-9]"))
                {
                    continue;
                }

                parts++;
                if (!Regex.IsMatch(part, "href=\"method.html#counted-[a-z_]+\""))
                {
                    faults.Add($"{file}: {title}");
                }
            }
        }

        Assert.True(parts > 25, $"{parts} parts are too few to prove anything");
        Assert.True(faults.Count == 0, string.Join('\n', faults));
    }

    [Fact]
    public void What_a_part_is_counted_from_are_columns_there_are()
    {
        var marts = Path.Combine(Root(), "pipelines", "sql", "marts");
        Assert.All(Counted.Columns.Values.SelectMany(c => c), named =>
        {
            var (table, column) = (named.Split('.')[0], named.Split('.')[1]);
            Assert.True(Tables.Find(table) is { } contract
                ? contract.Columns.Contains(column)
                : Regex.IsMatch(File.ReadAllText(Path.Combine(marts, table + ".yml")), $"name: {column},"), named);
        });
    }

    private static string Root()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder!.FullName, "Analytics.sln")))
        {
            folder = folder.Parent;
        }

        return folder.FullName;
    }

    /// <summary>Numbers as the page writes them, each counted again with SQL of its own.</summary>
    [Theory]
    [InlineData("index.html", "Installs started up {0} ", "SELECT count(*) FROM installs WHERE year(installed_on) = 2026 AND month(installed_on) = 3")]
    [InlineData("index.html", "Installs in the records at the month's end {0} ", "SELECT count(*) FROM installs WHERE installed_on <= DATE '2026-03-31'")]
    [InlineData("index.html", "Visits of any kind {0} ", "SELECT count(*) FROM visits WHERE strftime(visited_on, '%Y%m') = '202603'")]
    [InlineData("index.html", "Installs without a follow-up yet {0} ", "SELECT count(*) FROM installs WHERE installed_on <= DATE '2026-03-31' AND install_id NOT IN (SELECT install_id FROM follow_ups WHERE followed_up_on <= DATE '2026-03-31')")]
    [InlineData("index.html", "First follow-ups {0} ", "SELECT count(*) FROM follow_ups WHERE followed_up_on BETWEEN DATE '2026-03-01' AND DATE '2026-03-31'")]
    [InlineData("index.html", "First follow-ups that needed a correction {0} of ", "SELECT count(*) FROM follow_ups WHERE followed_up_on BETWEEN DATE '2026-03-01' AND DATE '2026-03-31' AND greatest(needed_airflow_correction, needed_charge_correction) = 1")]
    [InlineData("index.html", "First follow-ups that needed airflow put right {0} of ", "SELECT sum(needed_airflow_correction) FROM follow_ups WHERE followed_up_on BETWEEN DATE '2026-03-01' AND DATE '2026-03-31'")]
    [InlineData("index.html", "First follow-ups that needed charge put right {0} of ", "SELECT sum(needed_charge_correction) FROM follow_ups WHERE followed_up_on BETWEEN DATE '2026-03-01' AND DATE '2026-03-31'")]
    [InlineData("index.html", " callback {0} ", "SELECT sum(greatest(needed_airflow_correction, needed_charge_correction)) FROM follow_ups WHERE follow_up_kind = 'callback' AND followed_up_on BETWEEN DATE '2025-04-01' AND DATE '2026-03-31'")]
    [InlineData("index.html", " too much air {0} ", "SELECT count(*) FROM follow_ups WHERE as_found_finding = 'airflow_high' AND followed_up_on BETWEEN DATE '2025-04-01' AND DATE '2026-03-31'")]
    [InlineData("index.html", " charge low {0} ", "SELECT count(*) FROM follow_ups WHERE as_found_finding = 'charge_low' AND followed_up_on BETWEEN DATE '2025-04-01' AND DATE '2026-03-31'")]
    [InlineData("index.html", " cured {0} ", "SELECT count(*) FROM visit_outcomes WHERE outcome = 'cured' AND visited_on BETWEEN DATE '2025-04-01' AND DATE '2026-03-31'")]
    [InlineData("index.html", " worse {0} ", "SELECT count(*) FROM visit_outcomes WHERE outcome = 'worse' AND visited_on BETWEEN DATE '2025-04-01' AND DATE '2026-03-31'")]
    [InlineData("index.html", " On the list 60 {0} ", "SELECT count(DISTINCT install_id) FROM visits JOIN past_worklists USING (install_id) WHERE visited_on BETWEEN DATE '2026-03-01' AND DATE '2026-03-31'")]
    [InlineData("index.html", " Not on the list {0} ", "SELECT count(*) FROM follow_ups WHERE installed_on <= DATE '2026-02-28' AND coalesce(followed_up_on, DATE '2099-01-01') > DATE '2026-02-28' AND install_id NOT IN (SELECT install_id FROM past_worklists)")]
    [InlineData("worklist.html", " {0} installs cannot be scored;", "SELECT count(*) FROM scores WHERE abstains_because IS NOT NULL")]
    [InlineData("records.html", "north_2026.csv plain {0},", "SELECT rows_read / 1000 FROM sources WHERE source_name = 'north_2026.csv'")]
    [InlineData("records.html", " wrong number of fields {0} ", "SELECT count(*) FROM rejected_rows WHERE rejected_reason = 'wrong_number_of_fields'")]
    [InlineData("records.html", " unit slip {0} ", "SELECT count(*) FROM set_aside_values WHERE set_aside_reason = 'unit_slip'")]
    [InlineData("crews.html", " North 2 {0} ", "SELECT observed FROM crew_rates WHERE crew_id = 'North 2' AND compared = 'airflow'")]
    [InlineData("crews.html", " South 2 {0} ", "SELECT observed FROM crew_rates WHERE crew_id = 'South 2' AND compared = 'charge'")]
    [InlineData("crew-7.html", "(systems up to 2.5 tons) : {0} of ", "SELECT observed FROM crew_mistakes WHERE crew_id = 'West 2'")]
    [InlineData("crew-1.html", " 2025-Q4 {0} ", "SELECT observed FROM crew_quarters WHERE crew_id = 'North 1' AND quarter = '2025-Q4'")]
    public void A_number_counted_again_is_the_same(string file, string words, string sql) =>
        Assert.Contains(string.Format(System.Globalization.CultureInfo.InvariantCulture, words, sample.Ask(sql)), PageText.Words(sample.Pages[file]), StringComparison.Ordinal);
}
