using System.Diagnostics;
using System.Globalization;
using Revisit.Simulator;
using Xunit.Abstractions;

namespace Revisit.Ingest.Tests;

/// <summary>How much of the dirt in exports ingest finds, how many sound values it takes for dirt, and whether every row is accounted for.</summary>
public class DirtTests(ITestOutputHelper output)
{
    private const double Recall = 0.98, Precision = 0.99;

    /// <summary>Readings a run, about: a fleet has some 2.2 an install in the default period.</summary>
    private static readonly int Readings = int.Parse(Environment.GetEnvironmentVariable("REVISIT_DIRT_READINGS") ?? "4000", CultureInfo.InvariantCulture);

    private static SimulatorSettings Fleet(ulong seed, double share) => new() { Seed = seed, Installs = Math.Max(1, (int)(Readings / 2.2)), DirtShare = share };

    /// <summary>Set REVISIT_DIRT_READINGS=250000 for a larger size; the tables are printed.</summary>
    [Fact]
    public void Dirt_of_every_kind_is_found_and_sound_values_stay()
    {
        var all = new DirtTally();
        foreach (var (share, seed) in new[] { (0.001, 11UL), (0.01, 12UL), (0.05, 13UL) })
        {
            foreach (var plain in new[] { false, true })
            {
                var watch = Stopwatch.StartNew();
                using var dirty = new DirtyLake(Fleet(seed, share), plain);
                using var sound = new DirtyLake(Fleet(seed, 0), plain);
                var tally = DirtTally.Of(dirty);
                output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{(plain ? "plain rows" : "four branches")}, dirt on {100 * share} % of the rows, {dirty.Readings} readings, {watch.Elapsed.TotalSeconds:0.0} s"));
                tally.Table().ToList().ForEach(output.WriteLine);
                var altered = DirtTally.Altered(dirty, sound);
                output.WriteLine($"cells the key does not name that differ from the same fleet without dirt: {altered.Count}");
                tally.Examples.Concat(altered).Take(40).ToList().ForEach(output.WriteLine);
                output.WriteLine("");
                Reconcile(dirty);
                all.Add(tally);
                Assert.Empty(altered);
            }
        }

        output.WriteLine("all rates and exports");
        all.Table().ToList().ForEach(output.WriteLine);
        Assert.All(all.ByKind, k =>
        {
            Assert.True(k.Value.Found >= Recall * k.Value.Planted, k.Key + k.Value);
            Assert.True(k.Value.Found >= Precision * (k.Value.Found + k.Value.False), k.Key + k.Value);
            Assert.Equal(0, k.Value.Silent);
        });
        Assert.All(all.Unseen.Values, c => Assert.Equal(0, c.Silent));
    }

    private void Reconcile(DirtyLake dirty)
    {
        foreach (var s in dirty.Summaries)
        {
            var key = dirty.Key.Where(k => dirty.SourceOf[k.Export] == s.SourceId).ToList();
            var rejected = key.Where(k => k.Answer == "rejected").Select(k => k.Line).Distinct().Count();
            output.WriteLine($"{s.Name}: read {s.RowsRead} = accepted {s.Accepted} + duplicates {s.Duplicates} + superseded {s.Superseded} + rejected {s.Rejected}; set aside {s.SetAside}");
            Assert.Equal(
                (s.RowsRead, key.Count(k => k.Answer == "duplicate"), key.Count(k => k.Answer == "superseded"), rejected),
                (s.Accepted + s.Duplicates + s.Superseded + s.Rejected, s.Duplicates, s.Superseded, s.Rejected));
        }

        var added = dirty.Key.Count(k => k.Kind is "exact_duplicate" or "later_save" or "not_a_data_row" or "rest_of_row");
        Assert.Equal(dirty.Readings + added, dirty.Summaries.Sum(s => (long)s.RowsRead));
        Assert.Equal(dirty.Summaries.Sum(s => s.Accepted).ToString(CultureInfo.InvariantCulture), dirty.Lake.One("SELECT count(*) FROM readings"));
    }

    /// <summary>Every row read is accepted, a duplicate, superseded or rejected, each as many as the key says. Larger with REVISIT_DIRT_READINGS; REVISIT_DIRT_SEED takes another fleet.</summary>
    [Fact]
    public void Every_row_is_accounted_for()
    {
        var seed = ulong.Parse(Environment.GetEnvironmentVariable("REVISIT_DIRT_SEED") ?? "21", CultureInfo.InvariantCulture);
        using var dirty = new DirtyLake(Fleet(seed, 0.01), plain: false);
        output.WriteLine($"{dirty.Readings} readings, dirt on 1 % of the rows");
        var tally = DirtTally.Of(dirty);
        tally.Table().Concat(tally.Examples.Take(40)).ToList().ForEach(output.WriteLine);
        Reconcile(dirty);
        Assert.All(tally.ByKind.Values, c => Assert.Equal(0, c.Silent));
    }
}
