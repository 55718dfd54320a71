using Revisit.Fleet.Statistics;

namespace Revisit.Fleet.Copies;

/// <summary>
/// Whether a crew's quarter spreads too little at like conditions (refrigerant and 10 °F of outdoor air): its variance against a quarter of the fleet's,
/// since careful work may well halve the deviation (common practice, no source). Reference: chi-square, its degrees of freedom reduced by the fleet's
/// kurtosis, 2 df/(κ − 1) (Layard 1973, J. Am. Stat. Assoc. 68:195, from memory). The smallest of the columns counts, times the columns tested (Bonferroni).
/// </summary>
internal sealed class Spread
{
    private const int FewestDegrees = 8;
    private const double Narrowest = 0.5;

    private readonly double[] variance = new double[SpreadGroups.Looked.Length], kurtosis = new double[SpreadGroups.Looked.Length];

    /// <summary>The fleet's spread, pooled within crews, quarters and like conditions.</summary>
    public Spread(IEnumerable<SpreadGroups> quarters)
    {
        var all = quarters.ToList();
        for (var k = 0; k < variance.Length; k++)
        {
            var (squares, fourths, degrees, n) = (0.0, 0.0, 0, 0);
            foreach (var group in all.SelectMany(q => q.Of(k)))
            {
                degrees += group.Count - 1;
                squares += group.Squares;
                fourths += group.Fourths;
                n += group.Count >= SpreadGroups.FewestOfFourths ? group.Count : 0;
            }

            variance[k] = degrees > 0 ? squares / degrees : 0;
            kurtosis[k] = n > 0 && variance[k] > 0 ? Math.Max(3, fourths / n / (variance[k] * variance[k])) : 3;
        }
    }

    /// <summary>The narrowest column of a crew's quarter, its deviation over the fleet's, and the chance; NaN with too few readings.</summary>
    public (string? Column, double Ratio, double Chance) Test(SpreadGroups quarter)
    {
        var (column, ratio, chance, tested) = (default(string), double.NaN, 1.0, 0);
        for (var k = 0; k < variance.Length; k++)
        {
            var degrees = quarter.Of(k).Sum(g => g.Count - 1);
            if (degrees < FewestDegrees || !(variance[k] > 0))
            {
                continue;
            }

            tested++;
            var squares = quarter.Of(k).Sum(g => g.Squares);
            var scale = 2 / (kurtosis[k] - 1);
            var p = Tails.ChiSquareAtMost(scale * squares / (Narrowest * Narrowest * variance[k]), scale * degrees);
            if (column is null || p < chance)
            {
                (column, ratio, chance) = (CopyReading.Columns[SpreadGroups.Looked[k]], Math.Sqrt(squares / degrees / variance[k]), p);
            }
        }

        return tested == 0 ? (null, double.NaN, double.NaN) : (column, ratio, Math.Min(1, chance * tested));
    }
}
