using Revisit.Records;

namespace Revisit.Report.Facts;

/// <summary>A count out of a number of cases, with its rate and 95 % interval.</summary>
/// <param name="Count">Cases that have it, 0 to <paramref name="Of"/>.</param>
/// <param name="Of">All cases, 0 or more.</param>
public readonly record struct Share(int Count, int Of)
{
    /// <summary>The rate, or NaN without cases.</summary>
    public double Rate => Of > 0 ? (double)Count / Of : double.NaN;

    /// <summary>Lower end of the interval of <see cref="Wilson"/>, or NaN.</summary>
    public double Low => Wilson.Interval(Count, Of).Low;

    /// <summary>Upper end, or NaN.</summary>
    public double High => Wilson.Interval(Count, Of).High;

    /// <summary>
    /// Whether this rate differs from another's: the sign of the difference where its 95 % interval (Newcombe 1998,
    /// Stat. Med. 17:873, method 10) leaves out zero, else 0.
    /// </summary>
    public int ComparedWith(Share other)
    {
        if (Of == 0 || other.Of == 0) return 0;
        var difference = Rate - other.Rate;
        var below = Math.Sqrt(Math.Pow(Rate - Low, 2) + Math.Pow(other.High - other.Rate, 2));
        var above = Math.Sqrt(Math.Pow(High - Rate, 2) + Math.Pow(other.Rate - other.Low, 2));
        return difference - below > 0 ? 1 : difference + above < 0 ? -1 : 0;
    }
}
