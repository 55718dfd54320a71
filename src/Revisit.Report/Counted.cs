namespace Revisit.Report;

/// <summary>Which columns of the lake each part of the pages is counted from. The words stand in the texts as counted.KEY.title and counted.KEY.text.</summary>
internal static class Counted
{
    private const string Label = "follow_ups.followed_up_on, follow_ups.follow_up_state, follow_ups.needed_airflow_correction, follow_ups.needed_charge_correction";

    private const string Standing = "judged, observed, expected_count, ratio, ratio_low, ratio_high, adjusted_rate, adjusted_rate_low, adjusted_rate_high, standing";

    /// <summary>Key to the columns, table.column, in the order of the method page.</summary>
    public static readonly IReadOnlyDictionary<string, string[]> Columns = new Dictionary<string, string[]>
    {
        ["counts"] = Split("installs.installed_on, visits.visited_on, " + Label),
        ["trend"] = Split(Label + ", follow_ups.follow_up_kind"),
        ["causes"] = Split("follow_ups.as_found_finding, findings.finding, findings.capacity_loss_pct, findings.extra_energy_pct"),
        ["sizes"] = Split(Label + ", installs.nominal_tons, findings_by_size_season.in_line_findings, findings_by_size_season.airflow_findings, findings_by_size_season.charge_findings, findings_by_size_season.other_findings, findings_by_size_season.judged_as_found"),
        ["outcomes"] = Split("visit_outcomes.outcome, visit_outcomes.as_found_finding, visit_outcomes.as_left_finding, corrections_worked.correction, corrections_worked.cured, corrections_worked.better, corrections_worked.no_change, corrections_worked.worse, corrections_worked.cannot_judge, corrections_worked.judged"),
        ["crews"] = Of("crew_rates", "compared, " + Standing + ", funnel_low, funnel_high"),
        ["habits"] = [.. Of("crew_mistakes", "habit, " + Standing + ", peer_rate"), .. Of("coaching_points", "sheet_part, sheet_place, sheet_point"), .. Of("coaching_examples", "habit, install_id, seen_on")],
        ["changes"] = Of("crew_changes", "compared, direction, charted_installs, charted_observed, charted_expected, false_signal_chance, signal_chance, signalled_on"),
        ["quarters"] = Of("crew_quarters", "compared, quarter, judged, observed, expected_rate, limit_low, limit_high"),
        ["worklist"] = [.. Of("worklist", "rank, finding, p_airflow_correction, p_charge_correction, benefit_usd, likely_correction, first_checks, bring, cautions, score_because, visit_on, visiting_crew, visit_order, starts_at, travel_minutes, visit_minutes"), .. Of("scores", "scored_on, abstains_because, model_version")],
        ["payoff"] = [.. Of("past_worklists", "scored_on, install_id"), "visits.visited_on", .. Split(Label)],
        ["needs"] = [.. Of("visit_needs", "visit_need"), .. Of("worklist_sensitivity", "setting_name, setting_value, setting_used, chosen_visits, visits_kept")],
        ["brief"] =
        [
            .. Of("readings", "visited_on, phase, minutes_running, outdoor_db_f, external_static_inwc, blower_tap, filter_state"), .. Of("findings", "finding, probability, reasons, cannot_judge_because"),
            .. Of("metrics", "temperature_split_f, expected_split_f, split_error_f, superheat_f, target_superheat_f, superheat_error_f, subcooling_f, subcooling_error_f, condensing_over_outdoor_f, evaporating_f, freeze_margin_f"),
            "corrections.correction",
        ],
        ["sources"] = Of("sources", "rows_read, rows_accepted, rows_duplicate, rows_superseded, rows_rejected, values_set_aside"),
        ["aside"] = Of("set_aside_values", "set_aside_reason, column_name, raw_value, detail, suggestion"),
        ["rejected"] = Of("rejected_rows", "rejected_reason, raw_text, source_line, detail"),
        ["judged"] = [.. Of("readings_judged", "readings, judged"), .. Of("doubts", "cannot_judge_reason, readings"), "findings.cannot_judge_because"],
        ["missing"] = Of("missing_values", "column_name, readings, not_written, set_aside"),
        ["crew_records"] = Of("record_quality", "readings, judged, without_wet_bulb, without_pressures, without_run_time, too_early, values_set_aside"),
        ["copies"] = [.. Of("copy_questions", "visits, repeated_visits, digits, spread_column, spread_ratio, adjusted_chance, is_asked"), .. Of("repeated_visits", "earlier_visit_id, compared_columns, repeated_columns")],
    };

    /// <summary>A line that leads to how a part is counted.</summary>
    public static Html Link(Texts texts, string key) => Columns.ContainsKey(key)
        ? Html.Of($"<p class=\"from\"><a href=\"{PageShell.Method}#counted-{key}\">{texts.Say("counted.link", texts.Say($"counted.{key}.title"))}</a></p>\n")
        : throw new ArgumentOutOfRangeException(nameof(key), key, "no such part");

    private static string[] Split(string columns) => columns.Split(", ");

    private static string[] Of(string table, string columns) => [.. Split(columns).Select(c => $"{table}.{c}")];
}
