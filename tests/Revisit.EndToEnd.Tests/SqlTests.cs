using System.Globalization;
using System.Text.Json;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.EndToEnd.Tests;

/// <summary>Questions to the lake through the command.</summary>
public class SqlTests(Runs runs) : IClassFixture<Runs>
{
    [Fact]
    public void Counts_metrics()
    {
        var lines = runs.Sql("select count(*), count(superheat_f) from metrics", "--csv").Well().Lines;
        var counts = lines[1].Split(',').Select(Number).ToArray();
        Assert.Equal(File.ReadLines(Path.Combine(runs.Folder, "demo", "data", "readings.csv")).Count() - 1, counts[0]);
        Assert.InRange(counts[1], counts[0] / 2, counts[0]);
    }

    [Fact]
    public void Every_column_of_every_table_answers()
    {
        var sql = string.Join(" union all ", Tables.All.Select(t =>
            $"select '{t.Name}' as name, count(*) as n, {string.Join(" + ", t.Columns.Select(c => $"count({LakeSession.Name(c)})"))} as values_held from {t.Name}"));
        var lines = runs.Sql(sql, "--csv").Well().Lines.Skip(1).Select(l => l.Split(',')).ToDictionary(l => l[0], l => (Rows: Number(l[1]), Values: Number(l[2])));
        Assert.Equal(Tables.All.Select(t => t.Name).Order(), lines.Keys.Order());
        TableContract[] mayBeEmpty = [Tables.RejectedRows, Tables.SetAsideValues, Tables.RepeatedVisits, Tables.CrewChanges, Tables.CoachingPoints, Tables.CoachingExamples];
        Assert.All(Tables.All.Except(mayBeEmpty), t => Assert.True(lines[t.Name].Rows > 0 && lines[t.Name].Values > lines[t.Name].Rows, t.Name));
    }

    [Fact]
    public void Lists_the_tables() =>
        Assert.Empty(Tables.All.Select(t => t.Name).Except(runs.Sql("show tables").Well().Lines.Select(l => l.Trim())));

    [Theory]
    [InlineData("copy (select 1) to 'x.csv'")]
    [InlineData("create table t (a int)")]
    [InlineData("select 1; drop view metrics")]
    [InlineData("delete from readings")]
    [InlineData("set threads = 1")]
    [InlineData("attach 'x.db'")]
    [InlineData("select * from nosuch")]
    public void Refuses_all_but_a_select(string sql)
    {
        runs.Sql(sql).Fault();
        Assert.False(File.Exists(Path.Combine(runs.Folder, "x.csv")) || File.Exists(Path.Combine(runs.Folder, "x.db")));
    }

    [Fact]
    public void Reads_nothing_outside_the_lake()
    {
        var outside = Path.Combine(runs.Folder, "outside.csv");
        File.WriteAllText(outside, "a\nsecret\n");
        foreach (var sql in new[] { $"select * from read_csv('{outside}')", $"select * from '{outside}'", $"select * from read_text('{runs.DemoLake}/../../outside.csv')" })
        {
            Assert.DoesNotContain("secret", runs.Sql(sql).Fault().Error, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Csv_quotes_and_defuses()
    {
        var lines = runs.Sql("select '=1+1' as a, 'b,\"c' as b, '-x' as c, -1.5::double as d, '@f' as e, '+1' as f, e'\\tg' as g, 'plain' as h, null as i", "--csv").Well().Out;
        Assert.Equal("a,b,c,d,e,f,g,h,i\n'=1+1,\"b,\"\"c\",'-x,-1.5,'@f,'+1,'\tg,plain,\n", lines);
    }

    [Fact]
    public void Json_parses()
    {
        var lines = runs.Sql("select visit_id, reading_no, visited_at, visited_on, outdoor_db_f, cast(null as double) as nothing, 'a\"b\\c' || chr(10) as text from readings order by 1, 2 limit 3", "--json").Well().Lines;
        Assert.Equal(3, lines.Length);
        Assert.All(lines, line =>
        {
            using var row = JsonDocument.Parse(line);
            Assert.Equal(7, row.RootElement.EnumerateObject().Count());
            Assert.Equal(JsonValueKind.Null, row.RootElement.GetProperty("nothing").ValueKind);
            Assert.Equal("a\"b\\c\n", row.RootElement.GetProperty("text").GetString());
            Assert.Equal(JsonValueKind.Number, row.RootElement.GetProperty("reading_no").ValueKind);
            Assert.Matches(@"^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ$", row.RootElement.GetProperty("visited_at").GetString()!);
            Assert.Matches(@"^\d{4}-\d\d-\d\d$", row.RootElement.GetProperty("visited_on").GetString()!);
        });
    }

    [Fact]
    public void A_second_select_is_refused() => runs.Sql("select 1; select 2").Fault();

    [Fact]
    public void An_empty_question_is_a_clear_fault() => runs.Sql("").Fault();

    [Fact]
    public void Json_takes_what_a_query_can_give()
    {
        var lines = runs.Sql("select 1 as a, 2 as a, sum(reading_no) as total, 'nan'::double as n from readings", "--json");
        Assert.NotEqual(3, lines.Code);
        if (lines.Code == 0)
        {
            using var row = JsonDocument.Parse(lines.Out);
            Assert.Equal(JsonValueKind.Number, row.RootElement.GetProperty("total").ValueKind);
        }
        else
        {
            lines.Fault();
        }
    }

    private static long Number(string text) => long.Parse(text, CultureInfo.InvariantCulture);
}
