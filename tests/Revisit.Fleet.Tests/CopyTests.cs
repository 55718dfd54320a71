using Revisit.Fleet.Copies;
using Revisit.Fleet.Statistics;
using Revisit.Simulator;
using Xunit.Abstractions;

namespace Revisit.Fleet.Tests;

/// <summary>Copied-looking readings, on simulated fleets whose copies are known. Invented data: nothing here says how real crews write.</summary>
public sealed class CopyTests(ITestOutputHelper output)
{
    private const string Copier = "H1";

    /// <summary>Critical values of printed chi-square tables (from memory): upper 5 % at 9 and lower 5 % at 10 degrees of freedom; exact binomial by hand.</summary>
    [Fact]
    public void Tails_agree_with_printed_ones()
    {
        Assert.Equal(0.05, Tails.ChiSquareAtLeast(16.919, 9), 1e-5);
        Assert.Equal(0.05, Tails.ChiSquareAtMost(3.940, 10), 1e-4);
        Assert.Equal(0.01, Tails.ChiSquareAtLeast(6.635, 1), 1e-5);
        Assert.Equal(10.0 / 64, Tails.BinomialAtLeast(2, 3, 0.25), 1e-12);
        Assert.Equal(1 - Math.Pow(0.999, 40), Tails.BinomialAtLeast(1, 40, 0.001), 1e-12);
    }

    /// <summary>As written in tenths and in whole degrees and psi: of fleets without copies less than one in a hundred has a crew asked about.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(0)]
    public void Nobody_is_asked_where_nobody_copies(int places)
    {
        var (fleets, asked, quarters, quartersAsked, low) = (Count(30), 0, 0, 0, 0);
        for (var seed = 0; seed < fleets; seed++)
        {
            var (questions, repeated) = CopyLooks.Look(Readings((ulong)seed, 400, 0, places).Select(r => r.Reading));
            quarters += questions.Count;
            low += questions.Count(q => q.Chance < 0.01);
            foreach (var q in questions.Where(q => q.IsAsked))
                output.WriteLine(FormattableString.Invariant($"seed {seed}: {q}"));
            quartersAsked += questions.Count(q => q.IsAsked);
            asked += questions.Any(q => q.IsAsked) || repeated.Count > 0 ? 1 : 0;
        }

        output.WriteLine(FormattableString.Invariant($"{places} places: {asked} of {fleets} fleets asked about, with 95 % confidence less than {100 * Highest(asked, fleets):0.00} %; {quartersAsked} of {quarters} crews and quarters, less than {100 * Highest(quartersAsked, quarters):0.000} %; {low} of {quarters} crews and quarters below 1 % before adjustment"));
        Assert.True(asked <= 0.01 * fleets, $"{asked} of {fleets}");
        Assert.True(low <= 0.01 * quarters, $"{low} of {quarters}");
    }

    [Fact]
    public void Copies_of_three_in_a_hundred_readings_are_found()
    {
        var (fleets, found, copied, named, wrong, withCopies) = (Count(20), 0, 0, 0, 0, 0);
        var (honest, honestAsked, fleetsAsked) = (0, 0, 0);
        for (var seed = 0; seed < fleets; seed++)
        {
            var readings = Readings(1_000 + (ulong)seed, 1_500, 0.03, 1);
            var truth = readings.Where(r => r.Copied).Select(r => r.Reading.VisitId).ToHashSet();
            var (questions, repeated) = CopyLooks.Look(readings.Select(r => r.Reading));
            // Of two visits that are alike nothing tells which was copied when both fall on one day.
            var visits = repeated.SelectMany(r => new[] { r.Visit.VisitId, r.Earlier.VisitId }).ToHashSet();
            (copied, named) = (copied + truth.Count, named + truth.Count(visits.Contains));
            wrong += repeated.Count(r => !truth.Contains(r.Visit.VisitId) && !truth.Contains(r.Earlier.VisitId));
            withCopies += truth.Count > 0 ? 1 : 0;
            found += questions.Any(q => q.CrewId == Copier && q.IsAsked) ? 1 : 0;
            var others = questions.Where(q => q.CrewId != Copier).ToList();
            (honest, honestAsked) = (honest + others.Count, honestAsked + others.Count(q => q.IsAsked));
            fleetsAsked += others.Any(q => q.IsAsked) ? 1 : 0;
        }

        output.WriteLine($"{named} of {copied} copied visits named, {wrong} others; the crew is asked in {found} of {withCopies} fleets with copies");
        output.WriteLine(FormattableString.Invariant($"an honest crew is asked in {fleetsAsked} of {fleets} fleets, with 95 % confidence less than {100 * Highest(fleetsAsked, fleets):0.00} %; {honestAsked} of {honest} of their quarters, less than {100 * Highest(honestAsked, honest):0.000} %"));
        Assert.True(copied > 3 * fleets);
        Assert.True(named >= 0.9 * copied, $"{named} of {copied}");
        Assert.Equal(0, wrong);
        Assert.True(found >= 0.9 * withCopies, $"{found} of {withCopies}");
        Assert.True(fleetsAsked <= 0.01 * fleets, $"{fleetsAsked} of {fleets}");
    }

