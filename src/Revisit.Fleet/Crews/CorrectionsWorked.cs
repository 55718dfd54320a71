using Revisit.Fleet.Statistics;
using Revisit.Storage;

namespace Revisit.Fleet.Crews;

/// <summary>Whether the corrections of a kind that a technician made worked, by the readings as found and as left. Raw: who gets the hard cases is not adjusted for.</summary>
/// <param name="CrewId">Crew of the visit, which need not be the one that installed.</param>
/// <param name="TechnicianId">Null where not written down.</param>
/// <param name="Correction">One of <see cref="Records.Codes.Correction"/>.</param>
/// <param name="Visits">Visits with an outcome, those that cannot be judged too.</param>
/// <param name="Judged">Those that could be judged.</param>
/// <param name="Worked">Those that ended cured or better.</param>
public sealed record CorrectionsWorked(string CrewId, string? TechnicianId, string Correction, int Visits, int Judged, int Worked)
{
    /// <summary>95 % Wilson interval of the share that worked; NaN of nothing judged.</summary>
    public Interval Limits => Interval.OfShare(Worked, Judged);

    /// <summary>Every crew, technician and kind of correction, in this order.</summary>
    /// <param name="session">A session in which <see cref="SqlLibrary.DefineViews"/> has run.</param>
    /// <param name="until">Last day of what is taken to be known; null for all.</param>
    public static IReadOnlyList<CorrectionsWorked> Read(LakeSession session, DateOnly? until = null)
    {
        ArgumentNullException.ThrowIfNull(session);
        using var reader = session.Query("""
            select crew_id, technician_id, correction, count(*)::integer, (count(*) filter (where outcome <> 'cannot_judge'))::integer, (count(*) filter (where outcome in ('cured', 'better')))::integer
            from int_outcomes_split
            where crew_id is not null and visited_on <= coalesce($1::date, visited_on)
            group by all
            order by crew_id, technician_id, correction
            """, until);
        var rows = new List<CorrectionsWorked>();
        while (reader.Read())
        {
            rows.Add(new(reader.GetString(0), reader.TextOf(1), reader.GetString(2), reader.GetInt32(3), reader.GetInt32(4), reader.GetInt32(5)));
        }

        return rows;
    }

    /// <summary>Rows of the same correction added up, those behind the most visits first.</summary>
    public static IReadOnlyList<CorrectionsWorked> ByKind(IEnumerable<CorrectionsWorked> rows) =>
    [
        .. rows.GroupBy(r => r.Correction).Select(g => new CorrectionsWorked("", null, g.Key, g.Sum(r => r.Visits), g.Sum(r => r.Judged), g.Sum(r => r.Worked)))
            .OrderByDescending(r => r.Visits).ThenBy(r => r.Correction, StringComparer.Ordinal),
    ];
}
