namespace Revisit.Fleet.Copies;

/// <summary>Readings of a crew's quarter at like conditions, column by column: how many, and their squares and fourth powers about their mean.</summary>
internal sealed class SpreadGroups
{
    /// <summary>Readings of a group from which its fourth moment is taken: of fewer the residuals are tied by their mean.</summary>
    public const int FewestOfFourths = 5;

    /// <summary>Columns whose spread is looked at: dry bulbs, pressures and line temperatures.</summary>
    public static readonly int[] Looked = [0, 3, 5, 6, 7, 8];

    private readonly List<(int Count, double Squares, double Fourths)>[] groups;

    private SpreadGroups(List<(int Count, double Squares, double Fourths)>[] groups) => this.groups = groups;

    /// <summary>Groups of one of the columns looked at, of two readings and more.</summary>
    public IReadOnlyList<(int Count, double Squares, double Fourths)> Of(int column) => groups[column];

    /// <summary>Groups one reading a visit by refrigerant and 10 °F of outdoor air.</summary>
    public static SpreadGroups Of(IReadOnlyList<CopyReading> quarter)
    {
        var (alike, groups) = (new Dictionary<(string, double), int>(), new int[quarter.Count]);
        for (var i = 0; i < groups.Length; i++)
        {
            var key = (quarter[i].Refrigerant, Math.Floor(quarter[i].OutdoorDbF / 10));
            groups[i] = double.IsNaN(key.Item2) ? -1 : alike.TryGetValue(key, out var known) ? known : alike[key] = alike.Count;
        }

        return new([.. Looked.Select(c => Groups(quarter, c, groups, alike.Count))]);
    }

    private static List<(int Count, double Squares, double Fourths)> Groups(IReadOnlyList<CopyReading> quarter, int column, int[] groups, int most)
    {
        // In the order in which a value of each first comes: sums of them are rounded by their order.
        var (of, ordered) = (new List<double>?[most], new List<List<double>>());
        for (var i = 0; i < groups.Length; i++)
        {
            var value = quarter[i].Values[column];
            if (groups[i] < 0 || double.IsNaN(value))
            {
                continue;
            }

            if (of[groups[i]] is not { } values)
            {
                ordered.Add(values = of[groups[i]] = []);
            }

            values.Add(value);
        }

        return [.. ordered.Where(v => v.Count >= 2).Select(v => Moments([.. v]))];
    }

    private static (int Count, double Squares, double Fourths) Moments(double[] values)
    {
        var mean = values.Average();
        return (values.Length, values.Sum(v => Math.Pow(v - mean, 2)),
            values.Length >= FewestOfFourths ? values.Sum(v => Math.Pow((v - mean) * Math.Sqrt(values.Length / (values.Length - 1.0)), 4)) : 0);
    }
}