    [Fact]
    public void Made_up_digits_and_constant_sheets_are_asked_about()
    {
        var readings = Readings(5, 1_500, 0, 1).Select(r => r.Reading).ToList();
        var rounded = readings.Select(r => r.CrewId == "H2" ? r with { Values = [.. r.Values.Select((v, c) => c % 2 == 0 ? Math.Round(v * 2) / 2 : v)] } : r);
        Assert.Contains(CopyLooks.Look(rounded).Questions, q => q.CrewId == "H2" && q.IsAsked && q.DigitChance < 1e-6);
        var steady = readings.Select((r, i) => r.CrewId == "P1" ? r with { Values = [75 + i % 5 * 0.1, .. r.Values[1..]] } : r);
        Assert.Contains(CopyLooks.Look(steady).Questions, q => q.CrewId == "P1" && q.IsAsked && q.SpreadColumn == "return_db_f");
    }

    /// <summary>The highest share that so many of so many do not rule out: upper end of the exact one-sided 95 % interval (Clopper and Pearson 1934).</summary>
    private static double Highest(int some, int all)
    {
        var (low, high) = (0.0, 1.0);
        while (high - low > 1e-9)
        {
            var share = (low + high) / 2;
            (low, high) = Tails.BinomialAtLeast(some + 1, all, share) < 0.95 ? (share, high) : (low, share);
        }

        return high;
    }

    /// <summary>REVISIT_SEEDS multiplies the number of fleets, for a longer look than a test run should take.</summary>
    private static int Count(int fleets) => fleets * int.Parse(Environment.GetEnvironmentVariable("REVISIT_SEEDS") ?? "1", System.Globalization.CultureInfo.InvariantCulture);

    private static List<(CopyReading Reading, bool Copied)> Readings(ulong seed, int installs, double share, int places)
    {
        var settings = new SimulatorSettings { Seed = seed + 1, Installs = installs, Copies = new Dictionary<string, double> { [Copier] = share } };
        double T(double v) => Math.Round(v, places);
        return [.. FleetSimulator.Rows(settings).Select(r => (new CopyReading(
            r.CrewId, r.VisitId, r.ReadingNo, r.InstallId, r.VisitedAt, DateOnly.FromDateTime(r.VisitedAt), r.OutdoorDbF, r.Install.Refrigerant, r.Correction is not null,
            [
                T(r.ReturnDbF), T(r.ReturnWbF), Math.Round(r.ReturnRhPct), T(r.SupplyDbF), T(r.SupplyWbF), T(r.SuctionPressurePsig), T(r.LiquidPressurePsig), T(r.SuctionLineF), T(r.LiquidLineF),
                T(r.DischargeLineF), Math.Round(r.ExternalStaticInwc, 2), Math.Round(r.AirflowCfm), Math.Round(r.SystemPowerW), Math.Round(r.BlowerPowerW),
            ]), r.Truth.Copied))];
    }
}
