using Revisit.Fleet.Statistics;

namespace Revisit.Fleet.Crews;

/// <summary>One crew in one comparison: raw, and adjusted for its work.</summary>
public sealed record CrewStanding(string CrewId, string Compared)
{
    /// <summary>Fewest judged installs on which a crew is compared at all.</summary>
    public const int Enough = 20;

    /// <summary>Share of false discoveries among crews that are said to stand apart.</summary>
    public const double FalseDiscoveries = 0.05;

    /// <summary>Installs of the crew on which it could be seen.</summary>
    public int Judged { get; init; }

    /// <summary>Those on which it was so.</summary>
    public int Observed { get; init; }

    /// <summary>Those on which it would have been so, had the crew's work gone as that of all crews but those far above the others.</summary>
    public double Expected { get; init; }

    /// <summary>Observed over expected.</summary>
    public double Ratio => Observed / Expected;

    /// <summary>95 % exact Poisson interval of the ratio; on the wide side, since an install can have it only once.</summary>
    public Interval RatioLimits => Intervals.PoissonExact(Observed).Over(Expected);

    /// <summary>Share among the installs that the expectation rests on.</summary>
    public double FleetRate { get; init; }

    /// <summary>Share among the installs of the other crews.</summary>
    public double PeerRate { get; init; }

    /// <summary>Ratio drawn towards that of all crews, and its 95 % posterior interval.</summary>
    public double Shrunken { get; init; }

    /// <summary>95 % posterior interval of <see cref="Shrunken"/>.</summary>
    public Interval ShrunkenLimits { get; init; }

    /// <summary>The crew's share were its work that of all: the ratio times the rate of its peers, at most 1.</summary>
    public double AdjustedRate => Adjusted(Ratio);

    /// <summary>95 % limits of <see cref="AdjustedRate"/>.</summary>
    public Interval AdjustedLimits => new(Adjusted(RatioLimits.Low), Adjusted(RatioLimits.High));

    /// <summary>Mean square of the winsorised z-scores of all crews.</summary>
    public double Dispersion { get; init; } = 1;

    /// <summary>99.8 % funnel limits of the ratio, widened by the dispersion.</summary>
    public Interval FunnelLimits { get; init; }

    /// <summary>Normal deviate; NaN where no other crew does such work.</summary>
    public double Z { get; init; }

    /// <summary>Two-sided chance; NaN as <see cref="Z"/>.</summary>
    public double P => double.IsNaN(Z) ? double.NaN : Tails.TwoSided(Z);

    /// <summary>p after Benjamini and Hochberg over all that was compared together; NaN with too few installs.</summary>
    public double Q { get; set; } = double.NaN;

    /// <summary>Whether the crew had enough installs for the comparison.</summary>
    public bool IsCompared => Judged >= Enough && !double.IsNaN(Z);

    /// <summary>more, fewer or as_expected; too_few_installs where it is not compared.</summary>
    public string Standing => !IsCompared ? "too_few_installs" : !(Q <= FalseDiscoveries) ? "as_expected" : Z > 0 ? "more" : "fewer";

    /// <summary>Place in the funnel: above, inside, below.</summary>
    public string Position => Ratio > FunnelLimits.High ? "above" : Ratio < FunnelLimits.Low ? "below" : "inside";

    private double Adjusted(double ratio) => Math.Min(1, ratio * FleetRate);
}
