using Revisit.Storage;

namespace Revisit.Forecast;

/// <summary>
/// Complaints bring visits, so chances learned from follow-ups are not those of installs that nobody complained of. Planned quality checks are
/// drawn without regard to what is wrong: installs that have had one by the day, whatever visit came first, stand for all, each weighted by one
/// over the chance to have had one at its age. Chances are calibrated on them, and so say what such a check would correct; maintenance looks
/// less closely and is not among them. Assumed: at one age, checks do not pick by what is wrong.
/// </summary>
internal static class Selection
{
    /// <summary>Least chance of a planned visit: one install stands for at most fifty.</summary>
    private const double LeastChance = 0.02;

    /// <summary>Ages [d] at which the chance is taken anew.</summary>
    private static readonly int[] Ages = [0, 31, 61, 91, 121, 181, 301, 401];

    /// <summary>The weight of each install that has had a planned check.</summary>
    public static Dictionary<string, double> Weights(LakeSession session, IReadOnlyList<InstallFeatures> features, DateOnly asOf)
    {
        var planned = new HashSet<string>(StringComparer.Ordinal);
        using (var reader = session.Query(LakeCut.At(asOf, "SELECT DISTINCT install_id FROM visits WHERE visit_kind = 'quality_check'") + " ORDER BY install_id"))
        {
            while (reader.Read())
            {
                planned.Add(reader.GetString(0));
            }
        }

        var weights = new Dictionary<string, double>(StringComparer.Ordinal);
        foreach (var age in features.GroupBy(f => Array.FindLastIndex(Ages, a => a <= asOf.DayNumber - f.InstalledOn.DayNumber)))
        {
            var seen = age.Where(f => planned.Contains(f.InstallId)).ToList();
            var weight = 1 / Math.Max(LeastChance, (double)seen.Count / age.Count());
            seen.ForEach(f => weights[f.InstallId] = weight);
        }

        return weights;
    }
}
