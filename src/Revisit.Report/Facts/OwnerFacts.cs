using Revisit.Storage;

namespace Revisit.Report.Facts;

/// <summary>What the owner's page says, counted from the tables of the lake for one month and the twelve months that end with it.</summary>
internal sealed class OwnerFacts
{
    /// <summary>A crew is shown from this many judged installs on.</summary>
    public const int CrewMinimum = 20;

    private const string Observed = "follow_up_state = 'observed' AND followed_up_on >= CAST($1 AS DATE) AND followed_up_on < CAST($2 AS DATE)";
    /// <summary>SQL: a first follow-up that corrected airflow or charge.</summary>
    public const string Corrected = "(coalesce(needed_airflow_correction, 0) = 1 OR coalesce(needed_charge_correction, 0) = 1)";

    public required ReportMonth Month { get; init; }

    public required int Started { get; init; }

    public required int Installs { get; init; }

    public required int NoFollowUpYet { get; init; }

    public required int Visits { get; init; }

    public required IReadOnlyList<MonthRow> Months { get; init; }

    public required IReadOnlyList<(string Kind, Share Corrected)> Kinds { get; init; }

    public required IReadOnlyList<CauseRow> Findings { get; init; }

    /// <summary>Cost of all faults together.</summary>
    public required CostRow Cost { get; init; }

    public required IReadOnlyList<SizeSeasonRow> SizeSeasons { get; init; }

    public required IReadOnlyList<OutcomeRow> Outcomes { get; init; }

    public required IReadOnlyList<ChangeRow> Changes { get; init; }

    public required IReadOnlyList<KindOutcomeRow> KindOutcomes { get; init; }

    public required IReadOnlyList<SizeSeasonFindingRow> SizeSeasonFindings { get; init; }

    public required PastListFacts PastList { get; init; }

    /// <summary>The month's first follow-ups.</summary>
    public MonthRow Current => Months[^1];

    public Share MonthCorrected => new(Current.Corrections, Current.FollowUps);

    public Share YearCorrected => new(Months.Sum(m => m.Corrections), Months.Sum(m => m.FollowUps));

    /// <summary>The eleven months before.</summary>
    public Share Before => new(YearCorrected.Count - MonthCorrected.Count, YearCorrected.Of - MonthCorrected.Of);

    /// <summary>Faults only, most frequent first.</summary>
    public IEnumerable<CauseRow> Causes => Findings.Where(f => f.Finding is not ("in_line" or "cannot_judge") && f.Year > 0);

    public int YearJudged => Findings.Where(f => f.Finding != "cannot_judge").Sum(f => f.Year);

    public int YearUnjudged => Findings.Where(f => f.Finding == "cannot_judge").Sum(f => f.Year);

    public int OutcomeYear(string outcome) => Outcomes.Where(o => o.Outcome == outcome).Sum(o => o.Year);

    public int OutcomeMonth(string outcome) => Outcomes.Where(o => o.Outcome == outcome).Sum(o => o.Month);

