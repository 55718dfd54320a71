namespace Revisit.EndToEnd.Tests;

/// <summary>What the command says about itself, and its exit codes for a wrong command line.</summary>
public class HelpTests
{
    [Fact]
    public void Says_its_version()
    {
        var ended = Command.Run(Path.GetTempPath(), "--version").Well();
        Assert.Matches(@"^\d+\.\d+\.\d+", ended.Out);
        Assert.Empty(ended.Error);
    }

    [Theory]
    [InlineData("demo")]
    [InlineData("run")]
    [InlineData("report")]
    [InlineData("ingest")]
    [InlineData("diagnose")]
    [InlineData("profile")]
    [InlineData("sql")]
    [InlineData("check")]
    [InlineData("crews")]
    [InlineData("train")]
    [InlineData("forecast")]
    [InlineData("worklist")]
    public void Help_of_each_command_shows_an_example(string command)
    {
        var ended = Command.Run(Path.GetTempPath(), command, "--help").Well();
        var lines = ended.Lines.Select(l => l.Trim()).ToList();
        var heading = lines.FindIndex(l => l is "Example:" or "Examples:");
        Assert.True(heading >= 0, ended.Out);
        Assert.StartsWith($"revisit {command}", lines[heading + 1], StringComparison.Ordinal);
        Assert.Empty(ended.Error);
    }

    [Fact]
    public void Help_lists_every_command_and_the_exit_codes()
    {
        var help = Command.Run(Path.GetTempPath(), "--help").Well().Out;
        Assert.Contains("Exit codes: 0 done; 1", help, StringComparison.Ordinal);
        Assert.All(["demo", "run", "report", "ingest", "diagnose", "profile", "sql", "check", "crews", "train", "forecast", "worklist"], c => Assert.Matches($@"(?m)^\s+{c}\b", help));
    }

    [Theory]
    [InlineData("nosuch")]
    [InlineData("run")]
    [InlineData("sql", "select 1", "--nosuch")]
    [InlineData("demo", "--installs", "many")]
    public void A_wrong_command_line_ends_with_1(params string[] arguments)
    {
        var ended = Command.Run(Path.GetTempPath(), arguments);
        Assert.Equal(1, ended.Code);
        Assert.NotEmpty(ended.Error);
    }
}
