using Revisit.Records;

namespace Revisit.Fleet.Statistics;

/// <summary>Lower and upper end of an interval, in the unit of what it bounds.</summary>
public readonly record struct Interval(double Low, double High)
{
    /// <summary>Wilson's 95 % interval of a share.</summary>
    /// <param name="hits">Hits; may be a sum of weights.</param>
    /// <param name="of">Cases; may be an effective number.</param>
    public static Interval OfShare(double hits, double of)
    {
        var (low, high) = Wilson.Interval(hits, of);
        return new(low, high);
    }

    /// <summary>The interval over a divisor, such as limits of a count over the expected count.</summary>
    public Interval Over(double divisor) => new(Low / divisor, High / divisor);

    /// <summary>Whether a value lies inside, ends included.</summary>
    public bool Holds(double value) => value >= Low && value <= High;
}
