namespace Revisit.Forecast;

/// <summary>An install with a known answer to one question.</summary>
/// <param name="Install">What was known on its install day.</param>
/// <param name="FollowedUpOn">Day the answer came.</param>
/// <param name="Kind">Kind of visit that gave it.</param>
/// <param name="Needed">The answer.</param>
/// <param name="Weight">How many installs it stands for when chances are calibrated; 0 where it has had no planned check.</param>
public sealed record LabelledInstall(InstallFeatures Install, DateOnly FollowedUpOn, string? Kind, bool Needed, double Weight = 0);

/// <summary>Labels split by the day the answer came: everything before a day trains, that day and later tests.</summary>
/// <param name="TestFrom">First day of the test part.</param>
/// <param name="Train">Training part in order of time.</param>
/// <param name="Test">Test part in order of time.</param>
public sealed record TimeSplit(DateOnly TestFrom, IReadOnlyList<LabelledInstall> Train, IReadOnlyList<LabelledInstall> Test)
{
    /// <summary>Most rows that test: more would only make the intervals a little narrower.</summary>
    public const int MostTests = 20_000;

    /// <summary>Splits so that about the given share, the latest by date, tests, but not many more than <see cref="MostTests"/>; answers of one day stay together.</summary>
    /// <exception cref="ArgumentException">There are no labels, or an install stands twice.</exception>
    public static TimeSplit Of(IEnumerable<LabelledInstall> labels, double testShare)
    {
        var ordered = labels.OrderBy(l => l.FollowedUpOn).ThenBy(l => l.Install.InstallId, StringComparer.Ordinal).ToList();
        if (ordered.Count == 0)
        {
            throw new ArgumentException("no labels to split", nameof(labels));
        }

        if (ordered.Select(l => l.Install.InstallId).Distinct(StringComparer.Ordinal).Count() != ordered.Count)
        {
            throw new ArgumentException("an install stands twice among the labels", nameof(labels));
        }

        var from = ordered[Math.Min(ordered.Count - 1, Math.Max(ordered.Count - MostTests, (int)(ordered.Count * (1 - testShare))))].FollowedUpOn;
        return new(from, [.. ordered.Where(l => l.FollowedUpOn < from)], [.. ordered.Where(l => l.FollowedUpOn >= from)]);
    }
}
