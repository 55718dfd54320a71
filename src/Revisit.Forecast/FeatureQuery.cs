using System.Globalization;
using Revisit.Records;

namespace Revisit.Forecast;

/// <summary>
/// What is known of an install on its install day, one row an install: its description, the last reading of its commissioning visit
/// (as left where one is marked so), that reading's metrics and finding, and its crew's record from follow-ups seen before that day.
/// No label is read here; <see cref="LeakGuard"/> holds the query to it.
/// </summary>
public static class FeatureQuery
{
    /// <summary>Numbers, in the order of <see cref="InstallFeatures.Numbers"/>.</summary>
    public static readonly IReadOnlyList<string> Numbers =
    [
        "split_error_f", "superheat_error_f", "subcooling_error_f", "condensing_over_outdoor_f", "external_static_inwc", "nominal_tons", "line_set_ft",
        "minutes_running", "outdoor_db_f", "tap_level", "crew_airflow_rate", "crew_charge_rate", "cannot_judge",
        .. Codes.Finding.Where(f => f != "cannot_judge").Select(f => "p_" + f),
    ];

    /// <summary>Categories, in the order of <see cref="InstallFeatures.Categories"/>.</summary>
    public static readonly IReadOnlyList<string> Categories = ["metering", "refrigerant", "duct_location", "blower_motor", "season"];

    /// <summary>The query; its columns are the install, its <see cref="Numbers"/> and <see cref="Categories"/>, and the words of the reading.</summary>
    /// <param name="crewPrior">Weight of the fleet's rate in a crew's rate [follow-ups].</param>
    public static string Sql(int crewPrior)
    {
        var prior = crewPrior.ToString(CultureInfo.InvariantCulture);
        var causes = string.Join(", ", Codes.Finding.Where(f => f != "cannot_judge").Select(f => "d.p_" + f));
        return $"""
            WITH started AS (
                SELECT install_id, crew_id, installed_on, commissioning_visit_id FROM follow_ups
            ),
            answered AS (
                SELECT crew_id, followed_up_on, needed_airflow_correction AS airflow, needed_charge_correction AS charge
                FROM follow_ups
                WHERE follow_up_state = 'observed' AND needed_airflow_correction IS NOT NULL AND needed_charge_correction IS NOT NULL
            ),
            crew_days AS (
                SELECT crew_id, followed_up_on, count(*) AS n, sum(airflow) AS airflow, sum(charge) AS charge FROM answered GROUP BY ALL
            ),
            crew_so_far AS (
                SELECT crew_id, followed_up_on, sum(n) OVER so_far AS n, sum(airflow) OVER so_far AS airflow, sum(charge) OVER so_far AS charge
                FROM crew_days WINDOW so_far AS (PARTITION BY crew_id ORDER BY followed_up_on)
            ),
            fleet_days AS (
                SELECT followed_up_on, sum(n) AS n, sum(airflow) AS airflow, sum(charge) AS charge FROM crew_days GROUP BY ALL
            ),
            fleet_so_far AS (
                SELECT followed_up_on, sum(n) OVER so_far AS n, sum(airflow) OVER so_far AS airflow, sum(charge) OVER so_far AS charge
                FROM fleet_days WINDOW so_far AS (ORDER BY followed_up_on)
            ),
            with_fleet AS (
                SELECT s.*, CAST(f.airflow AS DOUBLE) / f.n AS fleet_airflow, CAST(f.charge AS DOUBLE) / f.n AS fleet_charge
                FROM started s ASOF LEFT JOIN fleet_so_far f ON s.installed_on > f.followed_up_on
            ),
            with_crew AS (
                SELECT s.*,
                    (coalesce(CAST(c.airflow AS DOUBLE), 0) + {prior} * fleet_airflow) / (coalesce(CAST(c.n AS DOUBLE), 0) + {prior}) AS crew_airflow_rate,
                    (coalesce(CAST(c.charge AS DOUBLE), 0) + {prior} * fleet_charge) / (coalesce(CAST(c.n AS DOUBLE), 0) + {prior}) AS crew_charge_rate
                FROM with_fleet s ASOF LEFT JOIN crew_so_far c ON s.crew_id = c.crew_id AND s.installed_on > c.followed_up_on
            ),
            last_reading AS (
                SELECT r.visit_id, r.external_static_inwc, r.minutes_running, r.outdoor_db_f, r.blower_tap, r.reading_no
                FROM readings r JOIN started s ON r.visit_id = s.commissioning_visit_id AND r.visited_on <= s.installed_on
                QUALIFY row_number() OVER (PARTITION BY r.visit_id ORDER BY coalesce(r.phase = 'as_left', false) DESC, r.reading_no DESC) = 1
            )
            SELECT s.install_id, s.crew_id, i.region, s.installed_on,
                m.split_error_f, m.superheat_error_f, m.subcooling_error_f, m.condensing_over_outdoor_f, r.external_static_inwc, i.nominal_tons, i.line_set_ft,
                r.minutes_running, r.outdoor_db_f, s.crew_airflow_rate, s.crew_charge_rate,
                CASE WHEN d.finding IS NOT NULL THEN CAST(d.finding = 'cannot_judge' AS INTEGER) END AS cannot_judge, {causes},
                i.metering, i.refrigerant, i.duct_location, i.blower_motor,
                CASE WHEN month(s.installed_on) IN (12, 1, 2) THEN 'winter' WHEN month(s.installed_on) <= 5 THEN 'spring'
                    WHEN month(s.installed_on) <= 8 THEN 'summer' ELSE 'autumn' END AS season,
                r.blower_tap, d.finding, d.cannot_judge_because
            FROM with_crew s
            LEFT JOIN installs i ON i.install_id = s.install_id
            LEFT JOIN last_reading r ON r.visit_id = s.commissioning_visit_id
            LEFT JOIN metrics m ON m.visit_id = r.visit_id AND m.reading_no = r.reading_no
            LEFT JOIN findings d ON d.visit_id = r.visit_id AND d.reading_no = r.reading_no
            """;
    }
}
