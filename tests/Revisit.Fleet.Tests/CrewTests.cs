using Revisit.Fleet.Crews;
using Revisit.Simulator;

namespace Revisit.Fleet.Tests;

/// <summary>Crews compared, on installs made up for each test.</summary>
public sealed class CrewTests
{
    private static readonly string[] Crews = ["A", "B", "C", "D", "E", "F"];

    [Fact]
    public void A_crew_with_harder_work_is_not_blamed_for_it()
    {
        // Attics have it in 60 %, basements in 20 %; A works in attics only, F in basements only, all with the same skill.
        var standings = Comparison(Made(1, 80, (crew, n) => crew == "A" || (crew != "F" && n % 2 == 0), (_, attic) => attic ? 0.6 : 0.2));
        var (a, f) = (standings["A"], standings["F"]);
        Assert.True(a.Observed > 1.5 * a.PeerRate * a.Judged, "raw, the crew stands out");
        Assert.InRange(a.Ratio, 0.8, 1.25);
        Assert.InRange(f.Ratio, 0.6, 1.5);
        Assert.All(standings.Values, s => Assert.Equal("as_expected", s.Standing));
    }

    [Fact]
    public void A_crew_that_does_worse_at_the_same_work_is_found_and_drawn_towards_the_others()
    {
        var standings = Comparison(Made(2, 80, (_, n) => n % 2 == 0, (crew, attic) => crew == "C" ? 0.75 : attic ? 0.4 : 0.2));
        var c = standings["C"];
        Assert.Equal("more", c.Standing);
        Assert.InRange(c.Shrunken, 1, c.Ratio);
        Assert.True(c.RatioLimits.Low > 1);
        Assert.All(standings.Values.Where(s => s.CrewId != "C"), s => Assert.NotEqual("more", s.Standing));
    }

    [Fact]
    public void Expected_counts_sum_to_observed_ones_and_the_order_of_installs_does_not_matter()
    {
        var installs = Made(3, 60, (_, n) => n % 3 == 0, (_, attic) => attic ? 0.5 : 0.3);
        var one = CrewComparison.Of(installs, "airflow_low").Crews;
        var other = CrewComparison.Of(installs.AsEnumerable().Reverse(), "airflow_low").Crews;
        Assert.Equal(one.Sum(c => c.Observed), one.Sum(c => c.Expected), 0.01);
        Assert.Equal(one, other);
    }

    [Fact]
    public void A_crew_with_fewer_than_twenty_judged_installs_is_not_compared()
    {
        var installs = Made(4, 60, (_, _) => false, (crew, _) => crew == "B" ? 1 : 0.2).Where(i => i.CrewId != "B" || i.InstallId.EndsWith('1') || i.InstallId.EndsWith('2')).ToList();
        var b = Comparison(installs)["B"];
        Assert.True(b.Judged is > 5 and < CrewStanding.Enough);
        Assert.Equal(("too_few_installs", double.NaN), (b.Standing, b.Q));
        var sheet = CoachingSheet.Of(CrewReview.Of(installs)).Single(s => s.CrewId == "B");
        Assert.False(sheet.Enough);
        Assert.Empty(sheet.Habits);
    }

    /// <summary>What only one crew does cannot be compared: there are no peers.</summary>
    [Fact]
    public void Work_that_only_one_crew_does_is_not_compared()
    {
        var installs = Made(5, 60, (crew, _) => crew == "A", (_, _) => 0.3).Where(i => i.CrewId == "A").ToList();
        Assert.Equal("too_few_installs", CrewComparison.Of(installs, "airflow_low").Crews.Single().Standing);
    }

