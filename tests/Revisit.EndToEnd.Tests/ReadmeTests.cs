using System.Text;
using System.Text.RegularExpressions;

namespace Revisit.EndToEnd.Tests;

/// <summary>The README's commands run as they stand there.</summary>
public partial class ReadmeTests
{
    private static string Readme => File.ReadAllText(Path.Combine(Repository.Root, "README.md"));

    [Fact]
    public void Every_command_of_the_readme_runs()
    {
        var commands = Commands(Readme);
        Assert.Equal(["demo", "diagnose", "ingest", "profile", "run", "sql"], commands.Select(c => c.Arguments[0]).Distinct().Order(StringComparer.Ordinal));

        // One place for all of them, as for a reader who copies the repository: march.csv is one of the exports, and the draft is replaced by its checked profile.
        using var folder = new TestFolder();
        Repository.CopyMonth(folder.Path);
        File.Copy(Repository.Export("harbor.csv"), folder.At("march.csv"));
        foreach (var (arguments, target) in commands)
        {
            // The demo's full fleet takes longer and shows no more here.
            string[] all = arguments is ["demo"] ? ["demo", "--installs", "60"] : arguments;
            var ended = Command.Run(folder.Path, all).Well();
            Assert.NotEmpty(all[0] == "diagnose" ? ended.Error : ended.Out);
            if (target is not null)
            {
                Assert.StartsWith("pipelines/sources/", target, StringComparison.Ordinal);
                File.Copy(Path.Combine(Repository.Root, "pipelines", "sources", "harbor.yaml"), folder.At(target));
            }
        }
    }

    [Fact]
    public void Every_command_is_in_the_table_of_the_readme() => Assert.All(
        ["check", "crews", "demo", "diagnose", "forecast", "ingest", "open", "profile", "report", "run", "simulate", "sql", "train", "worklist"],
        c => Assert.Matches($@"(?m)^\| `revisit {c}\b", Readme));

    [Fact]
    public void A_command_that_is_not_there_is_seen()
    {
        var command = Assert.Single(Commands("text\n```\ndotnet run -c Release --project src/Revisit.Cli -- guess \"a b\" --x > out.csv   # words\n```\n"));
        Assert.Equal(["guess", "a b", "--x"], command.Arguments);
        Assert.Equal("out.csv", command.Target);
        Assert.Equal(1, Command.Run(Path.GetTempPath(), command.Arguments).Code);
    }

    /// <summary>What follows "--" in each line that starts the command, and the file its output goes to.</summary>
    private static List<(string[] Arguments, string? Target)> Commands(string text)
    {
        var commands = new List<(string[], string?)>();
        foreach (var line in text.Split('\n').Select(l => Start().Match(l)).Where(m => m.Success).Select(m => m.Groups[1].Value))
        {
            var words = new List<string>();
            var word = new StringBuilder();
            var (quoted, any) = (false, false);
            foreach (var c in line + " ")
            {
                if (c == '"')
                {
                    (quoted, any) = (!quoted, true);
                }
                else if (c == ' ' && !quoted)
                {
                    if (any)
                    {
                        words.Add(word.ToString());
                        word.Clear();
                        any = false;
                    }
                }
                else
                {
                    word.Append(c);
                    any = true;
                }
            }

            var comment = words.IndexOf("#");
            words = comment < 0 ? words : words[..comment];
            var into = words.IndexOf(">");
            commands.Add(into < 0 ? ([.. words], null) : ([.. words[..into]], words[into + 1]));
        }

        return commands;
    }

    [GeneratedRegex(@"^dotnet run -c Release --project src/Revisit\.Cli -- (.+)$")]
    private static partial Regex Start();
}
