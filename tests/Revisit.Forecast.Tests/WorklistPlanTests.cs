using Revisit.Forecast.Visits;
using Revisit.Records;

namespace Revisit.Forecast.Tests;

public sealed class WorklistPlanTests
{
    private static readonly DateOnly July = new(2026, 7, 1);
    private static readonly WorklistSettings Settings = new();
    private static readonly GaugeWeather NoReadings = new(new Dictionary<(string, int), (int, int)>(), Settings);

    private static Candidate At(string id, double airflow, double charge, double latitude = double.NaN, double longitude = double.NaN) =>
        new(VisitAdviceTests.Scored(id, airflow, charge) with { Install = VisitAdviceTests.Scored(id, airflow, charge).Install with { Numbers = WithTons(VisitAdviceTests.Scored(id, airflow, charge).Install.Numbers) } }, new(latitude, longitude));

    private static double[] WithTons(double[] numbers)
    {
        numbers[InstallFeatures.Position("nominal_tons")] = 3;
        return numbers;
    }

    private static List<Candidate> Scattered(int count, ulong seed)
    {
        var random = new SeededRandom(seed);
        return [.. Enumerable.Range(0, count).Select(i => At($"I{i:000}", random.Next(), random.Next(), 40 + 0.5 * random.Next(), -90 + 0.6 * random.Next()))];
    }

    [Fact]
    public void A_visit_is_worth_what_it_saves_less_the_crew()
    {
        // 3 tons, two whole years of cooling: 3 * 900 * 2 * 0.17 = 918 US dollars; left alone airflow costs 91.80 + 87.50 + 30, charge 110.16 + 87.50 + 120.
        Assert.Equal(0.5 * 209.3 + 0.25 * 317.66 - 120, VisitBenefit.Usd(0.5, 0.25, 3, July, 1, Settings), 9);
        Assert.Equal(0.5 * 209.3 - 120, VisitBenefit.Usd(0.5, 0.25, 3, July, 0, Settings), 9);
        Assert.Equal(VisitBenefit.Usd(0.5, 0.25, 3, July, 1, Settings), VisitBenefit.Usd(0.5, 0.25, double.NaN, July, 1, Settings));
    }

    [Fact]
    public void What_is_left_of_the_season_counts()
    {
        var season = Settings with { MonthsLeftAlone = 6 };
        Assert.Equal(0.25 + 0.23 + 0.13 + 0.05 + 0.01, VisitBenefit.YearsOfCooling(July, season), 12);
        Assert.Equal(0.01, VisitBenefit.YearsOfCooling(new(2026, 11, 1), season with { MonthsLeftAlone = 2 }), 12);
    }

    [Fact]
    public void The_weather_is_what_the_region_has_read_and_else_what_the_settings_say()
    {
        var weather = new GaugeWeather(new Dictionary<(string, int), (int, int)> { [("north", 1)] = (40, 10), [("south", 1)] = (19, 19) }, Settings);
        Assert.Equal(0.25, weather.Warm("north", new(2026, 1, 5)));
        Assert.Equal(0, weather.Warm("south", new(2026, 1, 5)));
        Assert.Equal(1, weather.Warm("south", July));
    }

    [Fact]
    public void Without_coordinates_the_most_benefit_comes_first_as_far_as_the_hours_reach()
    {
        var candidates = Enumerable.Range(0, 60).Select(i => At($"I{i:00}", i / 60.0, 0.5)).Append(At("A", 0.9, 0.9)).Append(At("B", 0.9, 0.9)).ToList();
        var visits = WorklistPlan.Of(candidates, WorklistPlan.Days(July, Settings), NoReadings, Settings with { Crews = 1, Weeks = 1 }, solve: true);

        // Four visits of 1.5 h with half an hour of way fit in eight hours; ten days are given, for one crew.
        Assert.Equal(40, visits.Count);
        Assert.Equal(["A", "B", "I59", "I58"], visits.Take(4).Select(v => v.Candidate.InstallId));
        Assert.All(visits, v => Assert.Equal(("ranking", null), (v.By, v.On)));
    }

