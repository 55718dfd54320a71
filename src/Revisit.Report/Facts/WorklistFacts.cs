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
        };
    }
}
