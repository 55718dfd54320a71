namespace Revisit.Fleet.Crews;

/// <summary>Installs on which something could be seen, with the columns of their work and their crews; the same for all that is seen on the same installs.</summary>
internal sealed class SeenInstalls
{
    private SeenInstalls(IReadOnlyList<ComparedInstall> installs, bool atStart)
    {
        Installs = installs;
        Work = new(installs, atStart);
        Crews = [.. Enumerable.Range(0, installs.Count).GroupBy(i => installs[i].CrewId).OrderBy(g => g.Key, StringComparer.Ordinal).Select(g => (g.Key, g.ToArray()))];
    }

    /// <summary>The installs, by install.</summary>
    public IReadOnlyList<ComparedInstall> Installs { get; }

    /// <summary>Columns of each.</summary>
    public CaseMix Work { get; }

    /// <summary>Places of the installs of every crew, by crew.</summary>
    public IReadOnlyList<(string Crew, int[] Members)> Crews { get; }

    /// <summary>Those on which one thing could be seen; null where there is none.</summary>
    public static SeenInstalls? Of(IEnumerable<ComparedInstall> installs, string compared)
    {
        var at = ComparedInstall.IndexOf(compared);
        var seen = installs.Where(i => i.Seen[at] is not null).ToList();
        return seen.Count == 0 ? null : new(InOrder(seen), ComparedInstall.AtStart.Contains(compared));
    }

    /// <summary>What is compared, in groups that are seen on the same installs.</summary>
    public static IEnumerable<IReadOnlyList<string>> Alike(IReadOnlyList<ComparedInstall> installs, IReadOnlyList<string> compared)
    {
        List<(bool AtStart, int[] Places, List<string> Names)> groups = [];
        foreach (var name in compared)
        {
            var (at, atStart) = (ComparedInstall.IndexOf(name), ComparedInstall.AtStart.Contains(name));
            int[] places = [.. Enumerable.Range(0, installs.Count).Where(i => installs[i].Seen[at] is not null)];
            if (groups.Find(g => g.AtStart == atStart && g.Places.AsSpan().SequenceEqual(places)).Names is { } names)
            {
                names.Add(name);
            }
            else
            {
                groups.Add((atStart, places, [name]));
            }
        }

        return groups.Select(g => g.Names);
    }

    /// <summary>Installs by install; a list that is in order already is given back.</summary>
    public static IReadOnlyList<ComparedInstall> InOrder(IReadOnlyList<ComparedInstall> installs)
    {
        for (var i = 1; i < installs.Count; i++)
        {
            if (string.CompareOrdinal(installs[i - 1].InstallId, installs[i].InstallId) > 0)
            {
                return [.. installs.OrderBy(i => i.InstallId, StringComparer.Ordinal)];
            }
        }

        return installs;
    }
}
