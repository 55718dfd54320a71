namespace Revisit.Records;

/// <summary>Score interval of a share: Wilson (1927), J. Am. Stat. Assoc. 22:209; Newcombe (1998), Stat. Med. 17:857, method 3, without continuity correction.</summary>
public static class Wilson
{
    private const double TwoSided95 = 1.959963984540054;

    /// <summary>Lower and upper end for some of a number of cases; NaN for no cases.</summary>
    /// <param name="some">Hits; may be a sum of weights.</param>
    /// <param name="of">Cases; may be an effective number.</param>
    /// <param name="z">Normal deviate of the level, both sides; 95 % when left out.</param>
    public static (double Low, double High) Interval(double some, double of, double z = TwoSided95)
    {
        if (!(of > 0))
        {
            return (double.NaN, double.NaN);
        }

        var p = some / of;
        var divisor = 1 + z * z / of;
        var middle = (p + z * z / (2 * of)) / divisor;
        var half = z / divisor * Math.Sqrt(p * (1 - p) / of + z * z / (4 * of * of));
        return (some == 0 ? 0 : Math.Max(0, middle - half), some == of ? 1 : Math.Min(1, middle + half));
    }
}
