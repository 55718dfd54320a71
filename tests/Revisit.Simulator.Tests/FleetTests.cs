using System.Globalization;
using Revisit.Records;

namespace Revisit.Simulator.Tests;

public sealed class FleetTests
{
    private static readonly SimulatorSettings Small = new() { Installs = 400 };

    private static string Csv(SimulatorSettings settings)
    {
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        PlainCsv.Write(text, FleetSimulator.Rows(settings));
        return text.ToString();
    }

    [Fact]
    public void SameSettingsGiveTheSameBytes()
    {
        Assert.Equal(Csv(Small), Csv(Small));
        Assert.NotEqual(Csv(Small), Csv(Small with { Seed = 7 }));
    }

    [Fact]
    public void AnInstallDoesNotDependOnTheOthers()
    {
        var all = FleetSimulator.Rows(Small).GroupBy(r => r.InstallId).ToDictionary(g => g.Key, g => g.ToList());
        foreach (var no in new[] { 400, 3, 77 })
        {
            var (alone, truth) = FleetSimulator.Install(Small with { Installs = 5_000 }, no);
            using var left = new StringWriter(CultureInfo.InvariantCulture);
            using var right = new StringWriter(CultureInfo.InvariantCulture);
            PlainCsv.Write(left, alone);
            PlainCsv.Write(right, all[truth.InstallId]);
            Assert.Equal(right.ToString(), left.ToString());
        }
    }

    [Fact]
    public void EveryLineHasEveryColumnAndNoNumberIsNotANumber()
    {
        var lines = Csv(Small).Split('\n');
        Assert.Equal(string.Join(',', Tables.PlainColumns), lines[0]);
        foreach (var line in lines.Skip(1).Where(l => l.Length > 0))
        {
            Assert.DoesNotContain("NaN", line, StringComparison.Ordinal);
            Assert.DoesNotContain("∞", line, StringComparison.Ordinal);
            Assert.DoesNotContain("Infinity", line, StringComparison.Ordinal);
            if (!line.Contains('"', StringComparison.Ordinal))
                Assert.Equal(Tables.PlainColumns.Count, line.Split(',').Length);
        }
    }

    [Fact]
    public void EveryValueIsWithinItsTermAndEveryCodeIsOne()
    {
        foreach (var line in Csv(Small).Split('\n').Skip(1).Where(l => l.Length > 0 && !l.Contains('"', StringComparison.Ordinal)))
        {
            var fields = line.Split(',');
            for (var i = 0; i < fields.Length; i++)
            {
                var term = Nomenclature.Of(Tables.PlainColumns[i]);
                if (fields[i].Length == 0)
                    continue;
                if (term.Kind is ColumnKind.Number or ColumnKind.Whole)
                    Assert.True(term.Allows(double.Parse(fields[i], CultureInfo.InvariantCulture)), $"{term.Name} = {fields[i]} in {line}");
                if (term.Codes.Count > 0)
                    Assert.Contains(fields[i], term.Codes);
                if (term.Name == "correction")
                    Assert.All(fields[i].Split('+'), c => Assert.Contains(c, Codes.Correction));
            }
        }
    }

    [Fact]
    public void CleanReadingsArePhysicallyPlausible()
    {
        var clean = FleetSimulator.Rows(Small with { Installs = 2_000 }).Where(r => r.Truth.Clean).ToList();
        Assert.True(clean.Count > 1_000);
        Assert.All(clean, r =>
        {
            Assert.False(r.ReturnWbF > r.ReturnDbF);
            Assert.False(r.SupplyWbF > r.SupplyDbF);
            Assert.True(r.LiquidPressurePsig > r.SuctionPressurePsig + 20, $"{r.VisitId}: {r.SuctionPressurePsig:0} / {r.LiquidPressurePsig:0} psig");
            Assert.True(r.SupplyDbF < r.ReturnDbF);
            Assert.True(r.VisitedAt.Kind == DateTimeKind.Utc && r.SavedAt > r.VisitedAt);
            Assert.True(DateOnly.FromDateTime(r.VisitedAt) <= Small.LastDay);
        });
    }

    [Fact]
    public void CorrectionsBringSystemsCloser()
    {
        var pairs = FleetSimulator.Rows(Small with { Installs = 3_000 }).Where(r => r.VisitKind != "commissioning").GroupBy(r => r.VisitId)
            .Select(g => (First: g.MinBy(r => r.ReadingNo)!, Last: g.MaxBy(r => r.ReadingNo)!)).Where(p => p.Last.Correction is not null).ToList();
        Assert.True(pairs.Count > 100);
        Assert.True(pairs.Average(p => p.Last.Truth.Faulty ? 1.0 : 0) < 0.6 * pairs.Average(p => p.First.Truth.Faulty ? 1.0 : 0));
        Assert.Contains(pairs, p => p.Last.Truth.Faulty); // imperfect skill
        Assert.All(pairs.Where(p => p.Last.Correction == "blower_tap"), p =>
            Assert.True(Array.IndexOf(SystemState.Taps, p.Last.CorrectionFrom) != Array.IndexOf(SystemState.Taps, p.Last.CorrectionTo)));
    }

