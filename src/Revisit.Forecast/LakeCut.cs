using System.Globalization;

namespace Revisit.Forecast;

/// <summary>
/// The lake as it stood at the end of a day: named subqueries that hide what was not known then. A query wrapped in a cut sees,
/// under the plain table names, only visits up to the day, and a follow-up that came later as "none yet".
/// </summary>
public static class LakeCut
{
    private static readonly string[] ByVisit = ["readings", "visits", "corrections", "metrics", "findings", "visit_outcomes"];
    private static readonly string[] Hidden = ["scores", "past_scores", "look_back", "worklist", "past_worklists", "visit_needs", "worklist_sensitivity"];

    /// <summary>A day as SQL.</summary>
    internal static string Date(DateOnly day) => "DATE '" + day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) + "'";

    /// <summary>Wraps a query so that it reads the lake cut at a day.</summary>
    /// <exception cref="ArgumentException">The query names a schema, and so could read round the cut.</exception>
    public static string At(DateOnly day, string query)
    {
        if (query.Contains("main.", StringComparison.OrdinalIgnoreCase) || query.Contains("read_parquet", StringComparison.OrdinalIgnoreCase))
        {
            throw new ArgumentException("a query over a cut lake must use plain table names", nameof(query));
        }

        var date = Date(day);
        var views = ByVisit.Select(t => $"{t} AS (SELECT * FROM main.{t} WHERE visited_on <= {date})").ToList();
        views.AddRange(Hidden.Select(t => $"{t} AS (SELECT * FROM main.{t} WHERE false)"));
        views.Add($"""
            installs AS (
                SELECT * REPLACE (CASE WHEN last_visited_on <= {date} THEN last_visited_on END AS last_visited_on)
                FROM main.installs WHERE installed_on <= {date})
            """);
        var later = $"(followed_up_on IS NULL OR followed_up_on > {date})";
        var blanked = new[] { "follow_up_visit_id", "follow_up_kind", "days_to_follow_up", "as_found_finding", "needed_airflow_correction", "needed_charge_correction", "followed_up_on" }
            .Select(c => $"CASE WHEN {later} THEN NULL ELSE {c} END AS {c}");
        views.Add($"""
            follow_ups AS (
                SELECT * REPLACE (CASE WHEN {later} THEN 'none_yet' ELSE follow_up_state END AS follow_up_state, {string.Join(", ", blanked)})
                FROM main.follow_ups WHERE installed_on <= {date})
            """);
        return $"WITH {string.Join(",\n", views)}\nSELECT * FROM (\n{query}\n)";
    }
}
