namespace Revisit.Fleet.Crews;

/// <summary>
/// The work a crew was given, as columns of a regression without crews: size, metering, refrigerant, ducts, motor, line length, season and outdoor air when it was seen, and why the visit
/// was made. Groups of fewer than <see cref="Fewest"/> installs go with the largest.
/// </summary>
internal static class CaseMix
{
    private const int Fewest = 8;

    /// <summary>Columns of every install, the constant first; a column that is the same for all is left out.</summary>
    /// <param name="installs">Installs that were seen.</param>
    /// <param name="atStart">Whether at start-up instead of the first follow-up.</param>
    public static double[][] Rows(IReadOnlyList<ComparedInstall> installs, bool atStart)
    {
        List<Func<ComparedInstall, double>> columns =
        [
            i => double.IsNaN(i.Tons) ? 0 : i.Tons - 3,
            i => i.Tons <= 2.5 ? 1 : 0,
            i => i.LineFt > 25 ? 1 : 0,
            i => i.LineFt > 50 ? 1 : 0,
            i => (atStart ? i.StartOutdoorF : i.FollowUpOutdoorF) is var f && double.IsNaN(f) ? 0 : (f - 80) / 15,
        ];
        List<Func<ComparedInstall, string?>> groups = [i => i.Metering, i => i.Refrigerant, i => i.Ducts, i => i.Motor, i => atStart ? i.StartSeason : i.Season];
        if (!atStart)
        {
            groups.Add(i => i.FollowUpKind);
        }

        foreach (var group in groups)
        {
            // The largest group is the base; of equals the first by name, so that the order of installs does not matter.
            foreach (var name in installs.GroupBy(i => group(i) ?? "").OrderByDescending(g => g.Count()).ThenBy(g => g.Key, StringComparer.Ordinal).Skip(1).Where(g => g.Count() >= Fewest).Select(g => g.Key))
            {
                columns.Add(i => (group(i) ?? "") == name ? 1 : 0);
            }
        }

        var kept = columns.Where(c => installs.Any(i => c(i) != c(installs[0]))).ToArray();
        return [.. installs.Select(i => (double[])[1, .. kept.Select(c => c(i))])];
    }
}
