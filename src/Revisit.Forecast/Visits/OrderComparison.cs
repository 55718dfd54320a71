using Revisit.Storage;

namespace Revisit.Forecast.Visits;

/// <summary>Visits that an order of going back would have made in the same crews' hours.</summary>
/// <param name="Name">The order.</param>
/// <param name="Installs">Installs visited.</param>
/// <param name="TravelHours">Time on the road, back to the start included [h].</param>
public sealed record OrderResult(string Name, IReadOnlyList<string> Installs, double TravelHours);

/// <summary>
/// The worklist against simpler ways to go back in the same crews' days and regions: by benefit without a thought for the way, oldest first,
/// worst split first, at random. Those fill each day in their order until the next visit does not fit.
/// </summary>
public static class OrderComparison
{
    /// <summary>What each order would have visited, on the scores of the lake.</summary>
    public static IReadOnlyList<OrderResult> Of(LakeSession session, WorklistSettings settings, ulong seed)
    {
        var (_, candidates, weather, days) = WorklistStage.Read(session, settings);
        var able = candidates.Where(c => c.Scored.AbstainsBecause is null).ToList();
        var plan = WorklistPlan.Tasks(able, days, weather, settings);
        var all = plan.Select(t => new RegionTask(t.Region, [.. candidates.Where(c => c.Region == t.Region)], days, t.Crews, weather, settings)).ToList();
        var random = new SeededRandom(seed);
        var drawn = candidates.ToDictionary(c => c.InstallId, _ => random.Next(), StringComparer.Ordinal);
        return
        [
            Planned("worklist", plan, solve: true),
            Planned("worklist without the solver", plan, solve: false),
            Filled("plain ranking", all, c => c.Scored.AbstainsBecause is null ? -WorklistPlan.Best(c, days, weather, settings) : double.MaxValue),
            Filled("worst split first", all, c => c.Scored.Install["split_error_f"] is var split && double.IsFinite(split) ? -Math.Abs(split) : double.MaxValue),
            Filled("oldest first", all, c => c.Scored.Install.InstalledOn.DayNumber),
            Filled("random", all, c => drawn[c.InstallId]),
        ];
    }

    private static OrderResult Planned(string name, List<RegionTask> tasks, bool solve) =>
        Result(name, tasks.Select(t => (t, WorklistPlan.Routes(t, solve).Routes)));

    private static OrderResult Filled(string name, List<RegionTask> tasks, Func<Candidate, double> key) => Result(name, tasks.Select(task =>
    {
        var waiting = new Queue<int>(Enumerable.Range(1, task.Candidates.Count).OrderBy(p => key(task.Candidates[p - 1])).ThenBy(p => task.Candidates[p - 1].InstallId, StringComparer.Ordinal));
        var routes = new List<int>[task.Crews * task.Days.Count];
        for (var r = 0; r < routes.Length; r++)
        {
            routes[r] = [];
            while (waiting.TryPeek(out var next) && task.Length([.. routes[r], next]) <= task.Settings.DayMinutes)
            {
                routes[r].Add(waiting.Dequeue());
            }
        }

        return (task, routes);
    }));

    private static OrderResult Result(string name, IEnumerable<(RegionTask Task, List<int>[] Routes)> planned)
    {
        var parts = planned.ToList();
        return new(
            name,
            [.. parts.SelectMany(p => p.Routes.SelectMany(r => r).Select(place => p.Task.Candidates[place - 1].InstallId))],
            parts.Sum(p => p.Routes.Sum(r => r.Count == 0 ? 0 : p.Task.Road(r))) / 60.0);
    }
}
