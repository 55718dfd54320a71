using System.Text.RegularExpressions;
using Revisit.Cli;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.EndToEnd.Tests;

/// <summary>Names and settings that mean harm: what they hold is shown, never run, and leads nowhere.</summary>
[Collection(SharedRuns.Name)]
public sealed partial class HostileNamesTests(Runs runs) : IDisposable
{
    private readonly TestFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public void Crews_and_installs_of_hostile_names_count_like_any_other()
    {
        // The names of the committed export, each with something that SQL, a shell, a page or a sheet could run.
        string[] harm = ["'; drop view readings; --", "\"; --", "$1", "<img src=x onerror=alert(1)>", "</script><script>alert(1)</script>", "{0}%s", "a'b", "../../etc/passwd"];
        Repository.CopyMonth(folder.Path);
        var path = folder.At("synthetic-data", "exports", "harbor.csv");
        var crews = new List<string>();
        var lines = File.ReadAllLines(path);
        var crew = Array.FindIndex(lines[2].Split(','), h => h.Contains("Crew", StringComparison.OrdinalIgnoreCase));
        Assert.True(crew >= 0, lines[2]);
        var names = lines.Skip(3).Select(l => l.Split(',')).Where(c => c.Length > crew).Select(c => c[crew].Trim('"')).Where(c => CrewName().IsMatch(c)).Distinct().Order(StringComparer.Ordinal).ToList();
        Assert.NotEmpty(names);
        var text = File.ReadAllText(path);
        for (var i = 0; i < names.Count; i++)
        {
            crews.Add(names[i] + harm[i % harm.Length]);
            text = Regex.Replace(text, $@"(?<=,){Regex.Escape(names[i])}(?=,)", ("\"" + crews[i].Replace("\"", "\"\"", StringComparison.Ordinal) + "\"").Replace("$", "$$", StringComparison.Ordinal));
        }

        File.WriteAllText(path, text);
        var pages = MonthlyRun.Run(MonthlySettings.Read(folder.At("pipelines", "monthly.yaml"), anywhere: true), null);
        using var honest = Lake.At(runs.MonthlyLake).OpenSession();
        using var hostile = Lake.At(folder.At("lake")).OpenSession();
        Assert.All(Tables.All.Where(t => t.Name is not ("worklist" or "worklist_sensitivity")), t => Assert.Equal(Count(honest, t.Name), Count(hostile, t.Name)));
        Assert.All(crews, c => Assert.True(Count(hostile, $"readings WHERE crew_id = {LakeSession.Literal(c)}") > 0, c));
        var written = string.Concat(pages.Where(p => p.EndsWith(".html", StringComparison.Ordinal)).Select(File.ReadAllText));
        Assert.DoesNotContain("<img src=x", written, StringComparison.Ordinal);
        Assert.DoesNotContain("<script>alert", written, StringComparison.Ordinal);
        var asked = Command.Run(folder.Path, "crews", "--crew", crews[0], "--lake", "lake");
        Assert.Contains(asked.Code, new[] { 0, 2 });
        Assert.DoesNotContain("   at ", asked.Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("lake: /etc/revisit-lake")]
    [InlineData("pages: ../../elsewhere")]
    [InlineData("worklist: /etc/hostname")]
    [InlineData("inputs: [{ files: /etc/passwd }]")]
    [InlineData("inputs: [{ files: ../*/secret.csv }]")]
    [InlineData("inputs: [{ files: a.csv, profile: ../../other/profile.yaml }]")]
    public void Settings_lead_nowhere_unless_told(string setting)
    {
        var path = folder.Write("settings/monthly.yaml", setting + "\n");
        var refused = Assert.Throws<UserError>(() => MonthlySettings.Read(path));
        Assert.Contains("--anywhere", refused.Message, StringComparison.Ordinal);
        Assert.Contains(setting.Split(": ")[^1].Trim(' ', '}', ']'), refused.Message, StringComparison.Ordinal);
        Assert.False(Directory.Exists(folder.At("elsewhere")));
    }

    [Fact]
    public void Settings_lead_where_they_are_told()
    {
        var path = folder.Write("settings/monthly.yaml", "lake: ../lake\npages: /elsewhere/pages\n");
        Assert.Equal("/elsewhere/pages", MonthlySettings.Read(path, anywhere: true).Pages);
    }

    [Theory]
    [InlineData("a: &a [x, x]\nb: &b [*a, *a]\n", "references")]
    [InlineData("lake: [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]\n", "nested deeper")]
    public void Settings_that_mean_more_than_they_say_are_refused(string text, string why) =>
        Assert.Contains(why, Assert.Throws<UserError>(() => MonthlySettings.Read(folder.Write("monthly.yaml", text))).Message, StringComparison.Ordinal);

    private static long Count(LakeSession session, string from)
    {
        using var reader = session.Query($"SELECT count(*) FROM {from}");
        reader.Read();
        return reader.GetInt64(0);
    }

    [GeneratedRegex("^[A-Za-z]+[ -]?[0-9A-Za-z]+$")]
    private static partial Regex CrewName();
}
