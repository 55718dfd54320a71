namespace Revisit.EndToEnd.Tests;

/// <summary>Training, forecast and worklist as commands over a lake.</summary>
[Collection(SharedRuns.Name)]
public class WorklistTests(Runs runs)
{
    private static string Settings => Path.Combine(Repository.Root, "pipelines", "worklist.yaml");

    [Fact]
    public void The_documented_settings_are_the_defaults_and_the_same_bytes_come_again()
    {
        using var folder = new TestFolder();
        TestFolder.Copy(runs.DemoLake, folder.At("lake"));
        var one = Command.Run(folder.Path, "worklist", "--out", "one").Well();
        Command.Run(folder.Path, "worklist", "--settings", Settings, "--out", "other").Well();
        var (a, b) = (FileHashes.Of(folder.At("one"), ""), FileHashes.Of(folder.At("other"), ""));
        Assert.True(a == b, FileHashes.Difference(a, b));
        Assert.Contains("visits for ", one.Error, StringComparison.Ordinal);
        Assert.True(File.Exists(folder.At("one", "worklist.xlsx")) && File.Exists(folder.At("one", "worklist.ics")));
        Assert.Equal(one.Lines.Length, File.ReadAllLines(folder.At("one", "worklist.csv")).Length - 1);
    }

    [Fact]
    public void Fewer_weeks_and_crews_make_a_shorter_list()
    {
        using var folder = new TestFolder();
        TestFolder.Copy(runs.DemoLake, folder.At("lake"));
        Command.Run(folder.Path, "train", "--month", "2026-06").Well();
        Command.Run(folder.Path, "forecast", "--month", "2026-06").Well();
        var many = Command.Run(folder.Path, "worklist", "--weeks", "2", "--crews", "3").Well();
        var few = Command.Run(folder.Path, "worklist", "--weeks", "1", "--crews", "1").Well();
        Assert.InRange(few.Lines.Length, 1, 25);
        Assert.InRange(few.Lines.Length, 1, many.Lines.Length);
        Assert.StartsWith("2026-07-06", few.Lines[0], StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_wrong_is_said()
    {
        using var folder = new TestFolder();
        Command.Run(folder.Path, "worklist").Fault();
        folder.Write("bad.yaml", "weeks: 0\nfreeze_chance: 3\n");
        TestFolder.Copy(runs.DemoLake, folder.At("lake"));
        var faults = Command.Run(folder.Path, "worklist", "--settings", "bad.yaml").Fault().Error;
        Assert.Contains("weeks is 0", faults, StringComparison.Ordinal);
        Assert.Contains("freeze_chance is 3", faults, StringComparison.Ordinal);
    }
}
