using System.Globalization;
using System.Text.RegularExpressions;

namespace Revisit.EndToEnd.Tests;

/// <summary>The table of faults that were tried, kept in results/faults.md. Tests write their rows when REVISIT_FAULTS is set; without it they try less and write nothing.</summary>
internal static partial class FaultTable
{
    private const string Head = """
        # Faults tried
        Each row is what a test measured, on invented records; made again by `REVISIT_FAULTS=1 dotnet test tests/Revisit.EndToEnd.Tests --filter "HardshipTests|KillTests"` (see DEVELOPERS.md); the tests
        of every build try the same with fewer tries. A row stands here only when every try ended as its result says: the test fails otherwise. Code: the exit codes seen.

        | fault | how it is tried | tries | result | message | code |
        |---|---|---|---|---|---|

        """;

    private static readonly Lock Gate = new();

    /// <summary>Whether as much is tried as the table says.</summary>
    public static bool InFull => Environment.GetEnvironmentVariable("REVISIT_FAULTS") == "1";

    /// <summary>Puts a row into the table, in place of the one of the same fault.</summary>
    /// <param name="fault">The fault; rows stand in the order of their names.</param>
    /// <param name="how">How it was tried.</param>
    /// <param name="tries">How many times.</param>
    /// <param name="result">What came of all tries.</param>
    /// <param name="message">A message that was said, without the folder of the test.</param>
    /// <param name="codes">The exit codes.</param>
    /// <param name="adds">Whether the tries are added to those that the table holds, since all of them take longer than one run should.</param>
    public static void Keep(string fault, string how, int tries, string result, string message, IEnumerable<int> codes, bool adds = false)
    {
        if (!InFull)
        {
            return;
        }

        lock (Gate)
        {
            var path = Path.Combine(Repository.Root, "tests", "Revisit.EndToEnd.Tests", "results", "faults.md");
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            var kept = Rows(path).Where(l => !l.StartsWith($"| {fault} |", StringComparison.Ordinal)).ToArray();
            if (adds && Rows(path).FirstOrDefault(l => l.StartsWith($"| {fault} |", StringComparison.Ordinal)) is { } had)
            {
                tries += int.Parse(had.Split('|')[3], CultureInfo.InvariantCulture);
            }

            var said = Place().Replace(message.Split('\n').FirstOrDefault(l => l.StartsWith("revisit: ", StringComparison.Ordinal)) ?? message, "…").Replace("|", "/", StringComparison.Ordinal).Trim();
            var row = string.Create(CultureInfo.InvariantCulture, $"| {fault} | {how} | {tries} | {result} | {said} | {string.Join(", ", codes.Distinct().Order())} |");
            File.WriteAllText(path, Head + string.Concat(kept.Append(row).Order(StringComparer.Ordinal).Select(l => l + "\n")));
        }
    }

    private static string[] Rows(string path) =>
        File.Exists(path) ? [.. File.ReadAllLines(path).Where(l => l.StartsWith("| ", StringComparison.Ordinal) && !l.StartsWith("| fault |", StringComparison.Ordinal))] : [];

    [GeneratedRegex(@"/[^ ']*revisit-(test|lake)-[^/ ']+")]
    private static partial Regex Place();
}

/// <summary>A test that is tried in full only.</summary>
internal sealed class FactInFullAttribute : FactAttribute
{
    /// <param name="variable">An environment variable that must be set besides.</param>
    public FactInFullAttribute(string? variable = null) =>
        Skip = FaultTable.InFull && (variable is null || Environment.GetEnvironmentVariable(variable) is not null) ? null : $"tried in full only: REVISIT_FAULTS=1 {variable}";
}

/// <summary>Tests that are tried in full only.</summary>
internal sealed class TheoryInFullAttribute : TheoryAttribute
{
    public TheoryInFullAttribute() => Skip = FaultTable.InFull ? null : "tried in full only: REVISIT_FAULTS=1";
}
