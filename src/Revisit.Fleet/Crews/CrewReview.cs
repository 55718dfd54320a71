using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Fleet.Crews;

/// <summary>All that is said of crews: comparisons at first follow-ups, recurring mistakes, changes over time.</summary>
public sealed class CrewReview
{
    /// <summary>What is followed over time.</summary>
    public static readonly IReadOnlyList<string> Followed = ["airflow", "charge"];

    private CrewReview(IReadOnlyList<ComparedInstall> installs)
    {
        Installs = installs;
        var compared = ComparedInstall.Columns.AsParallel().AsOrdered().Select(c => (Name: c, Comparison: CrewComparison.Of(installs, c))).ToList();
        Rates = [.. compared.Where(c => Codes.Compared.Contains(c.Name)).Select(c => c.Comparison)];
        Mistakes = [.. compared.Where(c => Codes.Habit.Contains(c.Name)).Select(c => c.Comparison)];
        CrewComparison.HoldDiscoveries(Rates);
        CrewComparison.HoldDiscoveries(Mistakes);
        var followed = compared.Where(c => Followed.Contains(c.Name)).ToList();
        Changes = [.. followed.AsParallel().AsOrdered().SelectMany(c => CrewChange.Of(installs, c.Comparison, c.Name))];
        Populations = [.. PopulationRate.Of(installs, Codes.Compared)];
        Quarters = [.. followed.SelectMany(c => CrewQuarter.Of(installs, c.Comparison, c.Name))];
    }

    /// <summary>The installs, by install.</summary>
    public IReadOnlyList<ComparedInstall> Installs { get; }

    /// <summary>By what first follow-ups show, in the order of <see cref="Codes.Compared"/>; false discoveries are held over all of them.</summary>
    public IReadOnlyList<CrewComparison> Rates { get; }

    /// <summary>Recurring mistakes, in the order of <see cref="Codes.Habit"/>; false discoveries are held over all of them.</summary>
    public IReadOnlyList<CrewComparison> Mistakes { get; }

    /// <summary>Changes of what is followed over time.</summary>
    public IReadOnlyList<CrewChange> Changes { get; }

    /// <summary>The same by quarter.</summary>
    public IReadOnlyList<CrewQuarter> Quarters { get; }

    /// <summary>Shares among follow-ups, and weighted to all installs.</summary>
    public IReadOnlyList<PopulationRate> Populations { get; }

    /// <summary>Reviews given installs.</summary>
    public static CrewReview Of(IEnumerable<ComparedInstall> installs) => new([.. installs.OrderBy(i => i.InstallId, StringComparer.Ordinal)]);

    /// <summary>Reviews the installs of a lake.</summary>
    /// <param name="session">A session over the lake.</param>
    /// <param name="until">Last day of what is taken to be known; null for all.</param>
    public static CrewReview Of(LakeSession session, DateOnly? until = null)
    {
        SqlLibrary.Embedded.DefineViews(session);
        return Of(ComparedInstall.Read(session, until));
    }
}
