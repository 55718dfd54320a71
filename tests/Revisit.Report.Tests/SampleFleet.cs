using System.Globalization;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Report.Tests;

/// <summary>An invented fleet of three hundred installs over fourteen months to March 2026, for looking at the pages. It claims nothing.</summary>
internal static class SampleFleet
{
    public const string Month = "2026-03";
    public const string Note = "Invented data: made by a program to show the pages. It says nothing about any real crew, customer or equipment.";

    public static void Write(string folder, int installs = 300)
    {
        var random = new Pcg(7);
        List<Dictionary<string, object?>> install = [], visit = [], follow = [], finding = [], outcome = [], score = [], work = [];
        var opening = new DateOnly(2025, 2, 1);
        var end = new DateOnly(2026, 3, 31);
        for (var i = 0; i < installs; i++)
        {
            var id = string.Create(CultureInfo.InvariantCulture, $"I-{1000 + i}");
            var crew = random.Of("North 1", "North 2", "North 3", "South 1", "South 2", "West 1", "West 2");
            var on = opening.AddDays(random.Below(end.DayNumber - opening.DayNumber + 1));
            var tons = random.Of(1.5, 2.0, 2.5, 3.0, 3.5, 4.0, 5.0);
            var refrigerant = random.Of("R-410A", "R-454B", "R-32");
            var metering = random.Of("txv", "txv", "eev", "fixed_orifice");
            install.Add(new() { ["install_id"] = id, ["crew_id"] = crew, ["installed_on"] = on, ["nominal_tons"] = tons, ["refrigerant"] = refrigerant, ["metering"] = metering });
            var visited = on.AddDays(20 + random.Below(150));
            var seen = random.Next() < 0.75 && visited <= end;
            var bad = random.Next() < (tons <= 2 ? 0.55 : 0.25);
            var found = random.Next() < 0.12 ? "cannot_judge" : bad ? random.Of("airflow_high", "airflow_high", "charge_low", "charge_high", "airflow_low", "liquid_restriction") : "in_line";
            follow.Add(new()
            {
                ["install_id"] = id,
                ["crew_id"] = crew,
                ["installed_on"] = on,
                ["follow_up_state"] = seen ? "observed" : "none_yet",
                ["follow_up_visit_id"] = seen ? "V-" + id : null,
                ["follow_up_kind"] = seen ? random.Of("quality_check", "callback", "maintenance") : null,
                ["followed_up_on"] = seen ? visited : null,
                ["days_to_follow_up"] = seen ? visited.DayNumber - on.DayNumber : null,
                ["as_found_finding"] = seen ? found : null,
                ["needed_airflow_correction"] = seen ? (bad && found.StartsWith("airflow", StringComparison.Ordinal) ? 1 : 0) : null,
                ["needed_charge_correction"] = seen ? (bad && found.StartsWith("charge", StringComparison.Ordinal) ? 1 : 0) : null,
            });
            if (seen)
            {
                visit.Add(new() { ["visit_id"] = "V-" + id, ["install_id"] = id, ["crew_id"] = crew, ["visited_on"] = visited, ["started_at"] = visited.ToDateTime(new TimeOnly(15, 0), DateTimeKind.Utc), ["readings"] = 2 });
                finding.Add(new()
                {
                    ["visit_id"] = "V-" + id,
                    ["reading_no"] = 1,
                    ["install_id"] = id,
                    ["crew_id"] = crew,
                    ["visited_on"] = visited,
                    ["finding"] = found,
                    ["cannot_judge_because"] = found == "cannot_judge" ? random.Of("return_wb_f and return_rh_pct missing: measure return wet bulb or humidity", "ran only 6 min: let it run 15 min before reading", "outdoor 48 °F is below the 55 °F a gauge test needs: read again in warmer weather") : null,
                    ["capacity_loss_pct"] = bad ? 4 + 12 * random.Next() : double.NaN,
                    ["extra_energy_pct"] = bad && found != "charge_high" ? 3 + 15 * random.Next() : double.NaN,
                });
                if (bad)
                {
                    var end2 = random.Of("cured", "cured", "cured", "better", "better", "no_change", "worse", "cannot_judge");
                    outcome.Add(new() { ["visit_id"] = "V-" + id, ["install_id"] = id, ["crew_id"] = crew, ["visited_on"] = visited, ["as_found_finding"] = found, ["as_left_finding"] = end2 == "cured" ? "in_line" : found, ["outcome"] = end2 });
                }
            }
            else if (on <= end)
            {
                var air = Math.Round(random.Next() * 0.7, 3);
                var charge = Math.Round(random.Next() * 0.5, 3);
                var abstains = random.Next() < 0.1;
                score.Add(new() { ["install_id"] = id, ["scored_on"] = end, ["p_airflow_correction"] = abstains ? double.NaN : air, ["p_charge_correction"] = abstains ? double.NaN : charge, ["abstains_because"] = abstains ? "the start-up reading cannot be judged: ran only 9 min: let it run 15 min before reading" : null, ["model_version"] = "logistic 1f2e3d seed 7" });
                if (!abstains && air + charge > 0.35)
                {
                    var airFirst = air >= charge;
                    work.Add(new()
                    {
                        ["install_id"] = id,
                        ["crew_id"] = crew,
                        ["installed_on"] = on,
                        ["nominal_tons"] = tons,
                        ["refrigerant"] = refrigerant,
                        ["metering"] = metering,
                        ["finding"] = random.Of("in_line", "airflow_high", "cannot_judge"),
                        ["p_airflow_correction"] = air,
                        ["p_charge_correction"] = charge,
                        ["benefit_usd"] = Math.Round(400 * air + 300 * charge - 90, 2),
                        ["likely_correction"] = airFirst ? "airflow: too much air, blower tap down" : "charge: likely low",
                        ["first_checks"] = airFirst ? "filter: in place and clean; blower tap: written as medium_high, compare with the airflow the size needs; static pressure across the air handler" : "blower tap: not written at start-up, note it; charge last, by subcooling against the unit's own target; charge by gauges waits for 55 °F or more outdoors",
                        ["cautions"] = airFirst ? string.Join("; ", Caution.PowerOff, Caution.Freezing) : string.Join("; ", Caution.Refrigerant, Caution.Attic),
                        ["score_because"] = airFirst ? "airflow 62 %: split 5.3 °F under expected, tap medium_high, 2 tons" : "charge 30 %: subcooling 3.2 °F under target, 45 ft line set, static 0.85 in. w.c.",
                    });
                }
            }
        }

        work = [.. work.OrderByDescending(w => (double)w["benefit_usd"]!)];
        for (var i = 0; i < work.Count; i++)
        {
            work[i]["rank"] = i + 1;
            if (i < 4)
            {
                (work[i]["visit_on"], work[i]["visiting_crew"], work[i]["visit_order"]) = (end.AddDays(2 + i / 2), 1, 1 + i % 2);
                (work[i]["region"], work[i]["starts_at"], work[i]["travel_minutes"], work[i]["visit_minutes"]) = ("north", i % 2 == 0 ? "08:20" : "10:05", 20, 90);
            }
        }

        // The start-up reading of the first install of the worklist.
        Dictionary<string, object?> start = new()
        {
            ["visit_id"] = "V-start",
            ["reading_no"] = 1,
            ["install_id"] = work[0]["install_id"],
            ["crew_id"] = work[0]["crew_id"],
            ["visited_on"] = work[0]["installed_on"],
        };
        Dictionary<string, object?> read = new(start) { ["visit_kind"] = "commissioning", ["phase"] = "as_left", ["minutes_running"] = 20.0, ["outdoor_db_f"] = 88.0, ["blower_tap"] = "high", ["filter_state"] = "clean" };
        Dictionary<string, object?> metric = new(start)
        {
            ["temperature_split_f"] = 15.1,
            ["temperature_split_f_sd"] = 0.8,
            ["expected_split_f"] = 20.4,
            ["split_error_f"] = -5.3,
            ["split_error_f_sd"] = 1.1,
            ["subcooling_f"] = 10.5,
            ["subcooling_f_sd"] = 0.7,
            ["subcooling_error_f"] = 0.5,
            ["subcooling_error_f_sd"] = 0.7,
        };
        finding.Add(new(start) { ["finding"] = "airflow_high", ["probability"] = 0.93, ["reasons"] = "For too much air over in line: split 5.3 °F under expected (±1.1), measured airflow 24 % over 400 cfm a ton (±9)." });
        string[] crews = ["North 1", "North 2", "North 3", "South 1", "South 2", "West 1", "West 2"];
        using var publication = Lake.At(folder).BeginPublication();
        publication.Put(Tables.CrewRates, Fill.Table(Tables.CrewRates, [.. crews.SelectMany((c, i) => new[] { "airflow", "charge" }.Select((k, j) =>
            CrewPagesTests.Standing("compared", c, k, 6 + i * 3 + j, 24 + 5 * i, 8 + 2 * i, i == 6 ? "more" : "as_expected")))]));
        publication.Put(Tables.CrewMistakes, Fill.Table(Tables.CrewMistakes, [.. crews.Select((c, i) => CrewPagesTests.Standing("habit", c, "tap_high_on_small", 4 + 3 * i, 30, 7, i is 0 or > 4 ? "more" : "as_expected"))]));
        publication.Put(Tables.CoachingPoints, Fill.Table(Tables.CoachingPoints, [.. crews.Where((_, i) => i is 0 or > 4).Select(c => CrewPagesTests.Point(c, "to_change", 1, "tap_high_on_small"))]));
        publication.Put(Tables.CrewQuarters, Fill.Table(Tables.CrewQuarters, [.. crews.SelectMany(c => new[] { "2025-Q3", "2025-Q4", "2026-Q1" }.Select((q, i) => new Dictionary<string, object?>
        {
            ["crew_id"] = c, ["compared"] = "airflow", ["quarter"] = q, ["judged"] = 10 + i, ["observed"] = 3 + i, ["rate"] = (3.0 + i) / (10 + i), ["expected_rate"] = 0.35, ["limit_low"] = 0.0, ["limit_high"] = 0.8,
        }))]));
        publication.Put(Tables.Installs, Fill.Table(Tables.Installs, install));
        publication.Put(Tables.FollowUps, Fill.Table(Tables.FollowUps, follow));
        // Last month's list: of what was waiting then, small systems first.
        var listedOn = new DateOnly(2026, 2, 28);
        publication.Put(Tables.PastWorklists, "2026-02", [Fill.Table(Tables.PastWorklists, [.. follow.Zip(install)
            .Where(p => (DateOnly)p.First["installed_on"]! <= listedOn && !(p.First["followed_up_on"] is DateOnly on && on <= listedOn))
            .OrderBy(p => (double)p.Second["nominal_tons"]!).Take(60)
            .Select((p, i) => new Dictionary<string, object?> { ["scored_on"] = listedOn, ["rank"] = i + 1, ["install_id"] = p.First["install_id"] })])]);
        publication.Put(Tables.Scores, Fill.Table(Tables.Scores, score));
        publication.Put(Tables.Worklist, Fill.Table(Tables.Worklist, work));
        foreach (var (table, rows) in new (TableContract, List<Dictionary<string, object?>>)[] { (Tables.Visits, visit), (Tables.Findings, finding), (Tables.VisitOutcomes, outcome), (Tables.Readings, [read]), (Tables.Metrics, [metric]) })
        {
            foreach (var month in rows.GroupBy(r => ReportMonth.Label((DateOnly)r["visited_on"]!)).OrderBy(g => g.Key, StringComparer.Ordinal))
            {
                publication.Put(table, month.Key, [Fill.Table(table, [.. month])]);
            }
        }

        publication.Put(Tables.Sources, Fill.Table(Tables.Sources,
        [
            new() { ["source_id"] = "aaaa", ["source_name"] = "north_2026.csv", ["profile"] = "plain", ["rows_read"] = 1200, ["rows_accepted"] = 1170, ["rows_duplicate"] = 12, ["rows_superseded"] = 8, ["rows_rejected"] = 10, ["values_set_aside"] = 3 },
            new() { ["source_id"] = "bbbb", ["source_name"] = "south_2026.ndjson", ["profile"] = "south_branch", ["rows_read"] = 640, ["rows_accepted"] = 640, ["rows_duplicate"] = 0, ["rows_superseded"] = 0, ["rows_rejected"] = 0, ["values_set_aside"] = 0 },
        ]));
        var first = (string)visit.First(v => (DateOnly)v["visited_on"]! >= new DateOnly(2026, 3, 1))["visit_id"]!;
        publication.Put(Tables.SetAsideValues, "2026-03",
        [
            Fill.Table(Tables.SetAsideValues,
            [
                new() { ["source_id"] = "aaaa", ["source_line"] = 17, ["visit_id"] = first, ["reading_no"] = 1, ["column_name"] = "suction_pressure_psig", ["raw_value"] = "814", ["set_aside_reason"] = "unit_slip", ["detail"] = "814 [psi] is outside -15 to 300", ["suggestion"] = "reads like kPa (118 [psi])" },
                new() { ["source_id"] = "aaaa", ["source_line"] = 44, ["visit_id"] = "V-none", ["reading_no"] = 1, ["column_name"] = "return_wb_f", ["raw_value"] = "78.1", ["set_aside_reason"] = "wet_bulb_over_dry_bulb", ["detail"] = "wet bulb 78.1 °F is over dry bulb 74 °F" },
                new() { ["source_id"] = "aaaa", ["source_line"] = 45, ["visit_id"] = "V-none", ["reading_no"] = 2, ["column_name"] = "supply_db_f", ["raw_value"] = "fifty", ["set_aside_reason"] = "not_a_number", ["detail"] = "not a number" },
            ]),
        ]);
        publication.Put(Tables.RejectedRows, "aaaa",
        [
            Fill.Table(Tables.RejectedRows, [.. Enumerable.Range(0, 10).Select(n => new Dictionary<string, object?>
            {
                ["source_id"] = "aaaa", ["source_name"] = "north_2026.csv", ["source_line"] = 100 + n, ["raw_text"] = "V9,,77.0,61", ["rejected_reason"] = "wrong_number_of_fields", ["detail"] = "Expected 42 fields, found 4.",
            })]),
        ]);
        publication.Commit();
    }
}