    [Fact]
    public void A_visit_that_does_not_pay_for_its_way_is_not_made() =>
        Assert.Empty(WorklistPlan.Of([At("A", 0.3, 0.2), At("B", 0.1, 0.4)], WorklistPlan.Days(July, Settings), NoReadings, Settings, solve: true));

    [Fact]
    public void Days_are_the_working_days_from_the_next_monday()
    {
        var days = WorklistPlan.Days(new(2026, 7, 6), Settings with { Weeks = 1 });
        Assert.Equal(Enumerable.Range(13, 5).Select(d => new DateOnly(2026, 7, d)), days);
    }

    [Fact]
    public void Crews_go_where_they_find_most() =>
        Assert.Equal([2, 0, 1], WorklistPlan.PlaceCrews([[9, 9, 8, 8, 1], [2, 2], [10, 1]], 2, 3));

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Every_day_fits_its_hours_and_no_install_stands_twice(bool solve)
    {
        var settings = Settings with { Crews = 2, Weeks = 1 };
        var visits = WorklistPlan.Of(Scattered(80, 3), WorklistPlan.Days(July, settings), NoReadings, settings, solve);
        Assert.InRange(visits.Count, 25, 50);
        Assert.All(visits, v => Assert.Equal(solve ? "solver" : "insertion", v.By));
        Assert.Equal(visits.Count, visits.Select(v => v.Candidate.InstallId).Distinct().Count());
        Assert.All(visits.GroupBy(v => (v.On, v.Crew)), day =>
        {
            var ordered = day.OrderBy(v => v.Order).ToList();
            Assert.Equal(Enumerable.Range(1, ordered.Count), ordered.Select(v => v.Order));
            Assert.Equal(ordered[0].TravelMinutes, ordered[0].StartMinute);
            Assert.All(ordered.Skip(1).Zip(ordered), p => Assert.Equal(p.Second.StartMinute + 90 + p.First.TravelMinutes, p.First.StartMinute));
            Assert.True(ordered[^1].StartMinute + 90 <= 480);
        });
        Assert.Equal(visits.OrderByDescending(v => v.BenefitUsd).Select(v => v.BenefitUsd), visits.Select(v => v.BenefitUsd));
    }

    [Fact]
    public void The_solver_is_never_worse_than_insertion_and_near_the_best_plan_there_is()
    {
        long found = 0, possible = 0, first = 0;
        for (ulong seed = 1; seed <= 20; seed++)
        {
            // Two days with room for two visits each, among six: small enough to try them all.
            var task = new RegionTask("north", Scattered(6, seed), [July, July.AddDays(1)], 1, NoReadings, Settings with { HoursADay = 4.5 });
            long Worth(IEnumerable<List<int>> routes) => routes.Sum(r => task.Worth(r, 7));
            var inserted = InsertionPlan.Of(task);
            var solved = SolverPlan.Of(task, inserted);
            Assert.NotNull(solved);
            Assert.All(solved, r => Assert.True(task.Length(r) <= 270));
            Assert.True(Worth(solved) >= Worth(inserted), $"seed {seed}: {Worth(solved)} under {Worth(inserted)}");
            var most = Best(task);
            Assert.True(Worth(solved) <= most);
            (found, possible, first) = (found + Worth(solved), possible + most, first + Worth(inserted));
        }

        Assert.True(found >= 0.99 * possible, $"solver {found}, insertion {first} of {possible}");
        Assert.True(found > first);
    }

    [Fact]
    public void The_solver_gives_the_same_plan_again()
    {
        var settings = Settings with { Crews = 1, Weeks = 1 };
        List<(string, DateOnly?, int)> Plan() =>
            [.. WorklistPlan.Of(Scattered(50, 9), WorklistPlan.Days(July, settings), NoReadings, settings, solve: true).Select(v => (v.Candidate.InstallId, v.On, v.Order))];
        Assert.Equal(Plan(), Plan());
    }

