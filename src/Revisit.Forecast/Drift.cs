namespace Revisit.Forecast;

/// <summary>A feature of the latest start-ups that lies otherwise than in training.</summary>
/// <param name="Feature">Its name.</param>
/// <param name="Index">Population stability index.</param>
/// <param name="Limit">Index from which it is flagged.</param>
public sealed record Drifted(string Feature, double Index, double Limit);

/// <summary>
/// Whether the installs started up in the latest 30 days still look like those learned from: population stability index over tenths of the
/// training values (a missing value and each word of a category are bins of their own). Flagged from 0.25 (common practice, no source), and not
/// under what chance alone may give: index / (1/n + 1/N) follows chi-square with bins − 1 degrees of freedom (Yurdakul and Naranjo, "Statistical
/// properties of the population stability index", Journal of Risk Model Validation 14, 2020, from memory), taken at its mean and four standard
/// deviations. What follows the weather and the calendar by itself is left out.
/// </summary>
internal static class Drift
{
    private const int Days = 30, Bins = 10, FewestInstalls = 30;
    private const double Flagged = 0.25;
    private static readonly string[] Watched = ["split_error_f", "superheat_error_f", "subcooling_error_f", "external_static_inwc", "nominal_tons", "line_set_ft", "minutes_running", "tap_level", "cannot_judge"];
    private static readonly string[] WatchedWords = ["metering", "refrigerant", "duct_location", "blower_motor"];

    /// <summary>What has drifted, furthest first; empty where either side is too small to say.</summary>
    public static List<Drifted> Of(IReadOnlyList<InstallFeatures> training, IReadOnlyList<InstallFeatures> all, DateOnly asOf)
    {
        var latest = all.Where(i => i.InstalledOn > asOf.AddDays(-Days)).ToList();
        if (training.Count < FewestInstalls || latest.Count < FewestInstalls)
        {
            return [];
        }

        var found = new List<Drifted>();
        foreach (var name in Watched)
        {
            var at = InstallFeatures.Position(name);
            var sorted = training.Select(i => i.Numbers[at]).Where(double.IsFinite).Order().ToArray();
            var edges = Enumerable.Range(1, Bins - 1).Where(_ => sorted.Length > 0).Select(b => sorted[sorted.Length * b / Bins]).Distinct().ToArray();
            int BinOf(InstallFeatures i) => double.IsFinite(i.Numbers[at]) ? edges.Count(e => i.Numbers[at] >= e) : int.MaxValue;
            Add(found, name, training.Select(BinOf), latest.Select(BinOf), Comparer<int>.Default);
        }

        foreach (var name in WatchedWords)
        {
            var at = FeatureQuery.Categories.ToList().IndexOf(name);
            Add(found, name, training.Select(i => i.Categories[at] ?? "missing"), latest.Select(i => i.Categories[at] ?? "missing"), StringComparer.Ordinal);
        }

        return [.. found.OrderByDescending(d => d.Index).ThenBy(d => d.Feature, StringComparer.Ordinal)];
    }

    private static void Add<T>(List<Drifted> found, string name, IEnumerable<T> before, IEnumerable<T> now, IComparer<T> order) where T : notnull
    {
        var (a, b) = (before.CountBy(v => v).ToDictionary(), now.CountBy(v => v).ToDictionary());
        var bins = a.Keys.Union(b.Keys).Order(order).ToList();
        double n = a.Values.Sum(), m = b.Values.Sum(), index = 0;
        foreach (var bin in bins)
        {
            // Half an install more in each bin, so that an empty one does not make the index infinite.
            double p = (a.GetValueOrDefault(bin) + 0.5) / (n + 0.5 * bins.Count), q = (b.GetValueOrDefault(bin) + 0.5) / (m + 0.5 * bins.Count);
            index += (q - p) * Math.Log(q / p);
        }

        var freedom = Math.Max(1, bins.Count - 1);
        var limit = Math.Max(Flagged, (freedom + 4 * Math.Sqrt(2 * freedom)) * (1 / n + 1 / m));
        if (index > limit)
        {
            found.Add(new(name, Math.Round(index, 3), Math.Round(limit, 3)));
        }
    }
}
