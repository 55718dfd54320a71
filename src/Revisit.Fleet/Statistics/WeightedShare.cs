namespace Revisit.Fleet.Statistics;

/// <summary>
/// A share of a whole population from a part of it that was seen with unequal chances: each of the seen stands for 1/chance (Horvitz and Thompson 1952, J. Am. Stat. Assoc. 47:663),
/// over the sum of these weights (Hájek).
/// </summary>
/// <param name="Share">Share in the population.</param>
/// <param name="Effective">Effective number of the seen, (Σw)²/Σw² (Kish).</param>
public readonly record struct WeightedShare(double Share, double Effective)
{
    /// <summary>95 % interval: Wilson's with the effective number.</summary>
    public Interval Interval => Interval.OfShare(Share * Effective, Effective);

    /// <summary>The share of hits among the seen, each weighted by one over its chance to be seen.</summary>
    public static WeightedShare Of(IEnumerable<(bool Hit, double Chance)> seen)
    {
        ArgumentNullException.ThrowIfNull(seen);
        var (hits, weights, squares) = (0.0, 0.0, 0.0);
        foreach (var (hit, chance) in seen)
        {
            hits += hit ? 1 / chance : 0;
            weights += 1 / chance;
            squares += 1 / (chance * chance);
        }

        return weights > 0 ? new(hits / weights, weights * weights / squares) : new(double.NaN, 0);
    }
}
