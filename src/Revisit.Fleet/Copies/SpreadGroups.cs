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
    public static SpreadGroups Of(IReadOnlyList<CopyReading> quarter) => new([.. Looked.Select(c => Groups(quarter, c))]);

    private static List<(int Count, double Squares, double Fourths)> Groups(IEnumerable<CopyReading> quarter, int column) =>
        [.. quarter.Where(r => !double.IsNaN(r.Values[column]) && !double.IsNaN(r.OutdoorDbF)).GroupBy(r => (r.Refrigerant, Math.Floor(r.OutdoorDbF / 10)), r => r.Values[column])
            .Select(g => Moments([.. g])).Where(g => g.Count >= 2)];

    private static (int Count, double Squares, double Fourths) Moments(double[] values)
    {
        var mean = values.Average();
        return (values.Length, values.Sum(v => Math.Pow(v - mean, 2)),
            values.Length >= FewestOfFourths ? values.Sum(v => Math.Pow((v - mean) * Math.Sqrt(values.Length / (values.Length - 1.0)), 4)) : 0);
    }
}
