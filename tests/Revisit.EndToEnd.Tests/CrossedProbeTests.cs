using System.Globalization;
using Revisit.Ingest;
using Revisit.Simulator;
using Revisit.Storage;
using Xunit.Abstractions;

namespace Revisit.EndToEnd.Tests;

/// <summary>
/// Exchanged probes on a simulated fleet: none is seen where none was exchanged, and most are where they were. Sheets copied from an earlier visit are left out:
/// two of 600,000 hold a day's outdoor air against another day's lines and look exchanged. The fleet is invented: the shares
/// seen say nothing about the field, only that the rules and the simulator's physics agree.
/// </summary>
public sealed class CrossedProbeTests(ITestOutputHelper output)
{
    /// <summary>Set REVISIT_READINGS=200000 for many; the figures are printed.</summary>
    [Fact]
    public void Exchanged_lines_and_wet_bulbs_are_seen_and_sound_ones_are_not()
    {
        var readings = int.Parse(Environment.GetEnvironmentVariable("REVISIT_READINGS") ?? "2000", CultureInfo.InvariantCulture);
        var sound = Marks(readings, _ => { });
        var lines = Marks(readings, r => (r.SuctionLineF, r.LiquidLineF) = (r.LiquidLineF, r.SuctionLineF));
        var bulbs = Marks(readings, r => (r.ReturnWbF, r.SupplyWbF) = (r.SupplyWbF, r.ReturnWbF));
        output.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{readings} readings: {sound.Lines + sound.Bulbs} marked as they are; lines exchanged: {lines.Lines} of {lines.BothLines} seen; wet bulbs exchanged: {bulbs.Bulbs} of {bulbs.BothBulbs} seen"));
        Assert.Equal((0, 0), (sound.Lines, sound.Bulbs));
        Assert.InRange(lines.Lines, lines.BothLines / 3, lines.BothLines);
        Assert.InRange(bulbs.Bulbs, bulbs.BothBulbs / 2, bulbs.BothBulbs);
        Assert.True(bulbs.BothBulbs > 0);
    }

    /// <summary>Readings whose lines and whose wet bulbs were marked as exchanged, and readings in which both of the two were taken.</summary>
    private static (int Lines, int Bulbs, int BothLines, int BothBulbs) Marks(int readings, Action<SimulatedReading> change)
    {
        using var folder = new TestFolder();
        var (bothLines, bothBulbs) = (0, 0);
        IEnumerable<SimulatedReading> Changed()
        {
            foreach (var row in FleetSimulator.Rows(new SimulatorSettings { Installs = 10_000_000 }).Where(r => !r.Truth.Copied).Take(readings))
            {
                bothLines += double.IsNaN(row.SuctionLineF + row.LiquidLineF) ? 0 : 1;
                bothBulbs += double.IsNaN(row.ReturnWbF + row.SupplyWbF) ? 0 : 1;
                change(row);
                yield return row;
            }
        }

        using (var writer = new StreamWriter(folder.At("fleet.csv")))
        {
            Assert.Equal(readings, PlainCsv.Write(writer, Changed()));
        }

        var lake = Lake.At(folder.At("lake"));
        using (var publication = lake.BeginPublication())
        {
            _ = IngestStage.Run(publication, [new(folder.At("fleet.csv"), null)], null);
            publication.Commit();
        }

        using var session = lake.OpenSession();
        int Count(string reason)
        {
            using var reader = session.Query($"SELECT count(*) FROM set_aside_values WHERE set_aside_reason = '{reason}'");
            Assert.True(reader.Read());
            return Convert.ToInt32(reader.GetValue(0), CultureInfo.InvariantCulture) / 2; // both values of a reading are set aside
        }

        return (Count("lines_crossed"), Count("wet_bulbs_crossed"), bothLines, bothBulbs);
    }
}