    /// <summary>Counts everything for a month.</summary>
    public static OwnerFacts Read(LakeSession session, ReportMonth month)
    {
        var first = ReportMonth.Iso(month.First);
        var next = ReportMonth.Iso(month.Next);
        var year = ReportMonth.Iso(month.YearStart);
        var counts = session.One(r => (Started: r.Count(0), Installs: r.Count(1)),
            "SELECT count(*) FILTER (WHERE installed_on >= CAST($1 AS DATE)), count(*) FROM installs WHERE installed_on < CAST($2 AS DATE)", first, next);
        var waiting = session.One(r => r.Count(0),
            "SELECT count(*) FROM follow_ups WHERE installed_on < CAST($1 AS DATE) AND (followed_up_on IS NULL OR followed_up_on >= CAST($1 AS DATE))", next);
        var visits = session.One(r => r.Count(0),
            "SELECT count(*) FROM visits WHERE visited_on >= CAST($1 AS DATE) AND visited_on < CAST($2 AS DATE)", first, next);
        var seen = session.All(r => new MonthRow(r.Day(0)!.Value, r.Count(1), r.Count(2), r.Count(3), r.Count(4)),
            $"""
            SELECT CAST(date_trunc('month', followed_up_on) AS DATE), count(*), count(*) FILTER (WHERE {Corrected}),
              count(*) FILTER (WHERE needed_airflow_correction = 1), count(*) FILTER (WHERE needed_charge_correction = 1)
            FROM follow_ups WHERE {Observed} GROUP BY 1 ORDER BY 1
            """, year, next).ToDictionary(m => m.Month);
        return new OwnerFacts
        {
            Month = month,
            Started = counts.Started,
            Installs = counts.Installs,
            NoFollowUpYet = waiting,
            Visits = visits,
            Months = [.. month.Year.Select(m => seen.GetValueOrDefault(m) ?? new MonthRow(m, 0, 0, 0, 0))],
            Kinds = session.All(r => (r.Words(0) ?? "other", new Share(r.Count(1), r.Count(2))),
                $"SELECT follow_up_kind, count(*) FILTER (WHERE {Corrected}), count(*) FROM follow_ups WHERE {Observed} GROUP BY 1 ORDER BY 3 DESC, 1", year, next),
            Findings = ReadFindings(session, year, next, first),
            Cost = ReadCost(session, year, next),
            SizeSeasons = session.All(r => new SizeSeasonRow(r.Real(0), r.GetString(1), new(r.Count(2), r.Count(3))),
                $"""
                SELECT i.nominal_tons, CASE WHEN month(followed_up_on) IN (12, 1, 2) THEN 'winter' WHEN month(followed_up_on) <= 5 THEN 'spring'
                  WHEN month(followed_up_on) <= 8 THEN 'summer' ELSE 'autumn' END, count(*) FILTER (WHERE {Corrected}), count(*)
                FROM follow_ups JOIN installs i USING (install_id) WHERE {Observed} AND i.nominal_tons IS NOT NULL GROUP BY 1, 2 ORDER BY 1, 2
                """, year, next),
            Outcomes = session.All(r => new OutcomeRow(r.GetString(0), r.Count(1), r.Count(2)),
                """
                SELECT outcome, count(*), count(*) FILTER (WHERE visited_on >= CAST($3 AS DATE)) FROM visit_outcomes
                WHERE outcome IS NOT NULL AND visited_on >= CAST($1 AS DATE) AND visited_on < CAST($2 AS DATE) GROUP BY 1 ORDER BY 1
                """, year, next, first),
            Changes = session.All(r => new ChangeRow(r.GetString(0), r.GetString(1), r.Count(2)),
                """
                SELECT as_found_finding, as_left_finding, count(*) FROM visit_outcomes
                WHERE as_found_finding IS NOT NULL AND as_left_finding IS NOT NULL AND visited_on >= CAST($1 AS DATE) AND visited_on < CAST($2 AS DATE)
                GROUP BY 1, 2 ORDER BY 3 DESC, 1, 2 LIMIT 10
                """, year, next),
            PastList = PastListFacts.Read(session, month),
            KindOutcomes = MartFacts.CorrectionsWorked(session),
            SizeSeasonFindings = MartFacts.FindingsBySizeSeason(session),
        };
    }

    /// <summary>First follow-ups with the loss computed from the first reading that shows their finding.</summary>
    private const string WithCost =
        $"""
        WITH seen AS (
          SELECT install_id, follow_up_visit_id, followed_up_on, as_found_finding FROM follow_ups WHERE {Observed} AND as_found_finding IS NOT NULL
        ),
        cost AS (
          SELECT seen.install_id, arg_min(f.capacity_loss_pct, f.reading_no) AS loss, arg_min(f.extra_energy_pct, f.reading_no) AS extra
          FROM seen JOIN findings f ON f.visit_id = seen.follow_up_visit_id AND f.install_id = seen.install_id AND f.finding = seen.as_found_finding
          GROUP BY 1
        )
        """;

    private static List<CauseRow> ReadFindings(LakeSession session, string year, string next, string first) => session.All(
        r => new CauseRow(r.GetString(0), r.Count(1), r.Count(2), r.Real(3), r.Real(4), r.Count(5)),
        $"""
        {WithCost}
        SELECT as_found_finding, count(*), count(*) FILTER (WHERE followed_up_on >= CAST($3 AS DATE)), median(loss), median(extra), count(extra)
        FROM seen LEFT JOIN cost USING (install_id) GROUP BY 1 ORDER BY 2 DESC, 1
        """, year, next, first);

    private static CostRow ReadCost(LakeSession session, string year, string next) => session.One(
        r => new CostRow(r.Count(0), r.Real(1), r.Real(2), r.Real(3), r.Count(4), r.Real(5), r.Real(6), r.Real(7)),
        $"""
        {WithCost}
        SELECT count(loss), quantile_cont(loss, 0.25), median(loss), quantile_cont(loss, 0.75),
          count(extra), quantile_cont(extra, 0.25), median(extra), quantile_cont(extra, 0.75)
        FROM seen JOIN cost USING (install_id) WHERE as_found_finding NOT IN ('in_line', 'cannot_judge')
        """, year, next);
}
