using System.Data.Common;
using Revisit.Storage;

namespace Revisit.Report.Facts;

/// <summary>One thing compared at one crew: raw and adjusted for the work it was given.</summary>
/// <param name="Crew">The crew.</param>
/// <param name="Compared">What is compared, or the habit looked for.</param>
/// <param name="Seen">Installs at which it was seen, of those judged.</param>
/// <param name="Expected">Installs at which such work lets it be expected.</param>
/// <param name="Ratio">Seen over expected.</param>
/// <param name="Low">Lower end of its 95 % interval.</param>
/// <param name="High">Upper end.</param>
/// <param name="AdjustedRate">Share at average work, 0 to 1.</param>
/// <param name="AdjustedLow">Lower end of its 95 % interval.</param>
/// <param name="AdjustedHigh">Upper end.</param>
/// <param name="Standing">more, fewer, as_expected or too_few_installs.</param>
/// <param name="PeerRate">Share among the other crews; NaN for comparisons at follow-ups.</param>
/// <param name="FunnelLow">Lower funnel limit of the ratio; NaN for habits.</param>
/// <param name="FunnelHigh">Upper funnel limit.</param>
internal sealed record StandingRow(
    string Crew, string Compared, Share Seen, double Expected, double Ratio, double Low, double High, double AdjustedRate, double AdjustedLow, double AdjustedHigh,
    string Standing, double PeerRate, double FunnelLow, double FunnelHigh)
{
    /// <summary>Whether there are enough judged installs to compare.</summary>
    public bool Enough => Standing != "too_few_installs";
}

/// <summary>Whether later installs of a crew differ from its earlier ones.</summary>
internal sealed record CrewChangeRow(string Compared, string Direction, DateOnly? From, int Installs, int Seen, double Expected, double ByChance, double IfChanged, DateOnly? SignalledOn);

/// <summary>A quarter of one crew's installs against what its work lets expect, with p-chart limits; shares of 1.</summary>
internal sealed record CrewQuarterRow(string Compared, string Quarter, Share Seen, double Expected, double Low, double High);

/// <summary>An install behind a habit.</summary>
internal sealed record HabitInstallRow(string Habit, string Install, DateOnly? Day);

/// <summary>One crew: what is said of it and what it rests on.</summary>
/// <param name="Crew">The crew.</param>
/// <param name="Judged">Judged first follow-ups.</param>
/// <param name="Rates">Comparisons at first follow-ups.</param>
/// <param name="Habits">Mistakes that were looked for.</param>
/// <param name="GoesWell">What goes well, the surest first.</param>
/// <param name="ToChange">Habits to change, those behind the most installs first.</param>
/// <param name="Changes">Changes followed over time.</param>
/// <param name="Quarters">The p-chart by quarter.</param>
/// <param name="Examples">The latest installs behind the habits to change.</param>
internal sealed record CrewSheetFacts(
    string Crew, int Judged, IReadOnlyList<StandingRow> Rates, IReadOnlyList<StandingRow> Habits, IReadOnlyList<StandingRow> GoesWell, IReadOnlyList<StandingRow> ToChange,
    IReadOnlyList<CrewChangeRow> Changes, IReadOnlyList<CrewQuarterRow> Quarters, IReadOnlyList<HabitInstallRow> Examples)
{
    /// <summary>Whether there are enough judged follow-ups to say anything.</summary>
    public bool Enough => Judged >= OwnerFacts.CrewMinimum;

    /// <summary>The latest installs behind a habit.</summary>
    public IEnumerable<HabitInstallRow> Behind(string habit) => Examples.Where(i => i.Habit == habit);
}

/// <summary>The crews as the fleet stage compared them, over all months on record.</summary>
internal sealed class CrewFacts
{
    /// <summary>Crews in order of name, since nothing here ranks crews.</summary>
    public required IReadOnlyList<CrewSheetFacts> Crews { get; init; }

    /// <summary>The crews that are compared in one thing.</summary>
    public IReadOnlyList<StandingRow> Compared(string compared) => [.. Crews.SelectMany(c => c.Rates).Where(r => r.Compared == compared && r.Enough)];

    public static CrewFacts Read(LakeSession session)
    {
        var rates = session.All(Standing, $"SELECT {Columns("compared")}, NULL, funnel_low, funnel_high FROM crew_rates ORDER BY crew_id, compared");
        var habits = session.All(Standing, $"SELECT {Columns("habit")}, peer_rate, NULL, NULL FROM crew_mistakes ORDER BY crew_id, habit").ToLookup(h => h.Crew);
        var changes = session.All(r => (Crew: r.Words(0) ?? "", Row: new CrewChangeRow(r.Words(1) ?? "", r.Words(2) ?? "", r.Day(3), r.Count(4), r.Count(5), r.Real(6), r.Real(7), r.Real(8), r.Day(9))),
            """
            SELECT crew_id, compared, direction, charted_from, charted_installs, charted_observed, charted_expected, false_signal_chance, signal_chance, signalled_on
            FROM crew_changes ORDER BY crew_id, compared, direction
            """).ToLookup(c => c.Crew, c => c.Row);
        var quarters = session.All(r => (Crew: r.Words(0) ?? "", Row: new CrewQuarterRow(r.Words(1) ?? "", r.Words(2) ?? "", new(r.Count(3), r.Count(4)), r.Real(5), r.Real(6), r.Real(7))),
            "SELECT crew_id, compared, quarter, observed, judged, expected_rate, limit_low, limit_high FROM crew_quarters ORDER BY crew_id, compared, quarter").ToLookup(c => c.Crew, c => c.Row);
        var points = session.All(r => (Crew: r.Words(0) ?? "", Part: r.Words(1) ?? "", Point: r.Words(2) ?? ""),
            "SELECT crew_id, sheet_part, sheet_point FROM coaching_points ORDER BY crew_id, sheet_part, sheet_place").ToLookup(p => (p.Crew, p.Part), p => p.Point);
        var examples = session.All(r => (Crew: r.Words(0) ?? "", Row: new HabitInstallRow(r.Words(1) ?? "", r.Words(2) ?? "", r.Day(3))),
            "SELECT crew_id, habit, install_id, seen_on FROM coaching_examples ORDER BY crew_id, habit, sheet_place").ToLookup(c => c.Crew, c => c.Row);
        IReadOnlyList<StandingRow> Points(IGrouping<string, StandingRow> crew, string part) =>
            [.. points[(crew.Key, part)].SelectMany(p => crew.Concat(habits[crew.Key]).Where(s => s.Compared == p).Take(1))];
        return new()
        {
            Crews =
            [
                .. rates.GroupBy(r => r.Crew).Select(g => new CrewSheetFacts(
                    g.Key, g.Where(r => r.Compared == "airflow").Sum(r => r.Seen.Of), [.. g], [.. habits[g.Key]],
                    Points(g, "goes_well"), Points(g, "to_change"), [.. changes[g.Key]], [.. quarters[g.Key]], [.. examples[g.Key]])),
            ],
        };
    }

    private static string Columns(string compared) =>
        $"crew_id, {compared}, observed, judged, expected_count, ratio, ratio_low, ratio_high, adjusted_rate, adjusted_rate_low, adjusted_rate_high, standing";

    private static StandingRow Standing(DbDataReader r) => new(
        r.Words(0) ?? "", r.Words(1) ?? "", new(r.Count(2), r.Count(3)), r.Real(4), r.Real(5), r.Real(6), r.Real(7), r.Real(8), r.Real(9), r.Real(10), r.Words(11) ?? "", r.Real(12), r.Real(13), r.Real(14));
}
