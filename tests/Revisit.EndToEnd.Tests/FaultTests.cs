using System.Diagnostics;
using Revisit.Storage;

namespace Revisit.EndToEnd.Tests;

/// <summary>Faults a user can mend: code 2, a message that says what, nothing published.</summary>
public class FaultTests(Runs runs) : IClassFixture<Runs>
{
    private const string Settings = "inputs:\n  - { files: readings.csv }\n";

    [Theory]
    [InlineData("2031-01")]
    [InlineData("last")]
    public void A_bad_month_names_the_months_there_are(string month)
    {
        using var folder = new TestFolder();
        File.Copy(Path.Combine(runs.Folder, "demo", "data", "readings.csv"), folder.At("readings.csv"));
        var ended = Command.Run(folder.Path, "run", folder.Write("s.yaml", Settings), "--month", month).Fault();
        Assert.Contains($"'{month}'", ended.Error, StringComparison.Ordinal);
        Assert.Contains("2026-10", ended.Error, StringComparison.Ordinal);
        Assert.False(File.Exists(folder.At("lake", "catalog.json")));
        Assert.False(Directory.Exists(folder.At("pages")));
    }

    [Fact]
    public void A_missing_lake_is_said()
    {
        using var folder = new TestFolder();
        var ended = Command.Run(folder.Path, "sql", "select 1", "--lake", "nowhere").Fault();
        Assert.Contains("There is no lake in", ended.Error, StringComparison.Ordinal);
        Assert.Contains("revisit ingest", ended.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void Missing_files_are_named()
    {
        using var folder = new TestFolder();
        Assert.Contains("nofile.yaml", Command.Run(folder.Path, "run", "nofile.yaml").Fault().Error, StringComparison.Ordinal);
        Assert.Contains("nofile.csv", Command.Run(folder.Path, "ingest", "nofile.csv").Fault().Error, StringComparison.Ordinal);
        Assert.Contains("nofile.csv", Command.Run(folder.Path, "profile", "nofile.csv").Fault().Error, StringComparison.Ordinal);
        Assert.Contains("readings.csv", Command.Run(folder.Path, "run", folder.Write("s.yaml", Settings)).Fault().Error, StringComparison.Ordinal);
        Assert.False(File.Exists(folder.At("lake", "catalog.json")));
    }

    [Fact]
    public void An_unknown_profile_says_where_it_looked()
    {
        using var folder = new TestFolder();
        var ended = Command.Run(folder.Path, "ingest", "--profile", "nosuch", folder.Write("a.csv", "a\n1\n")).Fault();
        Assert.Contains("There is no profile 'nosuch'", ended.Error, StringComparison.Ordinal);
        Assert.Contains("nosuch.yaml", ended.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_profile_with_faults_lists_them_all_with_lines()
    {
        using var folder = new TestFolder();
        folder.Write("bad.yaml", "name: bad\nzone: Nowhere/Land\ncolumns:\n  visit_id: A\n  superheet: B\n  outdoor_db_f: { from: C, unit: kPa }\n");
        var ended = Command.Run(folder.Path, "ingest", "--profile", "bad.yaml", folder.Write("a.csv", "A,B,C\n1,2,3\n")).Fault();
        Assert.All(["Nowhere/Land", "bad.yaml:5", "superheet", "bad.yaml:6", "reading_no"], p => Assert.Contains(p, ended.Error, StringComparison.Ordinal));
    }

    [Fact]
    public void Settings_with_an_unknown_key_name_the_line()
    {
        using var folder = new TestFolder();
        var ended = Command.Run(folder.Path, "run", folder.Write("s.yaml", "lake: lake\npagez: p\n")).Fault();
        Assert.Contains("s.yaml:2", ended.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void Diagnose_needs_a_lake()
    {
        using var folder = new TestFolder();
        Command.Run(folder.Path, "diagnose", "--lake", "nowhere").Fault();
        Assert.False(File.Exists(folder.At("nowhere", "catalog.json")));
    }

    [Fact]
    public void A_lake_that_lost_a_file_is_a_clear_fault()
    {
        using var folder = new TestFolder();
        TestFolder.Copy(runs.MonthlyLake, folder.At("lake"));
        File.Delete(Directory.GetFiles(folder.At("lake", "metrics")).Order(StringComparer.Ordinal).First());
        Command.Run(folder.Path, "sql", "select count(*) from metrics").Fault();
    }

    [Fact]
    public void A_second_run_says_that_one_is_at_work()
    {
        using var folder = new TestFolder();
        File.Copy(Path.Combine(runs.Folder, "demo", "data", "readings.csv"), folder.At("readings.csv"));
        folder.Write("s.yaml", Settings);
        using var first = new Running(folder.Path, ["run", "s.yaml"]);
        while (!first.Error.Contains("1/5 ", StringComparison.Ordinal))
        {
            Assert.False(first.HasExited, first.Error);
            Thread.Sleep(5);
        }

        // Held still while it holds the lake, so that the second cannot come too late.
        Signal("STOP", first.Id);
        try
        {
            var second = Command.Run(folder.Path, "run", "s.yaml").Fault();
            Assert.Contains("Another run is working on the lake", second.Error, StringComparison.Ordinal);
        }
        finally
        {
            Signal("CONT", first.Id);
        }

        first.Wait().Well();
        using var session = Lake.At(folder.At("lake")).OpenSession();
    }

    private static void Signal(string name, int id)
    {
        using var kill = Process.Start("kill", ["-" + name, id.ToString(System.Globalization.CultureInfo.InvariantCulture)]);
        kill.WaitForExit();
        Assert.Equal(0, kill.ExitCode);
    }
}