    [Fact]
    public void CrewHabitsShowInTheTruth()
    {
        var rows = FleetSimulator.Installs(Small with { Installs = 6_000 }).ToList();
        double High(string crew) => rows.Where(i => i.Truth.CrewId == crew && i.Readings[0].Install.NominalTons <= 2.5).Average(i => i.Truth.AtStart.AirflowRatio > 1.15 ? 1.0 : 0);
        Assert.True(High("H1") > High("H2") + 0.3);
    }

    /// <summary>Read back through saturation, as a technician would: sound valves stand near their subcooling target and keep some superheat.</summary>
    [Fact]
    public void SoundReadingsReadBackSound()
    {
        var sound = FleetSimulator.Rows(Small with { Installs = 3_000, ErrorScale = 0.2 }).Where(r => r.Truth is { Clean: true, OtherFault: "none" } && r.Install.Metering != "fixed_orifice"
            && Math.Abs(r.Truth.AirflowRatio - 1) < 0.1 && Math.Abs(r.Truth.ChargeRatio - 1) < 0.03 && r.OutdoorDbF > 65).ToList();
        Assert.True(sound.Count > 200);
        var errors = sound.Select(r => At(r, r.LiquidPressurePsig, dew: false) - r.LiquidLineF - r.Install.TargetSubcoolingF).ToList();
        Assert.InRange(errors.Average(), -1.5, 1.5);
        Assert.All(errors, e => Assert.InRange(e, -9, 9));
        var superheats = sound.Select(r => r.SuctionLineF - At(r, r.SuctionPressurePsig, dew: true)).ToList();
        Assert.InRange(superheats.Average(), 7, 14);
        var evaporating = sound.Select(r => At(r, r.SuctionPressurePsig, dew: true)).ToList();
        Assert.All(evaporating, e => Assert.InRange(e, 28, 60));

        static double At(SimulatedReading r, double psig, bool dew)
        {
            Assert.True(Physics.Refrigerants.TryFind(r.Install.Refrigerant, out var refrigerant));
            var pa = Units.AbsolutePascal(psig, Physics.MoistAir.StandardPressure(r.Install.ElevationFt * Units.MetrePerFoot));
            return Units.FahrenheitFromKelvin(dew ? refrigerant!.DewTemperature(pa) : refrigerant!.BubbleTemperature(pa));
        }
    }

    [Fact]
    public void TheSimulatorKnowsNothingOfTheStageThatJudges()
    {
        var ours = typeof(FleetSimulator).Assembly.GetReferencedAssemblies().Select(a => a.Name!).Where(n => n.StartsWith("Revisit", StringComparison.Ordinal)).Order(StringComparer.Ordinal);
        Assert.Equal(["Revisit.Physics", "Revisit.Records"], ours);
    }

    [Fact]
    public void WithoutHabitsTheCrewsAreAlike()
    {
        var rows = FleetSimulator.Installs(Small with { Installs = 6_000, HabitStrength = 0 }).Where(i => i.Readings[0].Install.NominalTons <= 2.5).ToList();
        double High(string crew) => rows.Where(i => i.Truth.CrewId == crew).Average(i => i.Truth.AtStart.AirflowRatio > 1.15 ? 1.0 : 0);
        Assert.InRange(High("H1") - High("H3"), -0.08, 0.08);
        Assert.DoesNotContain(rows, i => i.Readings.Any(r => r.Truth.Copied));
    }

    [Fact]
    public void CoachingShows()
    {
        var coached = new DateOnly(2026, 3, 1);
        var rows = FleetSimulator.Installs(Small with { Installs = 12_000 }).Where(i => i.Truth.CrewId == "R1" && i.Readings[0].Install.NominalTons <= 2.5).ToList();
        double High(bool after) => rows.Where(i => i.Readings[0].Install.InstalledOn >= coached == after).Average(i => i.Truth.AtStart.AirflowRatio > 1.15 ? 1.0 : 0);
        Assert.True(High(after: false) > High(after: true) + 0.15);
    }

