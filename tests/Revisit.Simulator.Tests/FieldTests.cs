using System.Globalization;
using Xunit.Abstractions;

namespace Revisit.Simulator.Tests;

/// <summary>The fleet beside what was published, and who is revisited beside who is not; the figures are printed.</summary>
public sealed class FieldTests(ITestOutputHelper output)
{
    private const int Installs = 8_000;
    private static readonly List<InstallTruth> Truths = [.. FleetSimulator.Installs(new SimulatorSettings { Installs = Installs }).Select(i => i.Truth)];

    /// <summary>The published bins, read where the physics tests keep them.</summary>
    private static List<(double Centre, int Count)> Published(string quantity) =>
        [.. File.ReadLines(Repository.Path("tests/Revisit.Physics.Tests/Published/diagnosis_field_distributions.csv")).Select(l => l.Split(',')).Where(c => c[0] == quantity)
            .Select(c => (double.Parse(c[2], CultureInfo.InvariantCulture), int.Parse(c[4], CultureInfo.InvariantCulture)))];

    [Fact]
    public void TheBinsAreThePublishedOnes()
    {
        Assert.Equal(Published("airflow").Select(b => b.Count), FieldErrors.AirflowCounts);
        Assert.Equal(Published("charge_ratio").Select(b => b.Count), FieldErrors.ChargeCounts);
        Assert.All(Published("airflow").Select((b, i) => (b.Centre, i)), b => Assert.Equal(b.Centre, FieldErrors.FirstAirflow + b.i * FieldErrors.AirflowBin, 0.06));
        Assert.All(Published("charge_ratio").Select((b, i) => (b.Centre, i)), b => Assert.Equal(b.Centre, FieldErrors.FirstCharge + b.i * FieldErrors.ChargeBin, 0.0006));
    }

    /// <summary>Simulated against published: within three standard errors of the simulated sample and of the ranks it is placed by.</summary>
    [Fact]
    public void AirflowAndChargeAreSpreadAsPublished()
    {
        var error = Math.Sqrt(1.0 / Installs + 1.0 / 20_000);
        void Same(string what, IReadOnlyList<double> simulated, List<(double Centre, int Count)> bins, double width, params (string Name, double From, double To)[] ranges)
        {
            double total = bins.Sum(b => b.Count);
            var mean = bins.Sum(b => b.Centre * b.Count) / total;
            var sd = Math.Sqrt(bins.Sum(b => b.Count * (Math.Pow(b.Centre - mean, 2) + width * width / 12)) / total);
            var (ours, spread) = (simulated.Average(), Math.Sqrt(simulated.Average(v => Math.Pow(v - simulated.Average(), 2))));
            output.WriteLine(FormattableString.Invariant($"{what}: mean {ours:0.000} published {mean:0.000}; sd {spread:0.000} published {sd:0.000}"));
            Assert.Equal(mean, ours, 3 * sd * error);
            Assert.Equal(sd, spread, 3 * sd * error);
            foreach (var (name, from, to) in ranges)
            {
                var there = bins.Sum(b => b.Count * Math.Clamp((Math.Min(to, b.Centre + width / 2) - Math.Max(from, b.Centre - width / 2)) / width, 0, 1)) / total;
                var here = simulated.Average(v => v >= from && v < to ? 1.0 : 0);
                output.WriteLine(FormattableString.Invariant($"{what} {name}: {here:0.000} published {there:0.000}"));
                Assert.Equal(there, here, 3 * Math.Sqrt(there * (1 - there)) * error);
            }
        }

        Same("airflow [cfm/ton]", [.. Truths.Select(t => t.AtStart.AirflowRatio * 400)], Published("airflow"), FieldErrors.AirflowBin, ("under 328", 0, 328), ("over 450", 450, 1000));
        Same("charge ratio", [.. Truths.Select(t => t.AtStart.ChargeRatio)], Published("charge_ratio"), FieldErrors.ChargeBin, ("low, under 0.9", 0, 0.9), ("near, 0.9 to 1.1", 0.9, 1.1), ("high, over 1.1", 1.1, 2));
    }

    [Fact]
    public void ErrorsScaleDownToNone() => Assert.All(
        FleetSimulator.Installs(new SimulatorSettings { Installs = 50, ErrorScale = 0, OtherFaultShare = 0 }),
        i => Assert.True(Math.Abs(i.Truth.AtStart.AirflowRatio - 1) < 1e-9 && i.Truth.AtStart is { ChargeRatio: 1, Causes: "none" }));

    [Fact]
    public void FollowUpsAreABiasedSampleAndQualityChecksAreNot()
    {
        (double Faulty, double Loss, int N) Of(string what, Func<InstallTruth, bool> among)
        {
            var some = Truths.Where(among).ToList();
            var (faulty, loss) = (some.Average(t => t.AtStart.Faulty ? 1.0 : 0), some.Average(t => t.AtStart.CapacityLossPct));
            output.WriteLine(FormattableString.Invariant($"{what}: {some.Count} installs, {faulty:P1} faulty at start, capacity loss {loss:0.0} %"));
            return (faulty, loss, some.Count);
        }

        var all = Of("all installs", _ => true);
        var followed = Of("with a follow-up", t => t.FirstFollowUpKind is not null);
        var complained = Of("first a callback", t => t.FirstFollowUpKind == "callback");
        var maintained = Of("first a maintenance", t => t.FirstFollowUpKind == "maintenance");
        var check = Of("drawn for a quality check", t => t.CheckDrawn);
        Of("never revisited", t => t.FirstFollowUpKind is null);
        Assert.True(followed.Faulty > all.Faulty + 0.03 && followed.Loss > all.Loss + 0.5);
        Assert.True(complained.Faulty > all.Faulty + 0.12 && complained.Loss > all.Loss + 3);
        Assert.True(maintained.N > 100);
        Assert.Equal(all.Faulty, check.Faulty, 3 * Math.Sqrt(all.Faulty * (1 - all.Faulty) / check.N));
    }

    [Fact]
    public void OutdoorAirFollowsTheClimateOfTheBranch()
    {
        foreach (var branch in FleetSimulator.Rows(new SimulatorSettings { Installs = 6_000 }).Where(r => r.Install.Region is "harbor" or "prairie" && r.VisitKind == "commissioning" && !double.IsNaN(r.OutdoorDbF)).GroupBy(r => r.Install.Region))
        {
            foreach (var month in branch.GroupBy(r => r.Install.InstalledOn.Month).Where(m => m.Key is 5 or 7 or 9))
            {
                var published = Climate.Of(branch.Key).AfternoonF(month.Key);
                output.WriteLine(FormattableString.Invariant($"{branch.Key} month {month.Key}: {month.Average(r => r.OutdoorDbF):0.0} °F read, published afternoon {published:0.0} °F"));
                Assert.InRange(month.Average(r => r.OutdoorDbF) - published, -4, 3);
            }
        }
    }
}
