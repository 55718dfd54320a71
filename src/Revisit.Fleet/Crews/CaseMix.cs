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

        var varying = numbers.Where(n => installs.Any(i => n(i) != n(installs[0]))).ToList();
        var width = 1 + varying.Count;
        List<int[]> ones = [];
        foreach (var group in groups)
        {
            var (codes, counts, of) = (new Dictionary<string, int>(StringComparer.Ordinal), new List<int>(), new int[installs.Count]);
            for (var i = 0; i < of.Length; i++)
            {
                var name = group(installs[i]) ?? "";
                if (!codes.TryGetValue(name, out of[i]))
                {
                    codes[name] = of[i] = counts.Count;
                    counts.Add(0);
                }

                counts[of[i]]++;
            }

            // The largest group is the base; of equals the first by name, so that the order of installs does not matter.
            var column = new int[counts.Count];
            foreach (var (_, code) in codes.OrderByDescending(c => counts[c.Value]).ThenBy(c => c.Key, StringComparer.Ordinal).Skip(1).Where(c => counts[c.Value] >= Fewest))
            {
                column[code] = width++;
            }

            ones.Add([.. of.Select(code => column[code])]);
        }

        var rows = new double[installs.Count][];
        for (var i = 0; i < rows.Length; i++)
        {
            var row = rows[i] = new double[width];
            foreach (var column in ones)
            {
                row[column[i]] = 1;
            }

            row[0] = 1;
            for (var n = 0; n < varying.Count; n++)
            {
                row[n + 1] = varying[n](installs[i]);
            }
        }

        return rows;
    }
}
