using Revisit.Storage;

namespace Revisit.Report.Facts;

/// <summary>What became of the rows of one source file.</summary>
internal sealed record SourceRow(string Id, string Name, string Profile, int Read, int Accepted, int Duplicate, int Superseded, int Rejected, int SetAside)
{
    /// <summary>Whether every row read is accounted for.</summary>
    public bool AddsUp => Read == Accepted + Duplicate + Superseded + Rejected;
}

/// <summary>One value set aside or one row rejected, to look at.</summary>
internal sealed record ExampleRow(string Reason, string Source, int Line, string Column, string Raw, string Detail, string Suggestion);

/// <summary>Readings of one crew and how many could be judged.</summary>
internal sealed record CrewReadingsRow(string Crew, Share Judged);

/// <summary>What the records page says: the whole lake's sources, and the month's set-aside values and unjudged readings.</summary>
internal sealed class RecordFacts
{
    /// <summary>Most sources shown on the page.</summary>
    public const int SourceLimit = 100;

    private const int ExamplesEach = 3;

    public required SourceRow Total { get; init; }

    public required int SourceCount { get; init; }

    /// <summary>At most <see cref="SourceLimit"/> sources, those with most trouble first.</summary>
    public required IReadOnlyList<SourceRow> Sources { get; init; }

    public required int NotAddingUp { get; init; }

    /// <summary>Values set aside by reason: in the whole lake and in visits of the month.</summary>
    public required IReadOnlyList<(string Reason, int All, int Month)> SetAside { get; init; }

    public required IReadOnlyList<(string Column, int Count)> SetAsideColumns { get; init; }

    public required IReadOnlyList<ExampleRow> SetAsideExamples { get; init; }

    public required IReadOnlyList<(string Reason, int Count)> Rejected { get; init; }

    public required IReadOnlyList<ExampleRow> RejectedExamples { get; init; }

    /// <summary>Readings of the month that could be judged.</summary>
    public required Share MonthJudged { get; init; }

    public required IReadOnlyList<(string Reason, int Count)> Unjudged { get; init; }

    public required IReadOnlyList<CrewReadingsRow> Crews { get; init; }

    /// <summary>What each crew's readings of the month lack; empty where the lake does not count it.</summary>
    public required IReadOnlyList<CrewGapsRow> Gaps { get; init; }

    /// <summary>Readings judged in each of the twelve months, newest first; empty where the lake does not count it, like the three after it.</summary>
    public required IReadOnlyList<(DateOnly Month, Share Judged)> JudgedByMonth { get; init; }

    public required IReadOnlyList<(string Source, string Profile, Share Judged)> JudgedBySource { get; init; }

    /// <summary>Reasons as codes, for readings of the month that cannot be judged.</summary>
    public required IReadOnlyList<(string Reason, int Count)> Doubts { get; init; }

    public required IReadOnlyList<MissingRow> Missing { get; init; }

    public required CopyFacts Copies { get; init; }