    [Fact]
    public void WhoChargesByPressureOverfillsInMildWeather()
    {
        var rows = FleetSimulator.Installs(Small with { Installs = 8_000 }).ToList();
        double Tilt(string crew)
        {
            double Charge(Func<int, bool> month) => rows.Where(i => i.Truth.CrewId == crew && month(i.Readings[0].Install.InstalledOn.Month)).Average(i => i.Truth.AtStart.ChargeRatio);
            return Charge(m => m is 4 or 5 or 10) - Charge(m => m is 7 or 8);
        }

        Assert.True(Tilt("L2") > Tilt("L1") + 0.05, $"{Tilt("L2")} {Tilt("L1")}");
    }

    [Fact]
    public void CrewsLearnUnlessTheyDoNot()
    {
        DateOnly first = Small.FirstDay, later = first.AddDays(365);
        Assert.Equal(1, Scenario.Crews.Min(c => c.Keeping(first, first)));
        Assert.All(Scenario.Crews.Where(c => c.Learning > 0), c => Assert.True(c.Keeping(later, first) < 0.95));
        Assert.Equal(1, Scenario.Crews.Single(c => c.Id == "L2").Keeping(later, first));
    }

    [Fact]
    public void EveryOtherFaultOccursAtTheSetShare()
    {
        var faults = FleetSimulator.Installs(Small with { Installs = 4_000 }).Select(i => i.Truth.AtStart.OtherFault).ToList();
        Assert.Equal(["compressor_weak", "condenser_airflow_low", "liquid_restriction", "noncondensables"], faults.Where(f => f != "none").Distinct().Order(StringComparer.Ordinal));
        Assert.InRange(faults.Average(f => f == "none" ? 0.0 : 1), 0.045, 0.075);
    }

    [Fact]
    public void CopiedSheetsRepeatAndBelongToOneCrewAboveAll()
    {
        var copied = FleetSimulator.Rows(Small with { Installs = 4_000 }).Where(r => r.Truth.Copied).ToList();
        Assert.True(copied.Count > 50);
        Assert.All(copied, r => Assert.True(!r.Truth.Clean && r.VisitKind == "commissioning"));
        var originals = FleetSimulator.Rows(Small with { Installs = 4_000 }).Where(r => !r.Truth.Copied).Select(r => (r.CrewId, r.SuctionLineF, r.LiquidPressurePsig, r.SupplyDbF)).ToHashSet();
        Assert.All(copied, r => Assert.Contains((r.CrewId, r.SuctionLineF, r.LiquidPressurePsig, r.SupplyDbF), originals));
        Assert.Equal("R3", copied.GroupBy(r => r.CrewId).MaxBy(g => g.Count())!.Key);
    }

    [Fact]
    public void TheCommittedSettingsAreTheDefaultsAndRoundTrip()
    {
        var path = Repository.Path("synthetic-data/fleet.json");
        Assert.Equal(new SimulatorSettings(), SimulatorSettings.Load(path));
        Assert.Equal(File.ReadAllText(path), new SimulatorSettings().ToJson());
    }

    [Fact]
    public void AnUnknownSettingIsRefusedWithItsLine()
    {
        var path = Path.Combine(Directory.CreateTempSubdirectory("revisit-simulator-").FullName, "fleet.json");
        File.WriteAllText(path, "{\n  \"installz\": 5\n}\n");
        var error = Assert.Throws<UserError>(() => SimulatorSettings.Load(path));
        Assert.Contains("line 2", error.Message, StringComparison.Ordinal);
        Assert.Contains("installz", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void ADemoFolderHoldsOneTruthForEachInstallAndReading()
    {
        var folder = Directory.CreateTempSubdirectory("revisit-simulator-").FullName;
        var rows = SimulatorRun.WriteDemo(folder, Small with { Installs = 60 });
        Assert.Equal(rows + 1, File.ReadAllLines(Path.Combine(folder, "readings.csv")).Length);
        Assert.Equal(rows + 1, File.ReadAllLines(Path.Combine(folder, "reading_truth.csv")).Length);
        Assert.Equal(61, File.ReadAllLines(Path.Combine(folder, "truth.csv")).Length);
        Assert.Equal(Csv(Small with { Installs = 60 }), File.ReadAllText(Path.Combine(folder, "readings.csv")));
        Assert.Equal(Small with { Installs = 60 }, SimulatorSettings.Load(Path.Combine(folder, "fleet.json")));
    }

    [Fact]
    public void BadSettingsAreAllNamedAtOnce()
    {
        var error = Assert.Throws<UserError>(() => (Small with { Installs = 0, ErrorScale = 9 }).Checked());
        Assert.Equal(2, error.Problems.Count);
    }

    [Fact]
    public void RowsStream()
    {
        // A fleet of ten million would not fit: taking a few rows from it must not make the rest.
        var before = GC.GetAllocatedBytesForCurrentThread();
        Assert.Equal(50, FleetSimulator.Rows(Small with { Installs = 10_000_000 }).Take(50).Count());
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 1, 100_000_000);
    }
}
