using System.Diagnostics;
using System.Globalization;
using System.Text;
using Revisit.Simulator;
using Revisit.Storage;
using Xunit.Abstractions;

namespace Revisit.Ingest.Tests;

/// <summary>A simulated fleet of any size streams into a file and from there into a lake, in one process.</summary>
[Collection(nameof(MemoryTests))]
public sealed class FleetStreamTests(ITestOutputHelper output)
{
    private const long Most = 800_000_000;

    /// <summary>
    /// Set REVISIT_READINGS=10000000 for the full size and run it alone; the figures are printed, and memory is held to 800 MB. The readings
    /// spread over more than eleven years: what ingest holds grows with the largest month.
    /// </summary>
    [Fact]
    public void A_fleet_streams_from_the_simulator_into_the_lake()
    {
        var asked = Environment.GetEnvironmentVariable("REVISIT_READINGS");
        var readings = int.Parse(asked ?? "20000", CultureInfo.InvariantCulture);
        using var lake = new SampleLake();
        var path = lake.File("fleet.csv", "");
        var watch = Stopwatch.StartNew();
        using (var file = new StreamWriter(path, append: false, new UTF8Encoding(false), 1 << 16))
        {
            var fleet = FleetSimulator.Rows(new SimulatorSettings { Installs = 10_000_000, FirstDay = new(2015, 5, 1), LastDay = new(2026, 10, 31) });
            Assert.Equal(readings, PlainCsv.Write(file, fleet.Take(readings)));
        }

        Print("simulated", watch);
        output.WriteLine($"{new FileInfo(path).Length / 1e6:0} MB of text");
        watch.Restart();
        var summary = lake.Ingest(null, path).Single();
        Print("taken in", watch);
        output.WriteLine($"read {summary.RowsRead} = accepted {summary.Accepted} + duplicates {summary.Duplicates} + superseded {summary.Superseded} + rejected {summary.Rejected}; set aside {summary.SetAside}");
        var months = Lake.At(lake.Folder).ReadCatalog().Of("readings").ToList();
        output.WriteLine($"{months.Count} months, the largest of {months.Max(m => m.Rows)} readings");
        Assert.Equal((readings, readings), (summary.RowsRead, summary.Accepted));
        Assert.Equal(readings, months.Sum(m => m.Rows));
        Assert.True(asked is null || Process.GetCurrentProcess().PeakWorkingSet64 < Most);
    }

    private void Print(string what, Stopwatch watch) => output.WriteLine(string.Create(CultureInfo.InvariantCulture,
        $"{what} in {watch.Elapsed.TotalSeconds:0} s; the process took {Process.GetCurrentProcess().PeakWorkingSet64 / 1e6:0} MB at most so far"));
}
