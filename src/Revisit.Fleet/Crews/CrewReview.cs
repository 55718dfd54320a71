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
        var compared = SeenInstalls.Alike(installs, ComparedInstall.Columns).AsParallel().SelectMany(alike =>
        {
            var seen = SeenInstalls.Of(installs, alike[0]);
            return alike.AsParallel().Select(c => CrewComparison.Of(seen, c)).ToList();
        }).ToDictionary(c => c.Compared);
        Rates = [.. Codes.Compared.Select(c => compared[c])];
        Mistakes = [.. Codes.Habit.Select(c => compared[c])];
        CrewComparison.HoldDiscoveries(Rates);
        CrewComparison.HoldDiscoveries(Mistakes);
        var followed = Followed.Select(c => compared[c]).ToList();
        (Changes, Populations) = ([], []);
        Parallel.Invoke(() => Changes = [.. followed.SelectMany(c => CrewChange.Of(installs, c))], () => Populations = [.. PopulationRate.Of(installs, Codes.Compared)]);
        Quarters = [.. followed.SelectMany(c => CrewQuarter.Of(installs, c))];
    }

    /// <summary>The installs, by install.</summary>
    public IReadOnlyList<ComparedInstall> Installs { get; }

    /// <summary>By what first follow-ups show, in the order of <see cref="Codes.Compared"/>; false discoveries are held over all of them.</summary>
    public IReadOnlyList<CrewComparison> Rates { get; }

    /// <summary>Recurring mistakes, in the order of <see cref="Codes.Habit"/>; false discoveries are held over all of them.</summary>
    public IReadOnlyList<CrewComparison> Mistakes { get; }

    /// <summary>Changes of what is followed over time.</summary>
    public IReadOnlyList<CrewChange> Changes { get; private set; }

    /// <summary>The same by quarter.</summary>
    public IReadOnlyList<CrewQuarter> Quarters { get; }

    /// <summary>Shares among follow-ups, and weighted to all installs.</summary>
    public IReadOnlyList<PopulationRate> Populations { get; private set; }

    /// <summary>Reviews given installs.</summary>
    public static CrewReview Of(IEnumerable<ComparedInstall> installs) => new(SeenInstalls.InOrder([.. installs]));

    /// <summary>Reviews the installs of a lake.</summary>
    /// <param name="session">A session over the lake.</param>
    /// <param name="until">Last day of what is taken to be known; null for all.</param>
    public static CrewReview Of(LakeSession session, DateOnly? until = null)
    {
        SqlLibrary.Embedded.DefineViews(session);
        return Of(ComparedInstall.Read(session, until));
    }
}
