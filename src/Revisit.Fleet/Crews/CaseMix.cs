namespace Revisit.Fleet.Crews;

/// <summary>
/// The work a crew was given, as columns of a regression without crews: size, metering, refrigerant, ducts, motor, line length, season and outdoor air when it was seen, and why the visit
/// was made. Groups of fewer than <see cref="Fewest"/> installs go with the largest.
/// </summary>
internal sealed class CaseMix
{
    private const int Fewest = 8;

    private readonly IReadOnlyList<ComparedInstall> installs;
    private readonly List<Func<ComparedInstall, double>> varying;

    /// <summary>The column that is 1 for each install, by group; 0 where it is of the base.</summary>
    private readonly List<ushort[]> ones = [];

    /// <summary>Learns the columns; one that is the same for all is left out.</summary>
    /// <param name="installs">Installs that were seen.</param>
    /// <param name="atStart">Whether at start-up instead of the first follow-up.</param>
    public CaseMix(IReadOnlyList<ComparedInstall> installs, bool atStart)
    {
        this.installs = installs;
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

        varying = [.. numbers.Where(n => installs.Any(i => n(i) != n(installs[0])))];
        Width = 1 + varying.Count;
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
            var column = new ushort[counts.Count];
            foreach (var (_, code) in codes.OrderByDescending(c => counts[c.Value]).ThenBy(c => c.Key, StringComparer.Ordinal).Skip(1).Where(c => counts[c.Value] >= Fewest))
            {
                column[code] = checked((ushort)Width++);
            }

            ones.Add([.. of.Select(code => column[code])]);
        }
    }

    /// <summary>Number of columns.</summary>
    public int Width { get; }

    /// <summary>Writes the columns of an install, the constant first.</summary>
    /// <param name="install">Its place.</param>
    /// <param name="row">Takes <see cref="Width"/> columns at its start; what comes after is left as it is.</param>
    public void Fill(int install, double[] row)
    {
        Array.Clear(row, 0, Width);
        foreach (var column in ones)
        {
            row[column[install]] = 1;
        }

        row[0] = 1;
        for (var n = 0; n < varying.Count; n++)
        {
            row[n + 1] = varying[n](installs[install]);
        }
    }

    /// <summary>The columns of an install.</summary>
    public double[] RowOf(int install)
    {
        var row = new double[Width];
        Fill(install, row);
        return row;
    }

    /// <summary>The columns of some installs, each in the same array as the one before.</summary>
    public IEnumerable<double[]> RowsOf(IEnumerable<int> places)
    {
        var row = new double[Width];
        foreach (var install in places)
        {
            Fill(install, row);
            yield return row;
        }
    }
}
