using System.Text.Json;

namespace Revisit.EndToEnd.Tests;

/// <summary>Crews in the terminal, on the lake of the small demo: too few installs to set any crew apart, and said so.</summary>
[Collection(SharedRuns.Name)]
public class CrewsTests(Runs runs)
{
    [Fact]
    public void Every_crew_has_a_line_a_row_for_each_comparison_and_an_object()
    {
        var crews = runs.Sql("select distinct crew_id from installs order by 1", "--csv").Well().Lines[1..];
        var list = Crews().Well().Lines;
        Assert.Equal(crews, list.SkipWhile(l => !l.StartsWith("crew ", StringComparison.Ordinal)).Skip(1).TakeWhile(l => !l.StartsWith("Did corrections", StringComparison.Ordinal)).Select(l => l.Split(' ')[0]));
        Assert.Contains(list, l => l.Contains("complaints included", StringComparison.Ordinal));

        var csv = Crews("--csv").Well().Lines;
        Assert.Equal(runs.Sql("select count(*) from (select crew_id from crew_rates union all select crew_id from crew_mistakes)", "--csv").Well().Lines[1], $"{csv.Length - 1}");
        Assert.All(csv[1..], l => Assert.Equal(csv[0].Split(',').Length, l.Split(',').Length));

        var objects = Crews("--json").Well().Lines.Select(l => JsonDocument.Parse(l).RootElement).ToList();
        Assert.Equal(crews, objects.Select(o => o.GetProperty("crew_id").GetString()!));
        Assert.All(objects.Where(o => o.GetProperty("judged").GetInt32() < 20), o => Assert.Equal(0, o.GetProperty("habits").GetArrayLength()));
        IEnumerable<string> Points(JsonElement crew, string of, string part, Func<JsonElement, JsonElement> standing) =>
            crew.GetProperty(of).EnumerateArray().Select(p => $"{crew.GetProperty("crew_id").GetString()},{part},{standing(p).GetProperty("compared").GetString()}");
        Assert.Equal(
            runs.Sql("select crew_id, sheet_part, sheet_point from coaching_points order by crew_id, sheet_part, sheet_place", "--csv").Well().Lines[1..],
            objects.SelectMany(o => Points(o, "goes_well", "goes_well", p => p).Concat(Points(o, "habits", "to_change", p => p.GetProperty("habit")))));
    }

    [Fact]
    public void One_crew_is_told_in_full_or_that_there_is_too_little()
    {
        var crew = runs.Sql("select min(crew_id) from installs", "--csv").Well().Lines[1];
        var sheet = Crews("--crew", crew).Well();
        Assert.StartsWith($"Crew {crew}", sheet.Out, StringComparison.Ordinal);
        Assert.True(sheet.Out.Contains("What goes well", StringComparison.Ordinal) || sheet.Out.Contains("Too few judged installs", StringComparison.Ordinal), sheet.Out);
    }

    /// <summary>As known at the end of an earlier month there is less to go by, and the tables of the lake say the same as the command.</summary>
    [Fact]
    public void A_month_takes_back_what_was_not_yet_known()
    {
        int Judged(params string[] options) => Crews(["--csv", .. options]).Well().Lines[1..].Select(l => l.Split(',')).Where(c => c[1] == "airflow").Sum(c => int.Parse(c[2], System.Globalization.CultureInfo.InvariantCulture));
        var month = runs.Sql("select strftime(min(followed_up_on) + interval 2 month, '%Y-%m') from follow_ups", "--csv").Well().Lines[1];
        Assert.InRange(Judged("--month", month), 0, Judged() - 1);
        Assert.Equal(runs.Sql("select sum(judged) from crew_rates where compared = 'airflow'", "--csv").Well().Lines[1], $"{Judged()}");
    }

    /// <summary>What was corrected is shown for all crews, and by technician for a crew that installs nothing; the counts are the table's. Habits are said in words.</summary>
    [Fact]
    public void Corrections_are_shown_by_kind_and_by_technician()
    {
        var list = Crews().Well();
        var row = runs.Sql("select crew_id, technician_id, correction, visits from corrections_by_technician where crew_id not in (select crew_id from crew_rates) order by visits desc, 1, 2, 3 limit 1", "--csv").Well().Lines[1].Split(',');
        Assert.Contains("Did corrections work, at visits of all crews", list.Out, StringComparison.Ordinal);
        Assert.DoesNotContain(list.Out.Split(' ', ',', ';', '\n'), word => Records.Codes.Habit.Contains(word));
        var crew = Crews("--crew", row[0]).Well();
        Assert.Contains("no installs on record", crew.Out, StringComparison.Ordinal);
        var kind = Array.FindIndex(crew.Lines, l => l.StartsWith("  " + row[2].Replace('_', ' ') + " ", StringComparison.Ordinal));
        Assert.Matches($@"^    by {row[1]} +{row[3]} visits", crew.Lines.Skip(kind + 1).First(l => l.Contains($"by {row[1]} ", StringComparison.Ordinal)));
    }

    [Theory]
    [InlineData("There is no crew 'Nobody'", "--crew", "Nobody")]
    [InlineData("'2026-13' is no month", "--month", "2026-13")]
    public void What_does_not_exist_is_said(string said, params string[] options) => Assert.Contains(said, Crews(options).Fault().Error, StringComparison.Ordinal);

    private Ended Crews(params string[] options) => Command.Run(runs.Folder, ["crews", "--lake", runs.DemoLake, .. options]);
}
