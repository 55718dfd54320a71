using Revisit.Fleet.Statistics;

namespace Revisit.Fleet.Crews;

/// <summary>
/// A share at first follow-ups and the population it speaks for. Complaints bring visits, so the share among follow-ups is no share of installs. Planned visits are not chosen by what is wrong:
/// installs that have had one, whatever visit came first, stand for all, each weighted by one over its chance to have had one by now (by age, season and work). What is assumed: given those, planned
/// visits and what can be judged do not depend on the state of the system.
/// </summary>
/// <param name="Compared">One of <see cref="Records.Codes.Compared"/>.</param>
/// <param name="Population">all_follow_ups or all_installs.</param>
/// <param name="Judged">Installs that were seen.</param>
/// <param name="Share">The share and what the seen are worth.</param>
public sealed record PopulationRate(string Compared, string Population, int Judged, WeightedShare Share)
{
    /// <summary>Least chance of a planned visit: one install stands for at most fifty.</summary>
    private const double LeastChance = 0.02;

    private static readonly int[] Ages = [15, 30, 60, 90, 120, 330, 350, 370, 400];

    /// <summary>The shares among follow-ups and, where there are planned visits, among all installs.</summary>
    /// <param name="installs">All installs.</param>
    /// <param name="compared">What to take shares of.</param>
    public static IEnumerable<PopulationRate> Of(IReadOnlyList<ComparedInstall> installs, IReadOnlyList<string> compared)
    {
        ArgumentNullException.ThrowIfNull(installs);
        ArgumentNullException.ThrowIfNull(compared);
        var planned = ChancesOfPlanned([.. installs.Where(i => i.InstalledOn is not null)]);
        foreach (var name in compared)
        {
            var at = ComparedInstall.IndexOf(name);
            var followed = installs.Where(i => i.Seen[at] is not null).ToList();
            if (followed.Count > 0)
            {
                yield return new(name, "all_follow_ups", followed.Count, WeightedShare.Of(followed.Select(i => (i.Seen[at] == true, 1.0))));
            }

            var seen = planned.Where(p => p.Install.Seen[at] is not null).ToList();
            if (seen.Count > 0)
            {
                yield return new(name, "all_installs", seen.Count, WeightedShare.Of(seen.Select(p => (p.Install.Seen[at] == true, p.Chance))));
            }
        }
    }

    /// <summary>Installs that have had a planned visit, each with its chance to have had one by now.</summary>
    private static List<(ComparedInstall Install, double Chance)> ChancesOfPlanned(List<ComparedInstall> all)
    {
        if (!all.Any(i => i.PlannedOn is not null))
        {
            return [];
        }

        var today = all.Max(i => Latest(i.InstalledOn, Latest(i.StartedOn, Latest(i.FollowedUpOn, i.PlannedOn))))!.Value.DayNumber;
        var work = new CaseMix(all, atStart: true);
        double[] Fill(int k, double[] row)
        {
            work.Fill(k, row);
            for (var a = 0; a < Ages.Length; a++)
            {
                row[work.Width + a] = today - all[k].InstalledOn!.Value.DayNumber >= Ages[a] ? 1 : 0;
            }

            return row;
        }

        double[] Empty() => new double[work.Width + Ages.Length];
        var every = CrewComparison.Every(all.Count);
        int[] fitted = [.. Enumerable.Range(0, all.Count).Where(k => k % every == 0)];
        var fit = LogisticFit.Of([.. fitted.Select(k => Fill(k, Empty()))], [.. fitted.Select(k => all[k].PlannedOn is not null)], 0.1);
        var used = Empty();
        return [.. Enumerable.Range(0, all.Count).Where(k => all[k].PlannedOn is not null).Select(k => (all[k], Math.Max(LeastChance, fit.ChanceOf(Fill(k, used)))))];
    }

    private static DateOnly? Latest(DateOnly? a, DateOnly? b) => a is null || b > a ? b : a;
}
