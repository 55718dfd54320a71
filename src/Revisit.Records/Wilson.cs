namespace Revisit.Records;

/// <summary>Score interval of a share (Wilson 1927, J. Am. Stat. Assoc. 22:209; without continuity correction), 95 %.</summary>
public static class Wilson
{
    private const double Z = 1.959963984540054; // two-sided 95 % of the normal distribution

    /// <summary>Lower and upper end for some of a number of cases; NaN for no cases.</summary>
    public static (double Low, double High) Interval(double some, double of)
    {
        if (!(of > 0))
        {
            return (double.NaN, double.NaN);
        }

        var p = some / of;
        var divisor = 1 + Z * Z / of;
        var middle = (p + Z * Z / (2 * of)) / divisor;
        var half = Z / divisor * Math.Sqrt(p * (1 - p) / of + Z * Z / (4 * of * of));
        return (some == 0 ? 0 : Math.Max(0, middle - half), some == of ? 1 : Math.Min(1, middle + half));
    }
}
