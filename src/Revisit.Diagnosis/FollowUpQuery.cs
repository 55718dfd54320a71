namespace Revisit.Diagnosis;

/// <summary>
/// One row an install: its first follow-up, or none yet. The start is the earliest commissioning visit, else installed_on; the first
/// follow-up is the first visit of any other kind on a later day (any such visit where there is no start at all).
/// An airflow correction is blower_tap, duct or coil_clean at any reading of that visit. A filter alone is not one: it wears out in the
/// house and says nothing of the crew's work. A charge correction is charge_added or charge_removed. With none yet both stay NULL:
/// censored, not healthy.
/// </summary>
internal static class FollowUpQuery
{
    public const string Sql = """
        WITH visit AS (
            SELECT
                r.visit_id,
                min(r.install_id) AS install_id,
                arg_min(r.visit_kind, r.reading_no) AS visit_kind,
                min(r.visited_at) AS started_at,
                min(r.visited_on) AS visited_on,
                coalesce(bool_or(list_has_any(string_split(r.correction, '+'), ['blower_tap', 'duct', 'coil_clean'])), false) AS airflow,
                coalesce(bool_or(list_has_any(string_split(r.correction, '+'), ['charge_added', 'charge_removed'])), false) AS charge,
                arg_min(f.finding, r.reading_no) FILTER (WHERE r.phase = 'as_found') AS as_found_finding
            FROM readings AS r
            LEFT JOIN findings AS f ON f.visit_id = r.visit_id AND f.reading_no = r.reading_no
            GROUP BY r.visit_id
        ),
        start AS (
            SELECT install_id, visit_id, visited_on
            FROM visit
            WHERE visit_kind = 'commissioning'
            QUALIFY row_number() OVER (PARTITION BY install_id ORDER BY started_at, visit_id) = 1
        ),
        follow_up AS (
            SELECT v.*
            FROM visit AS v
            JOIN installs AS i ON i.install_id = v.install_id
            LEFT JOIN start AS s ON s.install_id = v.install_id
            WHERE v.visit_kind IS DISTINCT FROM 'commissioning'
              AND (coalesce(s.visited_on, i.installed_on) IS NULL OR v.visited_on > coalesce(s.visited_on, i.installed_on))
            QUALIFY row_number() OVER (PARTITION BY v.install_id ORDER BY v.started_at, v.visit_id) = 1
        )
        SELECT
            i.install_id,
            i.crew_id,
            i.installed_on,
            s.visit_id AS commissioning_visit_id,
            CASE WHEN f.visit_id IS NULL THEN 'none_yet' ELSE 'observed' END AS follow_up_state,
            f.visit_id AS follow_up_visit_id,
            f.visit_kind AS follow_up_kind,
            f.visited_on AS followed_up_on,
            date_diff('day', coalesce(s.visited_on, i.installed_on), f.visited_on) AS days_to_follow_up,
            f.as_found_finding,
            CAST(f.airflow AS INTEGER) AS needed_airflow_correction,
            CAST(f.charge AS INTEGER) AS needed_charge_correction
        FROM installs AS i
        LEFT JOIN start AS s ON s.install_id = i.install_id
        LEFT JOIN follow_up AS f ON f.install_id = i.install_id
        ORDER BY i.install_id
        """;
}
