namespace Revisit.Forecast.Visits;

/// <summary>Chooses visits for all regions: places the crews, plans each region's days, and puts the days of most worth first.</summary>
internal static class WorklistPlan
{
    /// <summary>Candidates a visit that fits which are looked at, by benefit; the rest would not be reached.</summary>
    private const int CandidatesAVisit = 3;

    /// <summary>Candidates looked at in a region at most: the solver's time grows faster than their number.</summary>
    private const int MostCandidates = 240;

    /// <summary>The working days of a plan, from the first Monday after a day.</summary>
    public static List<DateOnly> Days(DateOnly asOf, WorklistSettings settings)
    {
        var monday = asOf.AddDays(1);
        while (monday.DayOfWeek != DayOfWeek.Monday)
        {
            monday = monday.AddDays(1);
        }

        return [.. Enumerable.Range(0, 7 * settings.Weeks).Where(d => d % 7 < settings.DaysAWeek).Select(monday.AddDays)];
    }

    /// <summary>The visits, of most benefit first.</summary>
    /// <param name="candidates">Installs with chances.</param>
    /// <param name="days">Working days.</param>
    /// <param name="weather">Whether charge can be checked.</param>
    /// <param name="settings">Costs, hours and travel.</param>
    /// <param name="solve">Whether the solver improves what insertion finds.</param>
    public static List<PlannedVisit> Of(IReadOnlyList<Candidate> candidates, IReadOnlyList<DateOnly> days, GaugeWeather weather, WorklistSettings settings, bool solve) =>
        [.. Tasks(candidates, days, weather, settings).SelectMany(t => Region(t, solve)).OrderByDescending(v => v.BenefitUsd).ThenBy(v => v.Candidate.InstallId, StringComparer.Ordinal)];

    /// <summary>The regions that get crews, each with the candidates worth a look.</summary>
    public static List<RegionTask> Tasks(IReadOnlyList<Candidate> candidates, IReadOnlyList<DateOnly> days, GaugeWeather weather, WorklistSettings settings)
    {
        var regions = candidates.Select(c => (Candidate: c, Benefit: Best(c, days, weather, settings))).Where(c => c.Benefit > 0)
            .GroupBy(c => c.Candidate.Region, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal)
            .Select(g => (Region: g.Key, All: g.OrderByDescending(c => c.Benefit).ThenBy(c => c.Candidate.InstallId, StringComparer.Ordinal).ToList())).ToList();
        var visitsADay = Math.Max(1, settings.DayMinutes / settings.VisitMinutes);
        var crews = PlaceCrews([.. regions.Select(r => r.All.Select(c => c.Benefit).ToList())], days.Count * visitsADay, settings.Crews);
        var tasks = new List<RegionTask>();
        for (var r = 0; r < regions.Count; r++)
        {
            if (crews[r] > 0)
            {
                var looked = Math.Min(MostCandidates, CandidatesAVisit * visitsADay * days.Count * crews[r]);
                tasks.Add(new(regions[r].Region, [.. regions[r].All.Take(looked).Select(c => c.Candidate)], days, crews[r], weather, settings));
            }
        }

        return tasks;
    }

    /// <summary>The places of each day, and how they were chosen.</summary>
    public static (List<int>[] Routes, string By) Routes(RegionTask task, bool solve)
    {
        var inserted = InsertionPlan.Of(task);
        return solve && SolverPlan.Of(task, inserted) is { } solved ? (solved, "solver") : (inserted, "insertion");
    }

    /// <summary>Worth of a visit on the best of the days [US dollars].</summary>
    public static double Best(Candidate candidate, IReadOnlyList<DateOnly> days, GaugeWeather weather, WorklistSettings settings) =>
        days.DistinctBy(d => d.Month).Max(d => RegionTask.BenefitOf(candidate, d, weather, settings));

    /// <summary>Crews by region: one after another goes where its days would earn most, travel left out.</summary>
    /// <param name="benefits">Benefits of each region, highest first.</param>
    /// <param name="visits">Visits of one crew in the time planned.</param>
    /// <param name="crews">Crews in all.</param>
    public static int[] PlaceCrews(IReadOnlyList<IReadOnlyList<double>> benefits, int visits, int crews)
    {
        var placed = new int[benefits.Count];
        for (var c = 0; c < crews && benefits.Count > 0; c++)
        {
            var worth = benefits.Select((b, r) => b.Skip(placed[r] * visits).Take(visits).Sum()).ToArray();
            var best = Array.IndexOf(worth, worth.Max());
            if (worth[best] <= 0)
            {
                break;
            }

            placed[best]++;
        }

        return placed;
    }

    private static IEnumerable<PlannedVisit> Region(RegionTask task, bool solve)
    {
        if (!task.HasPlaces)
        {
            return Ranked(task);
        }

        var (routes, by) = Routes(task, solve);
        return Dated(task, routes, by);
    }

    /// <summary>As many of most benefit as fit, the way to each taken as unknown; no days.</summary>
    private static IEnumerable<PlannedVisit> Ranked(RegionTask task)
    {
        var settings = task.Settings;
        var way = (int)Math.Round(settings.UnknownTravelMinutes);
        var fits = task.Crews * task.Days.Count * Math.Max(1, settings.DayMinutes / (settings.VisitMinutes + way));
        var month = task.Days[0].Month;
        return Enumerable.Range(1, task.Candidates.Count).Where(p => task.Cents(p, month) > task.CentsOf(way)).Take(fits)
            .Select(p => new PlannedVisit(task.Candidates[p - 1], null, 0, 0, 0, way, task.Cents(p, month) / 100.0, "ranking"));
    }

    /// <summary>Days of one calendar month are worth the same to every visit, so those that earn most come first.</summary>
    private static IEnumerable<PlannedVisit> Dated(RegionTask task, List<int>[] routes, string by)
    {
        var slots = Enumerable.Range(0, routes.Length).Select(r => (Day: task.Days[r % task.Days.Count], Crew: r / task.Days.Count + 1)).ToList();
        foreach (var month in slots.GroupBy(s => s.Day.Month))
        {
            var days = Enumerable.Range(0, routes.Length).Where(r => slots[r].Day.Month == month.Key).Select(r => routes[r])
                .OrderByDescending(r => task.Worth(r, month.Key)).ThenBy(r => r.Count == 0 ? 0 : r[0]);
            foreach (var ((day, crew), route) in month.OrderBy(s => s.Day).ThenBy(s => s.Crew).Zip(days))
            {
                int at = 0, clock = 0;
                for (var i = 0; i < route.Count; i++)
                {
                    var way = task.Minutes(at, route[i]);
                    yield return new(task.Candidates[route[i] - 1], day, crew, i + 1, clock + way, way, task.Cents(route[i], month.Key) / 100.0, by);
                    (at, clock) = (route[i], clock + way + task.Settings.VisitMinutes);
                }
            }
        }
    }
}
