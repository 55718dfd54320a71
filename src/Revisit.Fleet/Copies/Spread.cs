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

    /// <summary>Columns whose spread is looked at: dry bulbs, pressures and line temperatures.</summary>
    private static readonly int[] Looked = [0, 3, 5, 6, 7, 8];

    private readonly double[] variance = new double[Looked.Length], kurtosis = new double[Looked.Length];

    /// <summary>The fleet's spread, pooled within crews, quarters and like conditions.</summary>
    public Spread(IEnumerable<IReadOnlyList<CopyReading>> quarters)
    {
        var all = quarters.ToList();
        for (var k = 0; k < Looked.Length; k++)
        {
            // The fourth moment is taken of groups of five and more: fewer residuals are tied by their mean.
            var (squares, fourths, degrees, n) = (0.0, 0.0, 0, 0);
            foreach (var group in all.SelectMany(q => Groups(q, Looked[k])))
            {
                var mean = group.Average();
                degrees += group.Count - 1;
                squares += group.Sum(v => Math.Pow(v - mean, 2));
                if (group.Count >= 5)
                {
                    fourths += group.Sum(v => Math.Pow((v - mean) * Math.Sqrt(group.Count / (group.Count - 1.0)), 4));
                    n += group.Count;
                }
            }

            variance[k] = degrees > 0 ? squares / degrees : 0;
            kurtosis[k] = n > 0 && variance[k] > 0 ? Math.Max(3, fourths / n / (variance[k] * variance[k])) : 3;
        }
    }

    /// <summary>The narrowest column of a crew's quarter, its deviation over the fleet's, and the chance; NaN with too few readings.</summary>
    public (string? Column, double Ratio, double Chance) Test(IReadOnlyList<CopyReading> quarter)
    {
        var (column, ratio, chance, tested) = (default(string), double.NaN, 1.0, 0);
        for (var k = 0; k < Looked.Length; k++)
        {
            var groups = Groups(quarter, Looked[k]).ToList();
            var degrees = groups.Sum(g => g.Count - 1);
            if (degrees < FewestDegrees || !(variance[k] > 0))
            {
                continue;
            }

            tested++;
            var squares = groups.Sum(g => g.Sum(v => Math.Pow(v - g.Average(), 2)));
            var scale = 2 / (kurtosis[k] - 1);
            var p = Tails.ChiSquareAtMost(scale * squares / (Narrowest * Narrowest * variance[k]), scale * degrees);
            if (column is null || p < chance)
            {
                (column, ratio, chance) = (CopyReading.Columns[Looked[k]], Math.Sqrt(squares / degrees / variance[k]), p);
            }
        }

        return tested == 0 ? (null, double.NaN, double.NaN) : (column, ratio, Math.Min(1, chance * tested));
    }

    private static IEnumerable<List<double>> Groups(IEnumerable<CopyReading> quarter, int column) =>
        quarter.Where(r => !double.IsNaN(r.Values[column]) && !double.IsNaN(r.OutdoorDbF)).GroupBy(r => (r.Refrigerant, Math.Floor(r.OutdoorDbF / 10)))
            .Select(g => g.Select(r => r.Values[column]).ToList()).Where(g => g.Count >= 2);
}
