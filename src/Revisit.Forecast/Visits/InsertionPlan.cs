namespace Revisit.Forecast.Visits;

/// <summary>
/// Days filled by cheapest insertion: again and again the visit, day and place that earn most for each minute they take, until none that
/// fits earns anything. The solver starts from it, and it stands where there is no solver.
/// </summary>
internal static class InsertionPlan
{
    /// <summary>The places visited by each crew's day, in order; days of one crew after another's, as <see cref="RegionTask.Days"/> has them.</summary>
    public static List<int>[] Of(RegionTask task)
    {
        var routes = Enumerable.Range(0, task.Crews * task.Days.Count).Select(_ => new List<int>()).ToArray();
        var lengths = new int[routes.Length];
        var free = Enumerable.Range(1, task.Candidates.Count).ToList();
        while (true)
        {
            (double Rate, int Place, int Route, int At, int Added) best = (0, 0, 0, 0, 0);
            foreach (var (route, month) in Open(task, routes))
            {
                foreach (var place in free)
                {
                    var cents = task.Cents(place, month);
                    if (cents <= 0)
                    {
                        continue;
                    }

                    for (var at = 0; at <= routes[route].Count; at++)
                    {
                        var (before, after) = (at == 0 ? 0 : routes[route][at - 1], at == routes[route].Count ? 0 : routes[route][at]);
                        var way = task.Minutes(before, place) + task.Minutes(place, after) - (routes[route].Count == 0 ? 0 : task.Minutes(before, after));
                        var added = way + task.Settings.VisitMinutes;
                        var rate = (cents - task.CentsOf(way)) / (double)added;
                        if (rate > best.Rate && lengths[route] + added <= task.Settings.DayMinutes)
                        {
                            best = (rate, place, route, at, added);
                        }
                    }
                }
            }

            if (best.Place == 0)
            {
                return routes;
            }

            routes[best.Route].Insert(best.At, best.Place);
            lengths[best.Route] += best.Added;
            free.Remove(best.Place);
        }
    }

    /// <summary>Days begun, and of the empty ones the first of each calendar month: the others are the same.</summary>
    private static IEnumerable<(int Route, int Month)> Open(RegionTask task, List<int>[] routes)
    {
        var empty = new HashSet<int>();
        for (var r = 0; r < routes.Length; r++)
        {
            var month = task.Days[r % task.Days.Count].Month;
            if (routes[r].Count > 0 || empty.Add(month))
            {
                yield return (r, month);
            }
        }
    }
}
