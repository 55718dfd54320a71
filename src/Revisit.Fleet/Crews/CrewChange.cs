using Revisit.Fleet.Statistics;

namespace Revisit.Fleet.Crews;

/// <summary>
/// Whether a crew's later installs differ from its earlier ones: a risk-adjusted CUSUM over the later half, in order of start-up, against what the crew did in its earlier half at the same work.
/// </summary>
public sealed record CrewChange(string CrewId, string Compared, string Direction)
{
    /// <summary>Chance of a false signal over the charted installs, that the earlier half is a sample counted in.</summary>
    public const double FalseSignal = 0.02;

    /// <summary>Odds ratio that is looked for: halved, or doubled.</summary>
    public const double Halved = 0.5;

    private const int MostCharted = 250;

    public int BaselineInstalls { get; init; }

    /// <summary>Observed over expected of the earlier half, drawn towards that of all crews.</summary>
    public double BaselineRatio { get; init; }

    public DateOnly? ChartedFrom { get; init; }
    public int Charted { get; init; }
    public int Observed { get; init; }
    public double Expected { get; init; }
    public double Highest { get; init; }
    public double Limit { get; init; }
    public double FalseSignalChance { get; init; }

    /// <summary>Chance of a signal, had the odds changed from the first charted install.</summary>
    public double SignalChance { get; init; }

    /// <summary>Installs until a signal on the average, once the odds have changed.</summary>
    public double RunLength { get; init; }

    /// <summary>Charted installs at the signal, or null.</summary>
    public int? SignalledAfter { get; init; }

    /// <summary>Start-up day of the install that brought the signal.</summary>
    public DateOnly? SignalledOn { get; init; }

    /// <summary>Both directions for every crew with enough installs in each half.</summary>
    /// <param name="installs">All installs.</param>
    /// <param name="comparison">The comparison that gives each install its chance.</param>
    public static IEnumerable<CrewChange> Of(IEnumerable<ComparedInstall> installs, CrewComparison comparison)
    {
        ArgumentNullException.ThrowIfNull(comparison);
        var at = ComparedInstall.IndexOf(comparison.Compared);
        return installs.Where(i => i.Seen[at] is not null && i.InstalledOn is not null).GroupBy(i => i.CrewId).OrderBy(g => g.Key, StringComparer.Ordinal)
            .AsParallel().AsOrdered().SelectMany(crew => OfCrew([.. crew.OrderBy(i => i.InstalledOn).ThenBy(i => i.InstallId, StringComparer.Ordinal)], comparison, at));
    }

    private static IEnumerable<CrewChange> OfCrew(List<ComparedInstall> ordered, CrewComparison comparison, int at)
    {
        var charted = Math.Min(MostCharted, ordered.Count / 2);
        if (charted < CrewStanding.Enough)
        {
            return [];
        }

        var (earlier, later) = (ordered[..^charted], ordered[^charted..]);
        double[] before = [.. earlier.Select(comparison.ChanceOf)];
        var (shift, deviation) = Shift(before, earlier.Count(i => i.Seen[at] == true), 1 / comparison.Spread.Shape);
        var ratio = before.Sum(p => Shifted(p, shift)) / before.Sum();
        double[] chances = [.. later.Select(i => Shifted(comparison.ChanceOf(i), shift))];
        bool[] happened = [.. later.Select(i => i.Seen[at] == true)];
        return ((string[])["better", "worse"]).Select(d => Chart(later, chances, happened, deviation, comparison.Compared, d) with { BaselineInstalls = earlier.Count, BaselineRatio = ratio });
    }

    private static CrewChange Chart(List<ComparedInstall> later, double[] chances, bool[] happened, double deviation, string compared, string direction)
    {
        var odds = direction == "better" ? Halved : 1 / Halved;
        var cusum = new RiskAdjustedCusum(odds);
        var limit = cusum.LimitFor(chances, FalseSignal, deviation);
        var path = cusum.Path(chances, happened);
        var signal = Array.FindIndex(path, v => v >= limit);
        return new(later[0].CrewId, compared, direction)
        {
            ChartedFrom = later[0].InstalledOn,
            Charted = later.Count,
            Observed = happened.Count(h => h),
            Expected = chances.Sum(),
            Highest = path.Max(),
            Limit = limit,
            FalseSignalChance = cusum.SignalWithinSpread(limit, chances, 1, deviation),
            SignalChance = cusum.SignalWithin(limit, chances, odds),
            RunLength = cusum.AverageRunLength(limit, chances, odds, 100),
            SignalledAfter = signal < 0 ? null : signal + 1,
            SignalledOn = signal < 0 ? null : later[signal].InstalledOn,
        };
    }

    /// <summary>Log odds by which a crew's installs lie above their chances, with a normal prior about none; and its standard deviation.</summary>
    private static (double Shift, double Deviation) Shift(double[] chances, int observed, double variance)
    {
        var (low, high) = (-6.0, 6.0);
        for (var i = 0; i < 50; i++)
        {
            var middle = (low + high) / 2;
            (low, high) = observed - chances.Sum(p => Shifted(p, middle)) - middle / variance > 0 ? (middle, high) : (low, middle);
        }

        return (low, 1 / Math.Sqrt(chances.Sum(p => Shifted(p, low) * (1 - Shifted(p, low))) + 1 / variance));
    }

    private static double Shifted(double chance, double shift) => 1 / (1 + (1 - chance) / chance * Math.Exp(-shift));
}
