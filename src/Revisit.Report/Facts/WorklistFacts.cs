using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Report.Facts;

/// <summary>The worklist as it stands, with what it leaves out and why.</summary>
internal sealed class WorklistFacts
{
    /// <summary>Rows in the shape of the worklist table, in rank order.</summary>
    public required Batch Rows { get; init; }

    /// <summary>Latest day the scores speak for, or null without scores.</summary>
    public required DateOnly? ScoredOn { get; init; }

    /// <summary>Whether the scores speak for another month than a page does; the day after its last still counts.</summary>
    public bool IsStale(ReportMonth month) => ScoredOn is { } on && (on < month.First || on > month.Next);

    /// <summary>Installs that have a score row.</summary>
    public required int Scored { get; init; }

    /// <summary>Installs for which no score is given, by reason, most frequent first.</summary>
    public required IReadOnlyList<(string Reason, int Count)> Abstained { get; init; }

    public required IReadOnlyList<string> ModelVersions { get; init; }

    /// <summary>Installs without a follow-up by what is to be done about them, most first.</summary>
    public required IReadOnlyList<(string Need, int Count)> Needs { get; init; }

    /// <summary>Settings that change the list when halved or doubled: value, value used, visits chosen, and how many of the list are kept; those that keep fewest first.</summary>
    public required IReadOnlyList<(string Setting, double Value, double Used, int Chosen, int Kept)> Sensitivity { get; init; }

    public static WorklistFacts Read(LakeSession session)
    {
        var scores = session.One(r => (On: r.Day(0), Count: r.Count(1)), "SELECT max(scored_on), count(*) FROM scores");
        return new WorklistFacts
        {
            Rows = session.Read(Tables.Worklist, "SELECT * FROM worklist ORDER BY rank, install_id"),
            ScoredOn = scores.On,
            Scored = scores.Count,
            Abstained = session.All(r => (r.GetString(0), r.Count(1)),
                "SELECT abstains_because, count(*) FROM scores WHERE abstains_because IS NOT NULL GROUP BY 1 ORDER BY 2 DESC, 1 LIMIT 20"),
            ModelVersions = session.All(r => r.GetString(0), "SELECT DISTINCT model_version FROM scores WHERE model_version IS NOT NULL ORDER BY 1 LIMIT 5"),
            Needs = session.All(r => (r.Words(0) ?? "", r.Count(1)), "SELECT visit_need, count(*) FROM visit_needs GROUP BY 1 ORDER BY 2 DESC, 1"),
            Sensitivity = session.All(r => (r.Words(0) ?? "", r.Real(1), r.Real(2), r.Count(3), r.Count(4)),
                "SELECT setting_name, setting_value, setting_used, chosen_visits, visits_kept FROM worklist_sensitivity ORDER BY visits_kept, setting_name, setting_value LIMIT 12"),
        };
    }
}
