namespace Revisit.Forecast;

/// <summary>What is known of an install on its install day.</summary>
/// <param name="InstallId">The install.</param>
/// <param name="CrewId">Its crew.</param>
/// <param name="Region">Its region.</param>
/// <param name="InstalledOn">Its install day.</param>
/// <param name="Numbers">Values of <see cref="FeatureQuery.Numbers"/>; NaN is missing.</param>
/// <param name="Categories">Values of <see cref="FeatureQuery.Categories"/>; null is missing.</param>
/// <param name="BlowerTap">The blower tap as written.</param>
/// <param name="Finding">Finding of the commissioning reading; null when there is no such reading.</param>
/// <param name="CannotJudgeBecause">Why that reading cannot be judged.</param>
public sealed record InstallFeatures(
    string InstallId, string? CrewId, string? Region, DateOnly InstalledOn, double[] Numbers, string?[] Categories,
    string? BlowerTap, string? Finding, string? CannotJudgeBecause)
{
    /// <summary>A number by its name.</summary>
    public double this[string name] => Numbers[Position(name)];

    /// <summary>A category by its name.</summary>
    public string? Category(string name) => Categories[FeatureQuery.Categories.ToList().IndexOf(name)];

    /// <summary>The install with some numbers and categories missing, by position.</summary>
    public InstallFeatures Without(IReadOnlyList<int> numbers, IReadOnlyList<int> categories) => this with
    {
        Numbers = [.. Numbers.Select((n, i) => numbers.Contains(i) ? double.NaN : n)],
        Categories = [.. Categories.Select((c, i) => categories.Contains(i) ? null : c)],
    };

    /// <summary>Position of a number.</summary>
    /// <exception cref="ArgumentException">There is no such feature.</exception>
    public static int Position(string name)
    {
        for (var i = 0; i < FeatureQuery.Numbers.Count; i++)
        {
            if (FeatureQuery.Numbers[i] == name)
            {
                return i;
            }
        }

        throw new ArgumentException($"no feature is named '{name}'", nameof(name));
    }
}

/// <summary>The answer of a first follow-up. Only an observed follow-up gives one; "none yet" is censored and gives none.</summary>
/// <param name="InstallId">The install.</param>
/// <param name="FollowedUpOn">Day of the follow-up.</param>
/// <param name="Kind">Kind of visit.</param>
/// <param name="Airflow">Whether airflow needed correcting; null when not known.</param>
/// <param name="Charge">Whether charge needed correcting; null when not known.</param>
public sealed record FollowUpLabel(string InstallId, DateOnly FollowedUpOn, string? Kind, bool? Airflow, bool? Charge);
