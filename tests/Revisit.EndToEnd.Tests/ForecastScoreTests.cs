namespace Revisit.EndToEnd.Tests;

/// <summary>The forecast scored on a simulated fleet by one command.</summary>
public class ForecastScoreTests
{
    [Fact]
    public void A_small_fleet_is_simulated_forecast_and_scored()
    {
        var folder = Directory.CreateTempSubdirectory("revisit-").FullName;
        try
        {
            var lines = Command.Run(folder, "score-forecast", "--fleet", "700", "--fleets", "1").Well().Out.Split('\n');
            Assert.Empty(Directory.EnumerateFileSystemEntries(folder));
            Assert.Matches("^airflow: [a-z_]+ scores on 1 of 1 fleets$", lines[0]);

            // What scores, and each of the others, on the same follow-ups; a random order finds a tenth in a tenth.
            var contenders = lines.Skip(3).TakeWhile(l => l.Length > 0).ToDictionary(l => l[..22].Trim(), l => l[22..]);
            Assert.Equal(6, contenders.Count);
            Assert.StartsWith(" 0.", contenders["what scores"], StringComparison.Ordinal);
            Assert.Contains(" 10.0 % ", contenders["random"], StringComparison.Ordinal);
            Assert.Contains(lines, l => l.StartsWith("charge on installs nobody had gone back to (", StringComparison.Ordinal));
            Assert.Contains(lines, l => l.StartsWith("furthest apart ", StringComparison.Ordinal));

            // Six orders of going back, the worklist first; a fleet this small is soon gone through, so nothing is said of which does better.
            var orders = lines.SkipWhile(l => !l.StartsWith("order ", StringComparison.Ordinal)).Skip(1).TakeWhile(l => l.Length > 0).ToList();
            Assert.Equal(["worklist", "worklist without the solver", "plain ranking", "worst split first", "oldest first", "random"], orders.Select(l => l[..28].Trim()));
            Assert.All(orders, l => Assert.Matches(@"^.{28} +\d+\.0 +\d+\.\d", l));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