    [Fact]
    public void Charge_waits_for_the_warmer_month()
    {
        // The plan reaches from cold February into March: who may need charge comes when it can be checked, who needs air comes first.
        List<Candidate> candidates = [.. Enumerable.Range(0, 4).SelectMany(i => new[] { At($"A{i}", 0.95, 0, 40, -90), At($"C{i}", 0, 0.95, 40, -90) })];
        var settings = Settings with { Crews = 1, Weeks = 2 };
        var visits = WorklistPlan.Of(candidates, WorklistPlan.Days(new(2026, 2, 18), settings), NoReadings, settings, solve: true);
        Assert.Equal(8, visits.Count);
        Assert.All(visits.Where(v => v.Candidate.InstallId[0] == 'C'), v => Assert.Equal(3, v.On!.Value.Month));
    }

    [Fact]
    public void Every_install_gets_a_word_and_the_settings_that_matter_are_named()
    {
        List<Candidate> candidates = [.. Scattered(60, 5), At("Z", double.NaN, double.NaN) with { Scored = VisitAdviceTests.Scored("Z", double.NaN, double.NaN) with { AbstainsBecause = "ran 4 minutes" } }];
        var settings = Settings with { Crews = 1, Weeks = 1 };
        var days = WorklistPlan.Days(July, settings);
        var able = candidates.Where(c => c.Scored.AbstainsBecause is null).ToList();
        var visits = WorklistPlan.Of(able, days, NoReadings, settings, solve: false);
        var needs = WorklistRows.Needs(candidates, visits, days, NoReadings, settings);
        var counted = needs.Text("visit_need").CountBy(n => n!).ToDictionary();
        Assert.Equal(visits.Count, counted["visit"]);
        Assert.Equal(1, counted["cannot_judge"]);
        Assert.True(counted["later"] > 0 && counted["not_needed"] > 0);
        Assert.All(Enumerable.Range(0, needs.Rows).Where(r => needs.Text("visit_need")[r] is "later" or "not_needed"), r => Assert.Equal(needs.Text("visit_need")[r] == "later", needs.Number("benefit_usd")[r] > 0));
        Assert.Equal("ran 4 minutes", needs.Text("need_because")[60]);

        var matter = Sensitivity.Of(able, days, NoReadings, settings);
        Assert.All(Enumerable.Range(0, matter.Rows), r => Assert.InRange(matter.Whole("visits_kept")[r]!.Value, 0, visits.Count));
        var hours = Enumerable.Range(0, matter.Rows).Single(r => matter.Text("setting_name")[r] == "visit_hours" && matter.Number("setting_value")[r] == 3);
        Assert.True(matter.Whole("chosen_visits")[hours] < visits.Count);
    }

    [Fact]
    public void Settings_out_of_range_are_all_named()
    {
        var error = Assert.Throws<UserError>(() => new WorklistSettings { Weeks = 0, FreezeChance = 2, CoolingShares = [1] }.Validate());
        Assert.Equal(3, error.Problems.Count);
    }

    /// <summary>The most that two days of at most two visits can be worth, all ways tried [cents].</summary>
    private static long Best(RegionTask task)
    {
        var days = new List<List<int>> { new() };
        var places = Enumerable.Range(1, task.Candidates.Count).ToList();
        days.AddRange(places.Select(p => new List<int> { p }));
        days.AddRange(places.SelectMany(p => places.Where(q => q != p).Select(q => new List<int> { p, q })));
        var fit = days.Where(d => task.Length(d) <= task.Settings.DayMinutes).ToList();
        return fit.SelectMany(a => fit.Where(b => !a.Intersect(b).Any()).Select(b => task.Worth(a, 7) + task.Worth(b, 7))).Max();
    }
}
