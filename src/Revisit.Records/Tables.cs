namespace Revisit.Records;

/// <summary>The tables of the contract, in the order the stages make them.</summary>
public static class Tables
{
    /// <summary>Columns that describe an install; a plain row carries them, <see cref="Installs"/> keeps them.</summary>
    public static readonly IReadOnlyList<string> InstallColumns =
    [
        "installed_on", "nominal_tons", "rated_cooling_btuh", "rated_eer", "refrigerant", "metering", "target_subcooling_f",
        "target_superheat_f", "line_set_ft", "blower_motor", "duct_location", "indoor_unit", "outdoor_unit", "design_airflow_cfm",
        "supply_runs", "region", "elevation_ft", "latitude", "longitude",
    ];

    /// <summary>Columns measured or seen at one moment.</summary>
    public static readonly IReadOnlyList<string> MeasuredColumns =
    [
        "phase", "minutes_running", "blower_tap", "filter_state",
        "outdoor_db_f", "return_db_f", "return_wb_f", "return_rh_pct", "supply_db_f", "supply_wb_f", "supply_rh_pct",
        "suction_pressure_psig", "liquid_pressure_psig", "suction_line_f", "liquid_line_f", "discharge_line_f",
        "external_static_inwc", "return_static_inwc", "supply_static_inwc", "airflow_cfm", "airflow_method", "system_power_w", "blower_power_w",
    ];

    /// <summary>Columns of what was done at a visit.</summary>
    public static readonly IReadOnlyList<string> CorrectionColumns = ["correction", "correction_from", "correction_to", "charge_change_oz"];

    /// <summary>Columns without which a reading cannot be told apart; a row must have them all.</summary>
    public static readonly IReadOnlyList<string> IdentityColumns = ["visit_id", "reading_no", "install_id", "crew_id", "visit_kind", "visited_at"];

    /// <summary>Every column of the plain reading row, in the order of the contract.</summary>
    public static readonly IReadOnlyList<string> PlainColumns =
    [
        .. IdentityColumns, "technician_id",
        .. InstallColumns, .. MeasuredColumns, .. CorrectionColumns, "notes", "saved_at",
    ];

    public static readonly TableContract Readings = new(
        "readings", "reading", Partition.Month, ["visited_at", "visit_id", "reading_no"],
        [
            "visit_id", "reading_no", "install_id", "crew_id", "technician_id", "visit_kind", "visited_at", "visited_on",
            .. MeasuredColumns, .. CorrectionColumns, "notes", "saved_at", "source_id", "source_line",
        ]);

    public static readonly TableContract Installs = new(
        "installs", "installed system", Partition.Whole, ["install_id"],
        ["install_id", "crew_id", .. InstallColumns, "first_visited_on", "last_visited_on"]);

    public static readonly TableContract Visits = new(
        "visits", "visit", Partition.Month, ["started_at", "visit_id"],
        ["visit_id", "install_id", "crew_id", "technician_id", "visit_kind", "started_at", "visited_on", "readings"]);

    public static readonly TableContract Corrections = new(
        "corrections", "correction made at a visit", Partition.Month, ["visit_id", "reading_no", "correction_no"],
        ["visit_id", "reading_no", "correction_no", "install_id", "visited_on", "correction", "correction_from", "correction_to", "charge_change_oz"]);

    public static readonly TableContract SetAsideValues = new(
        "set_aside_values", "value set aside in an accepted reading", Partition.Month, ["source_id", "source_line", "column_name", "set_aside_reason"],
        ["source_id", "source_line", "visit_id", "reading_no", "column_name", "raw_value", "set_aside_reason", "detail", "suggestion"]);

    public static readonly TableContract RejectedRows = new(
        "rejected_rows", "source row rejected", Partition.Source, ["source_id", "source_line"],
        ["source_id", "source_name", "source_line", "raw_text", "rejected_reason", "detail"]);

    public static readonly TableContract Sources = new(
        "sources", "source file", Partition.Whole, ["source_id"],
        [
            "source_id", "source_name", "source_hash", "profile", "profile_hash", "rows_read", "rows_accepted", "rows_duplicate",
            "rows_superseded", "rows_rejected", "values_set_aside",
        ]);

    /// <summary>Metrics that carry an uncertainty and, where NULL, a reason.</summary>
    public static readonly IReadOnlyList<string> MetricColumns =
    [
        "evaporating_f", "condensing_f", "superheat_f", "target_superheat_f", "superheat_error_f", "subcooling_f", "subcooling_error_f",
        "return_wb_f", "return_rh_pct", "temperature_split_f", "expected_split_f", "split_error_f", "condensing_over_outdoor_f", "liquid_over_outdoor_f", "compression_ratio",
        "return_humidity_ratio", "return_enthalpy_btu_lb", "return_dew_point_f", "air_density_lb_ft3",
        "implied_airflow_cfm_per_ton", "measured_airflow_cfm_per_ton", "sensible_capacity_btuh", "total_capacity_btuh", "capacity_ratio", "freeze_margin_f",
    ];

