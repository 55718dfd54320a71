using System.Diagnostics;
using System.Globalization;
using Xunit.Abstractions;

namespace Revisit.Simulator.Tests;

/// <summary>A fleet of any size streams: what is held does not grow with it.</summary>
public sealed class StreamTests(ITestOutputHelper output)
{
    /// <summary>Set REVISIT_READINGS=10000000 for the full size; the figures are printed.</summary>
    [Fact]
    public void ReadingsStreamWithBoundedMemory()
    {
        var readings = long.Parse(Environment.GetEnvironmentVariable("REVISIT_READINGS") ?? "60000", CultureInfo.InvariantCulture);
        var watch = Stopwatch.StartNew();
        var written = 0L;
        var (first, highest) = (0L, 0L);
        IEnumerable<SimulatedReading> Counted()
        {
            foreach (var row in FleetSimulator.Rows(new SimulatorSettings { Installs = 10_000_000 }))
            {
                yield return row;
                if (++written == readings)
                    yield break;
                if (written % (readings / 6) == 0)
                {
                    var live = GC.GetTotalMemory(forceFullCollection: true);
                    first = first == 0 ? live : first;
                    highest = Math.Max(highest, live);
                }
            }
        }

        using var nowhere = new StreamWriter(Stream.Null);
        Assert.Equal(readings, PlainCsv.Write(nowhere, Counted()));
        var process = Process.GetCurrentProcess();
        output.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{written} readings in {watch.Elapsed.TotalSeconds:0} s; live memory {first / 1e6:0.0} MB at first, {highest / 1e6:0.0} MB at most; process at most {process.PeakWorkingSet64 / 1e6:0} MB"));
        Assert.True(highest < first + 20_000_000, $"live memory grew from {first} to {highest} bytes");
        Assert.True(highest < 800_000_000);
    }
}
