using Revisit.Storage;

namespace Revisit.Report.Facts;

/// <summary>What one crew's readings of the month lack.</summary>
internal sealed record CrewGapsRow(string Crew, Share Judged, int SetAside, int NoWetBulb, int NoPressures, int NoRunTime, int TooEarly);

/// <summary>How often one measured value is missing in the month's readings: left out, or set aside.</summary>
internal sealed record MissingRow(string Column, int NotWritten, int SetAside, Share Missing);

/// <summary>Tables counted by SQL beforehand, where the lake has them; they speak of all months on record unless a month is a column.</summary>
internal static class MartFacts
{
    public static IReadOnlyList<KindOutcomeRow> CorrectionsWorked(LakeSession session) => !Has(session, "corrections_worked") ? [] : session.All(
        r => new KindOutcomeRow(r.GetString(0), r.Count(1), r.Count(2), r.Count(3), r.Count(4), r.Count(5), new(r.Count(1) + r.Count(2), r.Count(6))),
        "SELECT correction, cured, better, no_change, worse, cannot_judge, judged FROM corrections_worked ORDER BY judged DESC, correction");

    public static IReadOnlyList<SizeSeasonFindingRow> FindingsBySizeSeason(LakeSession session) => !Has(session, "findings_by_size_season") ? [] : session.All(
        r =>
        {
            var of = r.Count(6);
            return new SizeSeasonFindingRow(r.Words(0) ?? "", r.Words(1) ?? "", new(r.Count(2), of), new(r.Count(3), of), new(r.Count(4), of), new(r.Count(5), of));
        },
        """
        SELECT size_band, season, in_line_findings, airflow_findings, charge_findings, other_findings, judged_as_found FROM findings_by_size_season
        ORDER BY size_band, CASE season WHEN 'winter' THEN 1 WHEN 'spring' THEN 2 WHEN 'summer' THEN 3 ELSE 4 END, season
        """);

    public static IReadOnlyList<CrewGapsRow> RecordQuality(LakeSession session, ReportMonth month) => !Has(session, "record_quality") ? [] : session.All(
        r => new CrewGapsRow(r.Words(0) ?? "", new(r.Count(1), r.Count(2)), r.Count(3), r.Count(4), r.Count(5), r.Count(6), r.Count(7)),
        """
        SELECT crew_id, judged, readings, values_set_aside, without_wet_bulb, without_pressures, without_run_time, too_early
        FROM record_quality WHERE month = $1 ORDER BY crew_id
        """, month.Name);

    /// <summary>Readings judged in each of the twelve months, newest first.</summary>
    public static IReadOnlyList<(DateOnly Month, Share Judged)> JudgedByMonth(LakeSession session, ReportMonth month) => !Has(session, "readings_judged") ? [] : session.All(
        r => (ReportMonth.Parse(r.GetString(0)).First, new Share(r.Count(1), r.Count(2))),
        "SELECT month, sum(judged), sum(readings) FROM readings_judged WHERE month BETWEEN $1 AND $2 GROUP BY 1 ORDER BY 1 DESC", ReportMonth.Label(month.YearStart), month.Name);

    /// <summary>Readings of the month judged, by source file, in order of name.</summary>
    public static IReadOnlyList<(string Source, string Profile, Share Judged)> JudgedBySource(LakeSession session, ReportMonth month) => !Has(session, "readings_judged") ? [] : session.All(
        r => (r.Words(0) ?? "", r.Words(1) ?? "", new Share(r.Count(2), r.Count(3))),
        """
        SELECT coalesce(source_name, source_id), profile, sum(judged), sum(readings) FROM readings_judged
        WHERE month = $1 GROUP BY source_id, source_name, profile ORDER BY 1, source_id
        """, month.Name);

    /// <summary>What the readings of the month lack, by measured column.</summary>
    public static IReadOnlyList<MissingRow> Missing(LakeSession session, ReportMonth month) => !Has(session, "missing_values") ? [] : session.All(
        r => new MissingRow(r.Words(0) ?? "", r.Count(1), r.Count(2), new(r.Count(1) + r.Count(2), r.Count(3))),
        "SELECT column_name, sum(not_written), sum(set_aside), sum(readings) FROM missing_values WHERE month = $1 GROUP BY 1 ORDER BY sum(missing) DESC, 1", month.Name);

    /// <summary>Why readings of the month cannot be judged; a reading may have several reasons.</summary>
    public static IReadOnlyList<(string Reason, int Count)> Doubts(LakeSession session, ReportMonth month) => !Has(session, "doubts") ? [] : session.All(
        r => (r.Words(0) ?? "", r.Count(1)),
        "SELECT cannot_judge_reason, sum(readings) FROM doubts WHERE month = $1 GROUP BY 1 ORDER BY 2 DESC, 1", month.Name);

    private static bool Has(LakeSession session, string table) => session.Catalog.Of(table).Any();
}