    [Fact]
    public void A_sheet_starts_with_what_goes_well_and_names_installs_behind_a_habit()
    {
        var installs = Made(6, 80, (_, n) => n % 2 == 0, (crew, _) => crew == "D" ? 0.05 : 0.4, habit: crew => crew == "D" ? 0.7 : 0.1);
        var sheet = CoachingSheet.Of(CrewReview.Of(installs)).Single(s => s.CrewId == "D");
        Assert.Equal("airflow_low", sheet.GoesWell[0].Compared);
        Assert.Equal("fewer", sheet.GoesWell[0].Standing);
        var habit = Assert.Single(sheet.Habits);
        Assert.Equal("tap_high_on_small", habit.Standing.Compared);
        Assert.Equal(5, habit.Examples.Count);
        Assert.All(habit.Examples, e => Assert.True(installs.Single(i => i.InstallId == e.InstallId) is { CrewId: "D" } i && i["tap_high_on_small"] == true && i.FollowedUpOn == e.SeenOn));
        Assert.Equal(habit.Examples.OrderByDescending(e => e.SeenOn).Select(e => e.SeenOn), habit.Examples.Select(e => e.SeenOn));
        Assert.All(ComparedInstall.Columns, c => Assert.NotEmpty(CrewWords.Of(c).What));
        var (points, examples) = (CrewTables.Points([sheet]), CrewTables.Examples([sheet]));
        Assert.Equal(
            [.. sheet.GoesWell.Select((g, i) => ("goes_well", i + 1, g.Compared)), ("to_change", 1, "tap_high_on_small")],
            Enumerable.Range(0, points.Rows).Select(r => (points.Text("sheet_part")[r]!, points.Whole("sheet_place")[r]!.Value, points.Text("sheet_point")[r]!)));
        Assert.Equal(habit.Examples.Select(e => (e.InstallId, e.SeenOn)), Enumerable.Range(0, examples.Rows).Select(r => (examples.Text("install_id")[r]!, examples.Day("seen_on")[r])));
    }

    [Fact]
    public void A_change_between_the_halves_shows_and_its_day_is_that_of_an_install()
    {
        var installs = Made(7, 160, (_, n) => n % 2 == 0, (crew, _) => 0.5, change: (crew, half, p) => crew == "E" && half ? 0.1 : p);
        var review = CrewReview.Of(installs);
        var better = review.Changes.Single(c => c is { CrewId: "E", Compared: "airflow", Direction: "better" });
        Assert.NotNull(better.SignalledOn);
        Assert.InRange(better.SignalledAfter!.Value, 1, 60);
        Assert.InRange(better.FalseSignalChance, 0.01, 0.0201);
        Assert.True(better.SignalChance > 0.5);
        Assert.Null(review.Changes.Single(c => c is { CrewId: "E", Compared: "airflow", Direction: "worse" }).SignalledOn);
        Assert.Equal(160, review.Quarters.Where(q => q is { CrewId: "E", Compared: "airflow" }).Sum(q => q.Judged));
        Assert.Contains(review.Quarters, q => q.CrewId == "E" && q.Compared == "airflow" && (double)q.Observed / q.Judged < q.Limits.Low);
    }

    private static Dictionary<string, CrewStanding> Comparison(List<ComparedInstall> installs)
    {
        var comparison = CrewComparison.Of(installs, "airflow_low");
        CrewComparison.HoldDiscoveries([comparison]);
        return comparison.Crews.ToDictionary(c => c.CrewId);
    }

    /// <summary>Installs of six crews, a day apart, that show too little air with a chance of the crew and its ducts.</summary>
    private static List<ComparedInstall> Made(
        ulong seed, int each, Func<string, int, bool> attic, Func<string, bool, double> chance, Func<string, double>? habit = null, Func<string, bool, double, double>? change = null)
    {
        var random = new Rng(seed, 1, 99);
        var installs = new List<ComparedInstall>();
        for (var n = 0; n < each; n++)
        {
            foreach (var crew in Crews)
            {
                var (inAttic, day) = (attic(crew, n), new DateOnly(2025, 1, 1).AddDays(n * 3));
                var p = chance(crew, inAttic);
                var low = random.Chance(change is null ? p : change(crew, n >= each / 2, p));
                var high = habit is not null && random.Chance(habit(crew));
                var seen = new bool?[ComparedInstall.Columns.Count];
                void See(string column, bool was) => seen[ComparedInstall.Columns.ToList().IndexOf(column)] = was;
                See("airflow", low);
                See("airflow_low", low);
                if (habit is not null)
                {
                    See("tap_high_on_small", high);
                }

                installs.Add(new()
                {
                    InstallId = $"{crew}{n:000}",
                    CrewId = crew,
                    InstalledOn = day,
                    Tons = 2 + n % 4,
                    Metering = "txv",
                    Refrigerant = "R-32",
                    Motor = "psc",
                    Ducts = inAttic ? "attic" : "basement",
                    LineFt = 20 + n % 50,
                    FollowUpVisitId = $"V{crew}{n}",
                    FollowUpKind = "quality_check",
                    FollowedUpOn = day.AddDays(60),
                    Season = "summer",
                    FollowUpOutdoorF = 80 + n % 15,
                    Seen = seen,
                });
            }
        }

        return installs;
    }
}
