using Google.OrTools.ConstraintSolver;

namespace Revisit.Forecast.Visits;

/// <summary>
/// Days improved by the routing solver of Google.OrTools from those of <see cref="InsertionPlan"/>: which installs to visit, on which day, in
/// which order, so that benefit less travel is highest while every crew's day fits its hours. Guided local search on one thread and whole numbers,
/// ended by a count, not a clock: the same task gives the same plan. Good, not proven best.
/// </summary>
internal static class SolverPlan
{
    /// <summary>How far the search goes: plans looked at, times installs, times days. Counted, not timed, so that every machine stops at the same plan.</summary>
    private const int SearchSize = 4_000;

    /// <summary>Better days, or null when the solver's library does not load on this machine.</summary>
    public static List<int>[]? Of(RegionTask task, List<int>[] start)
    {
        try
        {
            return Improve(task, start);
        }
        catch (Exception e) when (e is TypeInitializationException or DllNotFoundException or BadImageFormatException)
        {
            return null;
        }
    }

    private static List<int>[] Improve(RegionTask task, List<int>[] start)
    {
        var places = task.Candidates.Count + 1;
        using var manager = new RoutingIndexManager(places, start.Length, 0);
        using var model = new RoutingModel(manager);
        var most = Enumerable.Range(0, places).Select(p => p == 0 ? 0 : Math.Max(0, task.Days.Max(d => task.Cents(p, d.Month)))).ToArray();
        var byMonth = task.Days.Select(d => d.Month).Distinct().ToDictionary(m => m, month => model.RegisterTransitCallback((a, b) =>
        {
            var (from, to) = (manager.IndexToNode(a), manager.IndexToNode(b));
            return task.CentsOf(task.Minutes(from, to)) + (to == 0 ? 0 : most[to] - task.Cents(to, month));
        }));
        for (var v = 0; v < start.Length; v++)
        {
            model.SetArcCostEvaluatorOfVehicle(byMonth[task.Days[v % task.Days.Count].Month], v);
        }

        var minutes = model.RegisterTransitCallback((a, b) =>
        {
            var from = manager.IndexToNode(a);
            return task.Minutes(from, manager.IndexToNode(b)) + (from == 0 ? 0 : task.Settings.VisitMinutes);
        });
        model.AddDimension(minutes, 0, task.Settings.DayMinutes, true, "minutes");
        for (var p = 1; p < places; p++)
        {
            model.AddDisjunction([manager.NodeToIndex(p)], most[p]);
        }

        var search = operations_research_constraint_solver.DefaultRoutingSearchParameters();
        search.LocalSearchMetaheuristic = LocalSearchMetaheuristic.Types.Value.GuidedLocalSearch;
        search.SolutionLimit = Math.Max(1, SearchSize / (places * start.Length));
        model.CloseModelWithParameters(search);
        using var first = model.ReadAssignmentFromRoutes([.. start.Select(r => r.Select(p => manager.NodeToIndex(p)).ToArray())], true);
        using var found = model.SolveFromAssignmentWithParameters(first, search);
        if (found is null)
        {
            return start;
        }

        var routes = start.Select(_ => new List<int>()).ToArray();
        for (var v = 0; v < routes.Length; v++)
        {
            for (var at = found.Value(model.NextVar(model.Start(v))); !model.IsEnd(at); at = found.Value(model.NextVar(at)))
            {
                routes[v].Add(manager.IndexToNode(at));
            }
        }

        // What earns nothing on its day goes, for the solver takes a worthless visit as willingly as none.
        for (var v = 0; v < routes.Length; v++)
        {
            var month = task.Days[v % task.Days.Count].Month;
            routes[v].RemoveAll(p => task.Cents(p, month) <= 0);
        }

        return routes;
    }
}