    public static readonly TableContract Metrics = new(
        "metrics", "reading", Partition.Month, ["visit_id", "reading_no"],
        [
            "visit_id", "reading_no", "install_id", "crew_id", "visited_on",
            .. MetricColumns.SelectMany(m => new[] { m, m + "_sd", m + "_missing" }),
        ]);

    public static readonly TableContract Findings = new(
        "findings", "reading", Partition.Month, ["visit_id", "reading_no"],
        [
            "visit_id", "reading_no", "install_id", "crew_id", "visited_on", "finding", "probability", "severity",
            .. Codes.Finding.Where(f => f != "cannot_judge").Select(f => "p_" + f),
            "reasons", "cannot_judge_because", "capacity_loss_pct", "extra_energy_pct",
        ]);

    public static readonly TableContract VisitOutcomes = new(
        "visit_outcomes", "visit with an as-found and an as-left reading", Partition.Month, ["visit_id"],
        [
            "visit_id", "install_id", "crew_id", "visited_on", "as_found_finding", "as_left_finding", "correction", "outcome", "outcome_because",
            "split_change_f", "superheat_change_f", "subcooling_change_f",
        ]);

    public static readonly TableContract FollowUps = new(
        "follow_ups", "install: its first follow-up or none yet", Partition.Whole, ["install_id"],
        [
            "install_id", "crew_id", "installed_on", "commissioning_visit_id", "follow_up_state", "follow_up_visit_id", "follow_up_kind", "followed_up_on",
            "days_to_follow_up", "as_found_finding", "needed_airflow_correction", "needed_charge_correction",
        ]);

    public static readonly TableContract Scores = new(
        "scores", "install with no follow-up yet", Partition.Whole, ["install_id"],
        ["install_id", "scored_on", "p_airflow_correction", "p_charge_correction", "score_because", "abstains_because", "model_version"]);

    /// <summary>The chances each month's scores gave, kept so that later visits can be held against them; of several scores in a month the last.</summary>
    public static readonly TableContract PastScores = new(
        "past_scores", "install scored in a month", Partition.Month, ["install_id", "scored_on"],
        ["scored_on", "install_id", "p_airflow_correction", "p_charge_correction", "model_version"]);

    /// <summary>What each month's scores said and what the first follow-ups since then found.</summary>
    public static readonly TableContract LookBack = new(
        "look_back", "month scored, question and kind of follow-up", Partition.Whole, ["scored_on", "question", "population"],
        ["scored_on", "question", "population", "scored", "follow_ups", "corrections", "mean_chance", "rate", "rate_low", "rate_high", "brier", "caught_top_fifth", "is_apart"]);

    public static readonly TableContract Worklist = new(
        "worklist", "install to go back to", Partition.Whole, ["rank"],
        [
            "rank", "install_id", "crew_id", "region", "installed_on", "nominal_tons", "refrigerant", "metering", "finding", "p_airflow_correction", "p_charge_correction", "benefit_usd", "likely_correction",
            "first_checks", "bring", "cautions", "score_because",
            "visit_on", "visiting_crew", "visit_order", "starts_at", "travel_minutes", "visit_minutes", "latitude", "longitude", "planned_by",
        ]);

    /// <summary>The installs each month's worklist named, kept so that later visits can be held against it; of several lists of a month the last.</summary>
    public static readonly TableContract PastWorklists = new(
        "past_worklists", "install named by the worklist of a month", Partition.Month, ["scored_on", "rank"],
        ["scored_on", "rank", "install_id", "crew_id", "p_airflow_correction", "p_charge_correction", "benefit_usd", "likely_correction", "visit_on"]);

    /// <summary>What is to be done about each install that had no follow-up yet: the worklist is those with the need "visit".</summary>
    public static readonly TableContract VisitNeeds = new(
        "visit_needs", "install with no follow-up yet", Partition.Whole, ["install_id"],
        ["install_id", "crew_id", "region", "installed_on", "visit_need", "benefit_usd", "need_because"]);

    /// <summary>Which of the assumed costs, odds and hours change the worklist: each halved and doubled.</summary>
    public static readonly TableContract WorklistSensitivity = new(
        "worklist_sensitivity", "setting of the worklist, halved or doubled", Partition.Whole, ["setting_name", "setting_value"],
        ["setting_name", "setting_value", "setting_used", "chosen_visits", "visits_kept", "first_ten_kept"]);

