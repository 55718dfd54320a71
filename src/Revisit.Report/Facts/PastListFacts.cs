using Revisit.Storage;

namespace Revisit.Report.Facts;

/// <summary>Installs that were waiting on the day of a list, and what became of them since.</summary>
/// <param name="Installs">Installs without a follow-up on that day.</param>
/// <param name="Visited">Those visited since.</param>
/// <param name="Corrected">Those whose first follow-up came since, and which of them needed a correction.</param>
internal sealed record SinceRow(int Installs, int Visited, Share Corrected);

/// <summary>The worklist of the month before against the visits since, to the end of the month.</summary>
/// <param name="ScoredOn">The day the list speaks for; null where no list of the month before is kept.</param>
/// <param name="Listed">The installs it named.</param>
/// <param name="Others">All others that had no follow-up on that day.</param>
internal sealed record PastListFacts(DateOnly? ScoredOn, SinceRow Listed, SinceRow Others)
{
    /// <summary>First follow-ups on each side below which nothing is said of a difference (our own line).</summary>
    public const int FewestToCompare = 10;

    /// <summary>Whether there are enough follow-ups on both sides.</summary>
    public bool Enough => Listed.Corrected.Of >= FewestToCompare && Others.Corrected.Of >= FewestToCompare;

    public static PastListFacts Read(LakeSession session, ReportMonth month)
    {
        var (first, next, before) = (ReportMonth.Iso(month.First), ReportMonth.Iso(month.Next), ReportMonth.Iso(month.First.AddMonths(-1)));
        var day = session.One(r => r.Day(0), "SELECT max(scored_on) FROM past_worklists WHERE scored_on >= CAST($1 AS DATE) AND scored_on < CAST($2 AS DATE)", before, first);
        var none = new SinceRow(0, 0, new(0, 0));
        if (day is not { } on) return new(null, none, none);
        var rows = session.All(r => (Listed: r.Count(0) == 1, Row: new SinceRow(r.Count(1), r.Count(2), new(r.Count(3), r.Count(4)))),
            $"""
            WITH listed AS (SELECT DISTINCT install_id FROM past_worklists WHERE scored_on = CAST($1 AS DATE)),
            seen AS (SELECT DISTINCT install_id FROM visits WHERE visited_on > CAST($1 AS DATE) AND visited_on < CAST($2 AS DATE)),
            waiting AS (
              SELECT f.*, l.install_id IS NOT NULL AS listed, s.install_id IS NOT NULL AS visited,
                coalesce(follow_up_state = 'observed' AND followed_up_on < CAST($2 AS DATE), false) AS followed
              FROM follow_ups f LEFT JOIN listed l USING (install_id) LEFT JOIN seen s USING (install_id)
              WHERE installed_on <= CAST($1 AS DATE) AND (followed_up_on IS NULL OR followed_up_on > CAST($1 AS DATE))
            )
            SELECT CAST(listed AS INTEGER), count(*), count(*) FILTER (WHERE visited), count(*) FILTER (WHERE followed AND {OwnerFacts.Corrected}), count(*) FILTER (WHERE followed)
            FROM waiting GROUP BY 1
            """, ReportMonth.Iso(on), next);
        SinceRow Side(bool listed) => rows.Where(r => r.Listed == listed).Select(r => r.Row).FirstOrDefault() ?? none;
        return new(on, Side(true), Side(false));
    }
}
