using System.Globalization;
using System.Text.RegularExpressions;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.EndToEnd.Tests;

/// <summary>The demo and the monthly run as a user starts them.</summary>
public partial class MonthTests(Runs runs) : IClassFixture<Runs>
{
    [Fact]
    public void Demo_writes_the_pages_and_the_lake()
    {
        var first = Assert.Single(runs.Demo.Well().Lines);
        Assert.EndsWith("index.html", first, StringComparison.Ordinal);
        var pages = PagesBeside(first);
        Assert.Superset(new HashSet<string?> { "crews.html", "index.html", "method.html", "records.html", "worklist.html" }, pages.Select(Path.GetFileName).ToHashSet());
        Assert.All(pages, p => Assert.Contains("Invented data", File.ReadAllText(p), StringComparison.Ordinal));
        using var session = Lake.At(runs.DemoLake).OpenSession();
        Assert.Equal(120L, One(session, "select count(*) from installs"));
        Assert.Equal(File.ReadLines(Path.Combine(runs.Folder, "demo", "data", "readings.csv")).LongCount() - 1, One(session, "select sum(rows_read)::bigint from sources"));
    }

    [Fact]
    public void A_pdf_without_a_chromium_says_what_to_do()
    {
        using var print = new Running(runs.Folder, ["open", "demo/pages", "--pdf"], ("CHROMIUM", "/nowhere/chromium"));
        Assert.Contains("CHROMIUM names /nowhere/chromium, which is not there", print.Wait().Fault().Error, StringComparison.Ordinal);
    }

    [Fact]
    public void Pages_need_no_network() => Assert.All(
        runs.Demo.Lines.Concat(runs.Monthly.Lines).SelectMany(PagesBeside),
        p => Assert.DoesNotMatch(@"<(script|img|iframe)[^>]+src=""https?:|<link[^>]+href=""https?:|@import|url\(https?:", File.ReadAllText(p)));

    private static string[] PagesBeside(string page) => Directory.GetFiles(Path.GetDirectoryName(page)!, "*.html");

    [Fact]
    public void Progress_goes_to_standard_error()
    {
        Assert.Contains("5/5 writing the pages", runs.Demo.Error, StringComparison.Ordinal);
        Assert.DoesNotContain("/5 ", runs.Demo.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_source_of_the_month_reconciles()
    {
        runs.Monthly.Well();
        var lines = Counts().Matches(runs.Monthly.Error);
        Assert.Equal(Repository.Exports, lines.Select(l => l.Groups["name"].Value));
        Assert.All(lines, l =>
        {
            var count = l.Groups["n"].Captures.Select(c => int.Parse(c.Value, CultureInfo.InvariantCulture)).ToList();
            Assert.Equal(count[0], count.Skip(1).Sum());
            Assert.True(count[1] > 0);
        });

        using var session = Lake.At(runs.MonthlyLake).OpenSession();
        Assert.Equal(4L, One(session, "select count(*) from sources where rows_read = rows_accepted + rows_duplicate + rows_superseded + rows_rejected"));
        Assert.Equal(One(session, "select sum(rows_accepted)::bigint from sources"), One(session, "select count(*) from readings"));
        Assert.Equal(One(session, "select sum(rows_rejected)::bigint from sources"), One(session, "select count(*) from rejected_rows"));
        Assert.Equal(One(session, "select sum(values_set_aside)::bigint from sources"), One(session, "select count(*) from set_aside_values"));
        Assert.Equal(One(session, "select count(*) from readings"), One(session, "select count(*) from metrics"));
        Assert.Equal(One(session, "select count(*) from readings"), One(session, "select count(*) from findings"));
    }

    [Fact]
    public void What_was_planted_in_the_exports_is_found_and_nothing_else()
    {
        // Each export has a key beside it: which line, which column, what is wrong there. The reason given may be another one than was planted.
        runs.Monthly.Well();
        using var session = Lake.At(runs.MonthlyLake).OpenSession();
        foreach (var name in Repository.Exports)
        {
            var keys = File.ReadLines(Repository.Export(Path.GetFileNameWithoutExtension(name) + ".key.csv")).Skip(1).Select(l => l.Split(',')).ToList();
            Assert.Equal(
                keys.Where(k => Codes.Rejected.Contains(k[2])).Select(k => k[0]),
                All(session, "select source_line::varchar from rejected_rows where source_name = $1 order by source_line", name));

            var planted = keys.Where(k => Codes.SetAside.Contains(k[2])).Select(k => $"{k[0]} {k[1]}").ToList();
            var found = All(session, "select a.source_line || ' ' || a.column_name from set_aside_values a join sources s using (source_id) where s.source_name = $1", name);
            Assert.True(planted.Count >= 6, name);
            Assert.Empty(planted.Except(found));
            Assert.Empty(found.Except(planted));
        }
    }

    [Fact]
    public void Private_columns_reach_no_table_and_no_page()
    {
        // Phones and names of the invented customers stand in the exports; no byte of a table or page may hold them.
        Assert.Contains("555-0106", File.ReadAllText(Repository.Export("harbor.csv")), StringComparison.Ordinal);
        Assert.Contains("Customer 004", File.ReadAllText(Repository.Export("lakeside.ndjson")), StringComparison.Ordinal);
        Assert.All(runs.Monthly.Well().Lines, p => Assert.DoesNotMatch("555-01|Customer 0", File.ReadAllText(p)));
        using var session = Lake.At(runs.MonthlyLake).OpenSession();
        foreach (var table in Tables.All)
        {
            var texts = table.Terms.Where(t => t.Kind == ColumnKind.Text).Select(t => $"coalesce({LakeSession.Name(t.Name)}, '')");
            var where = $"regexp_matches(concat_ws('|', {string.Join(", ", texts)}), '555-01|Customer 0')";
            Assert.Equal(0L, One(session, $"select count(*) from {table.Name} where {where}"));
        }
    }

    private static List<string> All(LakeSession session, string sql, params object?[] arguments)
    {
        using var reader = session.Query(sql, arguments);
        var found = new List<string>();
        while (reader.Read())
        {
            found.Add(reader.GetString(0));
        }

        return found;
    }

    private static object One(LakeSession session, string sql)
    {
        using var reader = session.Query(sql);
        Assert.True(reader.Read());
        return reader.GetValue(0);
    }

    [GeneratedRegex(@"(?m)^(?<name>\S+): (?<n>\d+) rows read = (?<n>\d+) accepted \+ (?<n>\d+) duplicates \+ (?<n>\d+) superseded \+ (?<n>\d+) rejected;")]
    private static partial Regex Counts();
}