    /// <summary>Whether the readings of a crew look copied; a question, never an accusation.</summary>
    public static readonly TableContract CopyQuestions = new(
        "copy_questions", "crew and quarter", Partition.Whole, ["crew_id", "quarter"],
        [
            "crew_id", "quarter", "visits", "repeated_visits", "repeat_chance", "digits", "digit_chi_square", "digit_chance",
            "spread_column", "spread_ratio", "spread_chance", "adjusted_chance", "is_asked",
        ]);

    public static readonly TableContract RepeatedVisits = new(
        "repeated_visits", "visit whose readings repeat those of an earlier one", Partition.Whole, ["visit_id"],
        ["visit_id", "crew_id", "visited_on", "earlier_visit_id", "compared_columns", "repeated_columns", "repeat_chance"]);

    /// <summary>Crews compared after adjusting for the work they were given, by what first follow-ups show; raw rates beside.</summary>
    public static readonly TableContract CrewRates = new(
        "crew_rates", "crew that installed, and what is compared", Partition.Whole, ["crew_id", "compared"],
        ["crew_id", "compared", .. ComparisonColumns, "dispersion", "funnel_low", "funnel_high", "funnel_position", "population"]);

    /// <summary>Mistakes that recur where the work invites them, each crew against its peers at the same work.</summary>
    public static readonly TableContract CrewMistakes = new(
        "crew_mistakes", "crew and mistake looked for", Partition.Whole, ["crew_id", "habit"],
        ["crew_id", "habit", .. ComparisonColumns, "peer_rate", "population"]);

    /// <summary>Whether a crew's later installs differ from its earlier ones: risk-adjusted CUSUM.</summary>
    public static readonly TableContract CrewChanges = new(
        "crew_changes", "crew, what is compared, and direction of change", Partition.Whole, ["crew_id", "compared", "direction"],
        [
            "crew_id", "compared", "direction", "baseline_installs", "baseline_ratio", "charted_from", "charted_installs", "charted_observed", "charted_expected",
            "cusum_highest", "cusum_limit", "false_signal_chance", "signal_chance", "run_length", "signalled_after", "signalled_on",
        ]);

    /// <summary>The same by quarter of start-up: p-chart.</summary>
    public static readonly TableContract CrewQuarters = new(
        "crew_quarters", "crew, what is compared, and quarter of start-up", Partition.Whole, ["crew_id", "compared", "quarter"],
        ["crew_id", "compared", "quarter", "judged", "observed", "rate", "expected_rate", "limit_low", "limit_high"]);

    /// <summary>What to talk over with each crew that has enough judged installs: what goes well and habits to change; their evidence stands in crew_rates and crew_mistakes, whether the last change showed in crew_changes.</summary>
    public static readonly TableContract CoachingPoints = new(
        "coaching_points", "crew, part of its sheet, and place", Partition.Whole, ["crew_id", "sheet_part", "sheet_place"],
        ["crew_id", "sheet_part", "sheet_place", "sheet_point"]);

    /// <summary>The latest installs behind each habit to change.</summary>
    public static readonly TableContract CoachingExamples = new(
        "coaching_examples", "crew, habit, and place", Partition.Whole, ["crew_id", "habit", "sheet_place"],
        ["crew_id", "habit", "sheet_place", "install_id", "visit_id", "seen_on"]);

    /// <summary>Shares at first follow-ups, as they are among follow-ups and weighted to all installs.</summary>
    public static readonly TableContract PopulationRates = new(
        "population_rates", "what is compared, and population", Partition.Whole, ["compared", "population"],
        ["compared", "population", "judged", "effective_installs", "rate", "rate_low", "rate_high"]);

    /// <summary>All tables but the marts, which live beside their SQL.</summary>
    public static readonly IReadOnlyList<TableContract> All =
        [Installs, Visits, Readings, Corrections, RejectedRows, SetAsideValues, Sources, Metrics, Findings, VisitOutcomes, FollowUps, Scores, PastScores, LookBack, Worklist, PastWorklists, VisitNeeds, WorklistSensitivity, CopyQuestions, RepeatedVisits, CrewRates, CrewMistakes, CrewChanges, CrewQuarters, CoachingPoints, CoachingExamples, PopulationRates];

    /// <summary>The table of a name, or null.</summary>
    public static TableContract? Find(string name) => All.FirstOrDefault(t => t.Name == name);

    private static string[] ComparisonColumns =>
    [
        "judged", "enough", "observed", "rate", "rate_low", "rate_high", "expected_count", "ratio", "ratio_low", "ratio_high",
        "adjusted_rate", "adjusted_rate_low", "adjusted_rate_high", "shrunken_ratio", "shrunken_ratio_low", "shrunken_ratio_high", "z_score", "p_value", "q_value", "standing",
    ];
}