    public static RecordFacts Read(LakeSession session, ReportMonth month)
    {
        var first = ReportMonth.Iso(month.First);
        var next = ReportMonth.Iso(month.Next);
        const string InMonth = "visited_on >= CAST($1 AS DATE) AND visited_on < CAST($2 AS DATE)";
        var sources = session.All(
            r => new SourceRow(r.GetString(0), r.Words(1) ?? "", r.Words(2) ?? "", r.Count(3), r.Count(4), r.Count(5), r.Count(6), r.Count(7), r.Count(8)),
            """
            SELECT source_id, source_name, profile, rows_read, rows_accepted, rows_duplicate, rows_superseded, rows_rejected, values_set_aside
            FROM sources ORDER BY coalesce(rows_rejected, 0) + coalesce(values_set_aside, 0) DESC, source_name, source_id
            """);
        return new RecordFacts
        {
            Sources = [.. sources.Take(SourceLimit)],
            SourceCount = sources.Count,
            NotAddingUp = sources.Count(s => !s.AddsUp),
            Total = new("", "", "", sources.Sum(s => s.Read), sources.Sum(s => s.Accepted), sources.Sum(s => s.Duplicate), sources.Sum(s => s.Superseded), sources.Sum(s => s.Rejected), sources.Sum(s => s.SetAside)),
            SetAside = session.All(r => (r.Words(0) ?? "", r.Count(1), r.Count(2)),
                $"""
                WITH seen AS (SELECT DISTINCT visit_id FROM visits WHERE {InMonth})
                SELECT set_aside_reason, count(*), count(seen.visit_id) FROM set_aside_values LEFT JOIN seen USING (visit_id) GROUP BY 1 ORDER BY 2 DESC, 1
                """, first, next),
            SetAsideColumns = session.All(r => (r.Words(0) ?? "", r.Count(1)),
                "SELECT column_name, count(*) FROM set_aside_values GROUP BY 1 ORDER BY 2 DESC, 1 LIMIT 10"),
            SetAsideExamples = session.All(ReadExample,
                $"""
                WITH numbered AS (
                  SELECT *, row_number() OVER (PARTITION BY set_aside_reason ORDER BY source_id, source_line, column_name, raw_value) AS n FROM set_aside_values
                )
                SELECT set_aside_reason, coalesce(s.source_name, source_id), source_line, column_name, raw_value, detail, suggestion
                FROM numbered LEFT JOIN sources s USING (source_id) WHERE n <= {ExamplesEach} ORDER BY 1, n
                """),
            Rejected = session.All(r => (r.Words(0) ?? "", r.Count(1)), "SELECT rejected_reason, count(*) FROM rejected_rows GROUP BY 1 ORDER BY 2 DESC, 1"),
            RejectedExamples = session.All(ReadExample,
                $"""
                WITH numbered AS (
                  SELECT *, row_number() OVER (PARTITION BY rejected_reason ORDER BY source_id, source_line, raw_text) AS n FROM rejected_rows
                )
                SELECT rejected_reason, coalesce(source_name, source_id), source_line, NULL, raw_text, detail, NULL FROM numbered WHERE n <= {ExamplesEach} ORDER BY 1, n
                """),
            MonthJudged = session.One(r => new Share(r.Count(0), r.Count(1)),
                $"SELECT count(*) FILTER (WHERE finding <> 'cannot_judge'), count(*) FROM findings WHERE {InMonth}", first, next),
            Unjudged = session.All(r => (r.Words(0) ?? "", r.Count(1)),
                $"""
                WITH reasons AS (
                    SELECT unnest(string_split(coalesce(cannot_judge_because, ''), '; ')) AS reason FROM findings WHERE finding = 'cannot_judge' AND {InMonth}
                )
                -- The measured figure is left out, so that readings that fail in the same way are counted together.
                SELECT regexp_replace(reason, '-?[0-9]+(\.[0-9]+)?', '…') AS alike, count(*) FROM reasons GROUP BY 1 ORDER BY 2 DESC, 1 LIMIT 15
                """, first, next),
            JudgedByMonth = MartFacts.JudgedByMonth(session, month),
            JudgedBySource = MartFacts.JudgedBySource(session, month),
            Doubts = MartFacts.Doubts(session, month),
            Missing = MartFacts.Missing(session, month),
            Copies = CopyFacts.Read(session, month),
            Gaps = MartFacts.RecordQuality(session, month),
            Crews = session.All(r => new CrewReadingsRow(r.GetString(0), new(r.Count(1), r.Count(2))),
                $"SELECT crew_id, count(*) FILTER (WHERE finding <> 'cannot_judge'), count(*) FROM findings WHERE crew_id IS NOT NULL AND {InMonth} GROUP BY 1 ORDER BY 1", first, next),
        };
    }

    private static ExampleRow ReadExample(System.Data.Common.DbDataReader r) =>
        new(r.Words(0) ?? "", r.Words(1) ?? "", r.Count(2), r.Words(3) ?? "", Shorten(r.Words(4)), r.Words(5) ?? "", r.Words(6) ?? "");

    private static string Shorten(string? text) => text is null ? "" : text.Length <= 160 ? text : text[..160] + "…";
}
