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
        List<Func<ComparedInstall, double>> numbers =
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

        List<double[]> columns = [.. numbers.Select(n => installs.Select(n).ToArray())];
        foreach (var group in groups)
        {
            string[] names = [.. installs.Select(i => group(i) ?? "")];
            // The largest group is the base; of equals the first by name, so that the order of installs does not matter.
            foreach (var (name, _) in names.CountBy(n => n).OrderByDescending(g => g.Value).ThenBy(g => g.Key, StringComparer.Ordinal).Skip(1).Where(g => g.Value >= Fewest))
            {
                columns.Add([.. names.Select(n => n == name ? 1.0 : 0)]);
            }
        }

        columns.RemoveAll(c => c.All(v => v == c[0]));
        var rows = new double[installs.Count][];
        for (var i = 0; i < rows.Length; i++)
        {
            var row = rows[i] = new double[1 + columns.Count];
            row[0] = 1;
            for (var c = 0; c < columns.Count; c++)
            {
                row[c + 1] = columns[c][i];
            }
        }

        return rows;
    }
}
