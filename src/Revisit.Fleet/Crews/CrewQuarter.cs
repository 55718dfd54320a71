using Revisit.Fleet.Statistics;

namespace Revisit.Fleet.Crews;

/// <summary>A crew's installs of one quarter of start-up against what their work lets expect: a point of a p-chart.</summary>
public sealed record CrewQuarter(string CrewId, string Compared, string Quarter, int Judged, int Observed, double ExpectedRate, Interval Limits)
{
    /// <summary>Every crew and quarter with an install that was seen.</summary>
    public static IEnumerable<CrewQuarter> Of(IEnumerable<ComparedInstall> installs, CrewComparison comparison) =>
        installs.Where(i => i[comparison.Compared] is not null && i.InstalledOn is not null)
            .GroupBy(i => (i.CrewId, Quarter: FormattableString.Invariant($"{i.InstalledOn!.Value.Year:0000}-Q{(i.InstalledOn.Value.Month + 2) / 3}")))
            .OrderBy(g => g.Key.CrewId, StringComparer.Ordinal).ThenBy(g => g.Key.Quarter, StringComparer.Ordinal)
            .Select(g =>
            {
                double[] chances = [.. g.OrderBy(i => i.InstallId, StringComparer.Ordinal).Select(comparison.ChanceOf)];
                return new CrewQuarter(g.Key.CrewId, comparison.Compared, g.Key.Quarter, chances.Length, g.Count(i => i[comparison.Compared] == true), chances.Average(), PChart.Limits(chances));
            });
}
