using System.Data.Common;
using Revisit.Storage;

namespace Revisit.Report.Facts;

/// <summary>A value of a reading with its standard uncertainty, and what was expected of a sound system or its target; NaN where not known.</summary>
internal sealed record AgainstRow(string Quantity, double Value, double Sd, double Expected, double Error, double ErrorSd);

/// <summary>One reading of an install.</summary>
internal sealed record BriefReading(
    string Visit, int Number, DateOnly? Day, string? Kind, string? Crew, string? Phase, double Minutes, double OutdoorF, double StaticInwc, string? Tap, string? Filter,
    string? Finding, double Probability, string? Reasons, string? CannotJudgeBecause, IReadOnlyList<AgainstRow> Values);

/// <summary>What someone who goes back to an install wants to know before leaving: its readings, against what is expected, and its history.</summary>
/// <param name="Rank">Its rank on the worklist.</param>
/// <param name="Readings">All its readings, oldest first.</param>
/// <param name="Corrections">Visit and what was done there.</param>
internal sealed record BriefFacts(int Rank, IReadOnlyList<BriefReading> Readings, IReadOnlyList<(string Visit, string Correction)> Corrections)
{
    /// <summary>Installs of the worklist that get a brief: the first so many.</summary>
    public const int Most = 200;

    /// <summary>What of a reading is shown, each a column of metrics with "_sd" and the columns of what is expected and of the difference.</summary>
    private static readonly (string Value, string? Expected, string? Error)[] Shown =
    [
        ("temperature_split_f", "expected_split_f", "split_error_f"), ("superheat_f", "target_superheat_f", "superheat_error_f"), ("subcooling_f", null, "subcooling_error_f"),
        ("condensing_over_outdoor_f", null, null), ("evaporating_f", null, null), ("freeze_margin_f", null, null),
    ];

    public static IReadOnlyList<BriefFacts> Read(LakeSession session)
    {
        var metrics = string.Join(", ", Shown.SelectMany(s => new[] { "m." + s.Value, $"m.{s.Value}_sd", s.Expected is null ? "NULL" : "m." + s.Expected, s.Error is null ? "NULL" : "m." + s.Error, s.Error is null ? "NULL" : $"m.{s.Error}_sd" }));
        var readings = session.All(r => (Rank: r.Count(0), Row: Reading(r)),
            $"""
            SELECT w.rank, r.visit_id, r.reading_no, r.visited_on, r.visit_kind, r.crew_id, r.phase, r.minutes_running, r.outdoor_db_f, r.external_static_inwc, r.blower_tap, r.filter_state,
              f.finding, f.probability, f.reasons, f.cannot_judge_because, {metrics}
            FROM worklist w JOIN readings r USING (install_id)
            LEFT JOIN metrics m ON m.visit_id = r.visit_id AND m.reading_no = r.reading_no AND m.visited_on = r.visited_on
            LEFT JOIN findings f ON f.visit_id = r.visit_id AND f.reading_no = r.reading_no AND f.visited_on = r.visited_on
            WHERE w.rank <= $1 ORDER BY w.rank, r.visited_at, r.visit_id, r.reading_no
            """, Most).ToLookup(r => r.Rank, r => r.Row);
        var corrections = session.All(r => (Rank: r.Count(0), Row: (r.Words(1) ?? "", r.Words(2) ?? "")),
            """
            SELECT w.rank, c.visit_id, c.correction FROM worklist w JOIN corrections c USING (install_id)
            WHERE w.rank <= $1 ORDER BY w.rank, c.visited_on, c.visit_id, c.reading_no, c.correction_no
            """, Most).ToLookup(r => r.Rank, r => r.Row);
        return [.. session.All(r => r.Count(0), "SELECT rank FROM worklist WHERE rank <= $1 ORDER BY rank", Most).Select(rank => new BriefFacts(rank, [.. readings[rank]], [.. corrections[rank]]))];
    }

    private static BriefReading Reading(DbDataReader r) => new(
        r.Words(1) ?? "", r.Count(2), r.Day(3), r.Words(4), r.Words(5), r.Words(6), r.Real(7), r.Real(8), r.Real(9), r.Words(10), r.Words(11),
        r.Words(12), r.Real(13), r.Words(14), r.Words(15), [.. Shown.Select((s, i) => Against(r, s.Value, 16 + 5 * i))]);

    private static AgainstRow Against(DbDataReader r, string quantity, int from)
    {
        var (value, expected, error) = (r.Real(from), r.Real(from + 2), r.Real(from + 3));
        // A target that has no column of its own is the value less the difference.
        return new(quantity, value, r.Real(from + 1), double.IsNaN(expected) ? value - error : expected, error, r.Real(from + 4));
    }
}
