namespace Revisit.Fleet.Crews;

/// <summary>An install behind a habit.</summary>
public sealed record CoachingExample(string InstallId, string? VisitId, DateOnly? SeenOn);

/// <summary>A habit to change, with its evidence and its latest installs.</summary>
public sealed record CoachingHabit(CrewStanding Standing, IReadOnlyList<CoachingExample> Examples)
{
    /// <summary>The habit in words.</summary>
    public CrewWords Words => CrewWords.Of(Standing.Compared);

    /// <summary>The habit in a few words; where it is looked for is left out where any start-up shows it.</summary>
    public string Short => ComparedInstall.AtStart.Contains(Standing.Compared) ? Words.What : $"{Words.What} ({Words.Where})";
}

/// <summary>
/// What to talk over with a crew: first what goes well, then up to three habits to change, then whether the last change showed. Nothing is said of a crew with fewer than
/// <see cref="CrewStanding.Enough"/> judged installs.
/// </summary>
public sealed class CoachingSheet
{
    private const int MostHabits = 3, MostExamples = 5, MostGood = 3;

    private CoachingSheet(string crewId) => CrewId = crewId;

    public string CrewId { get; }

    /// <summary>Judged first follow-ups.</summary>
    public int Judged { get; private init; }

    /// <summary>Whether there is enough to say anything.</summary>
    public bool Enough => Judged >= CrewStanding.Enough;

    /// <summary>Where the crew stands below what its work lets expect: surely (standing "fewer"), else what leans furthest that way. Single causes, not their sums.</summary>
    public IReadOnlyList<CrewStanding> GoesWell { get; private init; } = [];

    /// <summary>Mistakes that recur more than at peers' at the same work, those behind the most installs first.</summary>
    public IReadOnlyList<CoachingHabit> Habits { get; private init; } = [];

    /// <summary>All comparisons of the crew at first follow-ups.</summary>
    public IReadOnlyList<CrewStanding> Rates { get; private init; } = [];

    /// <summary>Changes followed over time.</summary>
    public IReadOnlyList<CrewChange> Changes { get; private init; } = [];

    /// <summary>The p-chart by quarter.</summary>
    public IReadOnlyList<CrewQuarter> Quarters { get; private init; } = [];

    /// <summary>The sheet of every crew with a follow-up or a start-up on record, by crew.</summary>
    public static IReadOnlyList<CoachingSheet> Of(CrewReview review)
    {
        ArgumentNullException.ThrowIfNull(review);
        var crews = review.Rates.Concat(review.Mistakes).SelectMany(c => c.Crews).Select(c => c.CrewId).Distinct().Order(StringComparer.Ordinal);
        var installs = review.Installs.ToLookup(i => i.CrewId);
        return [.. crews.Select(c => Of(review, c, installs[c]))];
    }

    private static CoachingSheet Of(CrewReview review, string crew, IEnumerable<ComparedInstall> installs)
    {
        List<CrewStanding> Own(IEnumerable<CrewComparison> of) => [.. of.SelectMany(c => c.Crews).Where(c => c.CrewId == crew)];
        var (rates, mistakes) = (Own(review.Rates), Own(review.Mistakes));
        var judged = rates.FirstOrDefault(r => r.Compared == "airflow")?.Judged ?? 0;
        if (judged < CrewStanding.Enough)
        {
            return new(crew) { Judged = judged, Rates = rates };
        }

        return new(crew)
        {
            Judged = judged,
            Rates = rates,
            GoesWell = [.. rates.Where(r => !CrewReview.Followed.Contains(r.Compared)).Concat(mistakes).Where(s => s.IsCompared && s.Z < 0).OrderBy(s => s.Standing == "fewer" ? 0 : 1).ThenBy(s => s.Z).Take(MostGood)],
            Habits =
            [
                .. mistakes.Where(m => m.Standing == "more").OrderByDescending(m => m.Observed - m.Expected).Take(MostHabits).Select(m => new CoachingHabit(m,
                [
                    .. installs.Where(i => i[m.Compared] == true).OrderByDescending(i => i.SeenOn(m.Compared)).ThenBy(i => i.InstallId, StringComparer.Ordinal)
                        .Take(MostExamples).Select(i => new CoachingExample(i.InstallId, i.VisitOf(m.Compared), i.SeenOn(m.Compared))),
                ])),
            ],
            Changes = [.. review.Changes.Where(c => c.CrewId == crew)],
            Quarters = [.. review.Quarters.Where(q => q.CrewId == crew)],
        };
    }
}
