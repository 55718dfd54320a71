namespace Revisit.Fleet.Statistics;

/// <summary>Control chart of a share over periods of unequal size (Shewhart's p-chart).</summary>
public static class PChart
{
    /// <summary>Limits of a period's share: centre ± 3 standard deviations, inside 0 and 1.</summary>
    /// <param name="centre">Share it is held against.</param>
    /// <param name="of">Installs of the period.</param>
    /// <param name="sigmas">Standard deviations.</param>
    public static Interval Limits(double centre, int of, double sigmas = 3)
    {
        var half = sigmas * Math.Sqrt(centre * (1 - centre) / of);
        return new(Math.Max(0, centre - half), Math.Min(1, centre + half));
    }

    /// <summary>Limits of a period's share where each install has an expected chance of its own: their mean ± standard deviations of the mean.</summary>
    public static Interval Limits(IReadOnlyList<double> chances, double sigmas = 3)
    {
        ArgumentNullException.ThrowIfNull(chances);
        var centre = chances.Sum() / chances.Count;
        var half = sigmas * Math.Sqrt(chances.Sum(p => p * (1 - p))) / chances.Count;
        return new(Math.Max(0, centre - half), Math.Min(1, centre + half));
    }
}
