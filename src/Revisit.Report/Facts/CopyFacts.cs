using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Report.Facts;

/// <summary>What to ask a crew about one quarter: only what looks copied is set.</summary>
/// <param name="Crew">The crew.</param>
/// <param name="Quarter">YYYY-Qn.</param>
/// <param name="Visits">Visits looked at.</param>
/// <param name="Repeated">Visits that repeat an earlier one, 0 unless they are more than chance explains.</param>
/// <param name="Digits">Last digits looked at, 0 unless they are less even than chance explains.</param>
/// <param name="SpreadColumn">Column that varies less than chance explains, else null.</param>
/// <param name="SpreadRatio">Its standard deviation over the fleet's at like conditions.</param>
/// <param name="ForNothing">The adjusted chance: share of questions at least as strong that are asked for nothing, at most.</param>
internal sealed record CopyRow(string Crew, string Quarter, int Visits, int Repeated, int Digits, string? SpreadColumn, double SpreadRatio, double ForNothing);

/// <summary>A visit that repeats an earlier one.</summary>
internal sealed record RepeatedRow(string Visit, DateOnly? Day, string Crew, string Earlier, int Compared, int Repeated);

/// <summary>The questions of the page's quarter and of the three before it; in order of crew, since nothing here ranks crews.</summary>
internal sealed class CopyFacts
{
    /// <summary>Most repeated visits shown.</summary>
    public const int VisitLimit = 20;

    public required string Quarter { get; init; }

    /// <summary>Crews looked at in the page's quarter.</summary>
    public required int Looked { get; init; }

    /// <summary>Crews and quarters looked at in the three quarters before.</summary>
    public required int LookedBefore { get; init; }

    public required IReadOnlyList<CopyRow> Asked { get; init; }

    public required IReadOnlyList<CopyRow> AskedBefore { get; init; }

    /// <summary>Visits of the month that repeat an earlier one.</summary>
    public required int RepeatedCount { get; init; }

    /// <summary>At most <see cref="VisitLimit"/> of them, by day.</summary>
    public required IReadOnlyList<RepeatedRow> Repeated { get; init; }

    public static CopyFacts Read(LakeSession session, ReportMonth month)
    {
        var quarter = ReportMonth.Quarter(month.First);
        var rows = session.All(
            r => (Asked: r.Count(0) == 1, Row: new CopyRow(r.Words(1) ?? "", r.Words(2) ?? "", r.Count(3), r.Count(4), r.Count(5), r.Words(6), r.Real(7), r.Real(8))),
            // A way of looking is named where it alone would be reason to ask.
            """
            SELECT is_asked, crew_id, quarter, visits,
              CASE WHEN repeat_chance * $3 < $4 THEN repeated_visits END, CASE WHEN digit_chance * $3 < $4 THEN digits END, CASE WHEN spread_chance * $3 < $4 THEN spread_column END,
              spread_ratio, adjusted_chance
            FROM copy_questions WHERE quarter BETWEEN $1 AND $2 ORDER BY quarter DESC, crew_id
            """, ReportMonth.Quarter(month.First.AddMonths(-9)), quarter, CopyLimits.Looks, CopyLimits.Asked);
        var repeated = session.All(
            r => new RepeatedRow(r.Words(0) ?? "", r.Day(1), r.Words(2) ?? "", r.Words(3) ?? "", r.Count(4), r.Count(5)),
            """
            SELECT visit_id, visited_on, crew_id, earlier_visit_id, compared_columns, repeated_columns FROM repeated_visits
            WHERE visited_on >= CAST($1 AS DATE) AND visited_on < CAST($2 AS DATE) ORDER BY visited_on, crew_id, visit_id
            """, ReportMonth.Iso(month.First), ReportMonth.Iso(month.Next));
        return new()
        {
            Quarter = quarter,
            Looked = rows.Count(r => r.Row.Quarter == quarter),
            LookedBefore = rows.Count(r => r.Row.Quarter != quarter),
            Asked = [.. rows.Where(r => r.Asked && r.Row.Quarter == quarter).Select(r => r.Row)],
            AskedBefore = [.. rows.Where(r => r.Asked && r.Row.Quarter != quarter).Select(r => r.Row)],
            RepeatedCount = repeated.Count,
            Repeated = [.. repeated.Take(VisitLimit)],
        };
    }
}
