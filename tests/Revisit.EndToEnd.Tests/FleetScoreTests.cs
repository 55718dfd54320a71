using System.Globalization;
using System.Text.RegularExpressions;

namespace Revisit.EndToEnd.Tests;

/// <summary>The method scored on a simulated fleet by one command.</summary>
public class FleetScoreTests
{
    [Fact]
    public void A_small_fleet_is_simulated_judged_and_scored()
    {
        var folder = Directory.CreateTempSubdirectory("revisit-").FullName;
        try
        {
            var lines = Command.Run(folder, "score-method", "--fleet", "250").Well().Out.Split('\n');
            Assert.Empty(Directory.EnumerateFileSystemEntries(folder));
            var table = lines.Skip(1).TakeWhile(l => l.Length > 0).ToList();
            Assert.StartsWith("sound ", table[0], StringComparison.Ordinal);
            var readings = table.ToDictionary(l => l[..31].Trim(), l => int.Parse(l[31..41], CultureInfo.InvariantCulture));
            Assert.InRange(readings.Values.Sum(), 250, 700);

            // What a diagnosis worth the name does on 250 installs: most sound systems left alone, most large airflow faults named.
            Assert.InRange(FirstShare(table[0][53..]), 50, 100);
            var airflow = table.Single(l => l.StartsWith("airflow_low ", StringComparison.Ordinal) && l.Contains(" 30 %", StringComparison.Ordinal));
            Assert.InRange(FirstShare(airflow[53..]), 50, 100);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static double FirstShare(string text) => double.Parse(Regex.Match(text, @"\d+\.\d").Value, CultureInfo.InvariantCulture);
}
