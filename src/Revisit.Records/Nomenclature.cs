using System.Collections.Frozen;

namespace Revisit.Records;

/// <summary>
/// The one table of names: unit, physical range and meaning of every column of every table.
/// Ranges of measured quantities are physical limits of residential cooling equipment and its instruments
/// (common practice, no source); they decide what can be right at all, not what is good.
/// </summary>
public static class Nomenclature
{
    private static readonly List<Term> Entries = Build();
    private static readonly FrozenDictionary<string, Term> ByName = Entries.ToFrozenDictionary(t => t.Name);

    /// <summary>Every term, in the order of the contract.</summary>
    public static IReadOnlyList<Term> All => Entries;

    /// <summary>The term of a column name.</summary>
    /// <exception cref="KeyNotFoundException">The name is not in the nomenclature.</exception>
    public static Term Of(string name) => ByName.TryGetValue(name, out var term)
        ? term
        : throw new KeyNotFoundException($"'{name}' is not in the nomenclature; add it to Nomenclature.cs with unit, range and meaning.");

    /// <summary>Looks a name up without throwing.</summary>
    public static bool TryFind(string name, out Term term) => ByName.TryGetValue(name, out term!);

    private static List<Term> Build()
    {
        var terms = new List<Term>();
        void Text(string name, string meaning, IReadOnlyList<string>? codes = null) =>
            terms.Add(new(name, ColumnKind.Text, "", null, null, meaning, codes ?? []));
        void Whole(string name, double? low, double? high, string meaning, string unit = "1") =>
            terms.Add(new(name, ColumnKind.Whole, unit, low, high, meaning, []));
        void Number(string name, string unit, double? low, double? high, string meaning) =>
            terms.Add(new(name, ColumnKind.Number, unit, low, high, meaning, []));
        void Day(string name, string meaning) => terms.Add(new(name, ColumnKind.Day, "", null, null, meaning, []));
        void Instant(string name, string meaning) => terms.Add(new(name, ColumnKind.Instant, "", null, null, meaning, []));

        // Identity
        Text("visit_id", "Visit, as the branch numbers it");
        Whole("reading_no", 1, 99, "Reading within the visit, from 1");
        Text("install_id", "The installed system");
        Text("crew_id", "Crew that made the reading; on an install, the crew that installed it");
        Text("visit_kind", "Why the visit was made", Codes.VisitKind);
        Instant("visited_at", "When the reading was taken");
        Day("visited_on", "Day of the reading at the site");
        Text("technician_id", "Technician who took the reading");
        Text("region", "Branch or region");
        Number("elevation_ft", "[ft_i]", -300, 12_000, "Site elevation above sea level");
        Number("latitude", "deg", -90, 90, "Site latitude, north positive");
        Number("longitude", "deg", -180, 180, "Site longitude, east positive");

        // Install
        Day("installed_on", "Day the system was started up");
        Number("nominal_tons", "[ton_refrig]", 1, 6, "Nominal cooling size; 1 ton is 12,000 Btu/h");
        Number("rated_cooling_btuh", "[Btu_IT]/h", 10_000, 75_000, "Rated cooling capacity");
        Number("rated_eer", "[Btu_IT]/(W.h)", 6, 20, "Rated energy efficiency ratio at 95 °F outdoors");
        Text("refrigerant", "ASHRAE 34 designation");
        Text("metering", "Metering device", Codes.Metering);
        Number("target_subcooling_f", "[degR]", 0, 30, "The unit's own subcooling target, °F difference");
        Number("target_superheat_f", "[degR]", 0, 45, "Superheat target, °F difference");
        Number("line_set_ft", "[ft_i]", 0, 300, "Length of the refrigerant lines, one way");
        Text("blower_motor", "Blower motor kind", Codes.BlowerMotor);
        Text("duct_location", "Where most of the ducts run", Codes.DuctLocation);
        Text("indoor_unit", "Indoor unit kind", Codes.IndoorUnit);
        Text("outdoor_unit", "Outdoor unit kind", Codes.OutdoorUnit);
        Number("design_airflow_cfm", "[cft_i]/min", 100, 3_000, "Airflow the design asks for");
        Whole("supply_runs", 1, 60, "Number of supply runs");

        // State
        Text("phase", "As found, in between, or as left", Codes.Phase);
        Number("minutes_running", "min", 0, 1_440, "Minutes the system had run before the reading");
        Text("blower_tap", "Blower speed tap or setting, as written");
        Text("filter_state", "Filter as seen", Codes.FilterState);

        // Air
        Number("outdoor_db_f", "[degF]", -30, 130, "Outdoor dry bulb");
        Number("return_db_f", "[degF]", 40, 110, "Return air dry bulb");
        Number("return_wb_f", "[degF]", 30, 90, "Return air wet bulb");
        Number("return_rh_pct", "%", 1, 100, "Return air relative humidity");
        Number("supply_db_f", "[degF]", 20, 110, "Supply air dry bulb");
        Number("supply_wb_f", "[degF]", 20, 90, "Supply air wet bulb");
        Number("supply_rh_pct", "%", 1, 100, "Supply air relative humidity");

        // Circuit
        Number("suction_pressure_psig", "[psi]", 5, 300, "Suction pressure at the service port, gauge");
        Number("liquid_pressure_psig", "[psi]", 50, 700, "Liquid pressure at the service port, gauge");
        Number("suction_line_f", "[degF]", 10, 130, "Suction line temperature at the service port");
        Number("liquid_line_f", "[degF]", 20, 170, "Liquid line temperature at the service port");
        Number("discharge_line_f", "[degF]", 60, 300, "Discharge line temperature");

        // Duct and power
        Number("external_static_inwc", "[in_i'H2O]", 0, 3, "External static pressure across the air handler");
        Number("return_static_inwc", "[in_i'H2O]", -3, 3, "Return static pressure");
        Number("supply_static_inwc", "[in_i'H2O]", -3, 3, "Supply static pressure");
        Number("airflow_cfm", "[cft_i]/min", 100, 3_500, "Measured airflow");
        Text("airflow_method", "How the airflow was measured", Codes.AirflowMethod);
        Number("system_power_w", "W", 100, 15_000, "Power of the whole system");
        Number("blower_power_w", "W", 10, 3_000, "Power of the blower");

        // What was done
        Text("correction", "What was corrected; several codes are joined by +");
        Text("correction_from", "Setting before the correction");
        Text("correction_to", "Setting after the correction");
        Number("charge_change_oz", "[oz_av]", -400, 400, "Refrigerant added (positive) or recovered (negative)");
        Text("notes", "Free text of the technician");
        Instant("saved_at", "When the row was last saved; a later save replaces an earlier one");

        // Where it came from
        Text("source_id", "Source file: first 16 hex digits of the SHA-256 of its bytes and its profile");
        Whole("source_line", 1, null, "First line of the row in its source file");
        Text("source_name", "File name without folders");
        Text("source_hash", "SHA-256 of the file's bytes");
        Text("profile", "Name of the source profile");
        Text("profile_hash", "SHA-256 of the profile");
        Whole("rows_read", 0, null, "Data rows in the file");
        Whole("rows_accepted", 0, null, "Rows that stand in readings");
        Whole("rows_duplicate", 0, null, "Exact duplicates of another row");
        Whole("rows_superseded", 0, null, "Rows replaced by a later save");
        Whole("rows_rejected", 0, null, "Rows whose structure or identity is broken");
        Whole("values_set_aside", 0, null, "Single values set aside in accepted rows");
        Day("first_visited_on", "Day of the first visit");
        Day("last_visited_on", "Day of the last visit");
        Text("raw_text", "The row as it stood in the file; private fields are blanked");
        Text("raw_value", "The value as it stood in the file");
        Text("column_name", "The column a value was meant for");
        Text("set_aside_reason", "Why the value was set aside", Codes.SetAside);
        Text("rejected_reason", "Why the row was rejected", Codes.Rejected);
        Text("detail", "What was expected and what to do");
        Text("suggestion", "What the evidence points to; never applied");

        // Visits
        Instant("started_at", "First reading of the visit");
        Whole("readings", 0, null, "Number of readings");
        Whole("correction_no", 1, null, "Correction within the visit, from 1");

        // Metrics
        void Metric(string name, string unit, double? low, double? high, string meaning, bool sd = true)
        {
            Number(name, unit, low, high, meaning);
            if (sd)
            {
                Number(name + "_sd", unit.StartsWith("[degF", StringComparison.Ordinal) ? "[degR]" : unit, 0, null, $"Standard uncertainty of {name}");
            }

            Text(name + "_missing", $"Why {name} could not be given");
        }

        Metric("evaporating_f", "[degF]", -40, 160, "Saturation temperature at suction pressure, dew point");
        Metric("condensing_f", "[degF]", -40, 160, "Saturation temperature at liquid pressure, bubble point");
        Metric("superheat_f", "[degR]", -60, 120, "Suction line over evaporating dew temperature, °F difference");
        Metric("subcooling_f", "[degR]", -60, 120, "Condensing bubble temperature over liquid line, °F difference");
        foreach (var (name, unit) in new[] { ("target_superheat_f", "[degR]"), ("return_wb_f", "[degR]"), ("return_rh_pct", "%") })
        {
            // Measured or computed: in metrics the value is the one the computation used.
            Number(name + "_sd", unit, 0, null, $"Standard uncertainty of {name}");
            Text(name + "_missing", $"Why {name} could not be given");
        }

        Metric("subcooling_error_f", "[degR]", -90, 120, "Subcooling over the unit's own target, °F difference");
        Metric("superheat_error_f", "[degR]", -100, 120, "Superheat over its target, °F difference");
        Metric("temperature_split_f", "[degR]", -40, 80, "Return over supply dry bulb, °F difference");
        Metric("expected_split_f", "[degR]", 0, 40, "Split a sound system shows in these conditions, °F difference");
        Metric("split_error_f", "[degR]", -60, 60, "Split over the expected split, °F difference");
        Metric("condensing_over_outdoor_f", "[degR]", -60, 120, "Condensing over outdoor temperature, °F difference");
        Metric("liquid_over_outdoor_f", "[degR]", -80, 120, "Liquid line over outdoor temperature, °F difference");
        Metric("compression_ratio", "1", 0.5, 20, "Absolute liquid over absolute suction pressure");
        Metric("return_humidity_ratio", "1", 0, 0.1, "Return air humidity ratio, mass of water per mass of dry air");
        Metric("return_enthalpy_btu_lb", "[Btu_IT]/[lb_av]", 0, 100, "Return air enthalpy per mass of dry air");
        Metric("return_dew_point_f", "[degF]", -40, 110, "Return air dew point");
        Metric("air_density_lb_ft3", "[lb_av]/[cft_i]", 0.03, 0.1, "Density of the return air");
        Metric("implied_airflow_cfm_per_ton", "[cft_i]/min/[ton_refrig]", 50, 1_500, "Airflow that rated capacity and the air's change of enthalpy imply");
        Metric("measured_airflow_cfm_per_ton", "[cft_i]/min/[ton_refrig]", 30, 2_000, "Measured airflow per nominal ton");
        Metric("sensible_capacity_btuh", "[Btu_IT]/h", 0, 150_000, "Sensible cooling capacity");
        Metric("total_capacity_btuh", "[Btu_IT]/h", 0, 150_000, "Total cooling capacity");
        Metric("capacity_ratio", "1", 0, 3, "Total capacity over rated capacity");
        Metric("freeze_margin_f", "[degR]", -80, 80, "Evaporating temperature over 32 °F, °F difference");

        // Findings
        Text("finding", "What the reading shows", Codes.Finding);
        Number("probability", "1", 0, 1, "How sure the finding is, given the evidence and the method");
        Number("severity", "1", 0, 2, "How far off, as a share (0.2 is 20 %)");
        foreach (var cause in Codes.Finding.Where(f => f != "cannot_judge"))
        {
            Number("p_" + cause, "1", 0, 1, $"Probability of {cause}");
        }

        Text("reasons", "What speaks for and against, in plain words");
        Text("cannot_judge_because", "Why the reading cannot be judged, and what to measure next time");
        Number("capacity_loss_pct", "%", -50, 100, "Cooling capacity lost to the fault");
        Number("extra_energy_pct", "%", -50, 200, "Extra energy used because of the fault");

        // Outcomes and follow-ups
        Text("as_found_finding", "Finding of the first as-found reading", Codes.Finding);
        Text("as_left_finding", "Finding of the last as-left reading", Codes.Finding);
        Text("outcome", "Did the correction work", Codes.Outcome);
        Text("outcome_because", "What the verdict rests on");
        Number("split_change_f", "[degR]", -80, 80, "Split as left over as found, °F difference");
        Number("superheat_change_f", "[degR]", -160, 160, "Superheat as left over as found, °F difference");
        Number("subcooling_change_f", "[degR]", -160, 160, "Subcooling as left over as found, °F difference");
        Text("commissioning_visit_id", "The visit that started the system up");
        Text("follow_up_visit_id", "The first visit after start-up; NULL when there was none yet");
        Text("follow_up_kind", "Kind of the first follow-up", Codes.VisitKind);
        Day("followed_up_on", "Day of the first follow-up");
        Whole("days_to_follow_up", 0, null, "Days from start-up to the first follow-up", "d");
        Whole("needed_airflow_correction", 0, 1, "1 when the first follow-up corrected airflow, 0 when it did not, NULL when there was none yet");
        Whole("needed_charge_correction", 0, 1, "1 when the first follow-up corrected charge, 0 when it did not, NULL when there was none yet");
        Text("follow_up_state", "observed, or none_yet (censored, not healthy)", ["observed", "none_yet"]);

        // Scores and worklist
        Number("p_airflow_correction", "1", 0, 1, "Chance that the first follow-up will need an airflow correction");
        Number("p_charge_correction", "1", 0, 1, "Chance that the first follow-up will need a charge correction");
        Text("score_because", "What moved the score, in words");
        Text("model_version", "Model kind, data hash and seed");
        Text("abstains_because", "Why no score is given");
        Day("scored_on", "Day the score speaks for");
        Text("question", "What the forecast is asked", ["airflow", "charge"]);
        Whole("scored", 0, null, "Installs that were given chances");
        Number("mean_chance", "1", 0, 1, "Mean chance given to the installs followed up since");
        Number("brier", "1", 0, 1, "Mean squared difference of chance and answer (1 needed a correction, 0 did not)");
        Number("caught_top_fifth", "1", 0, 1, "Share of the needed corrections that the fifth with the highest chances held");
        Whole("is_apart", 0, 1, "1 where the mean chance lies outside the interval of what planned checks found, 0 where inside; NULL for other follow-ups and where there were none");
        Whole("rank", 1, null, "Place in the worklist, 1 first");
        Number("benefit_usd", "1", null, null, "Expected benefit of the visit, US dollars, under the stated assumptions");
        Text("likely_correction", "Correction to expect");
        Text("first_checks", "What to check first, in order");
        Text("bring", "What to bring");
        Text("cautions", "What can hurt someone here");
        Day("visit_on", "Day the visit is planned for; NULL in a plain ranking");
        Whole("visiting_crew", 1, null, "Which of the visiting crews of the region goes, from 1; NULL in a plain ranking");
        Whole("visit_order", 1, null, "Place of the visit in the crew's day, from 1");
        Text("starts_at", "Start of the visit, clock of the site, HH:mm");
        Whole("travel_minutes", 0, null, "Estimated way to the visit from the one before or the start of the day", "min");
        Whole("visit_minutes", 0, null, "Time planned for the visit", "min");
        Text("planned_by", "How the visits were chosen", Codes.PlannedBy);
        Text("visit_need", "What is to be done about an install without a follow-up", Codes.VisitNeed);
        Text("need_because", "Why");
        Text("setting_name", "Name of a setting");
        Number("setting_value", "1", null, null, "Value of the setting that is tried, in the unit its name ends with");
        Number("setting_used", "1", null, null, "Value of the setting in use, in the unit its name ends with");
        Whole("chosen_visits", 0, null, "Visits chosen with the value that is tried");
        Whole("visits_kept", 0, null, "Visits chosen with the value in use that are still chosen");
        Whole("first_ten_kept", 0, 10, "Of the ten visits of most benefit those that are still among the ten");

        // Marts
        Text("month", "Month of the visit, YYYY-MM");
        Text("season", "Season of the visit by calendar month", Codes.Season);
        Text("size_band", "Nominal size in tons, as text");
        Whole("installs", 0, null, "Number of installs");
        Whole("visits", 0, null, "Number of visits");
        Whole("judged", 0, null, "Readings or installs that could be judged");
        Whole("cannot_judge", 0, null, "Readings or installs that could not be judged");
        Whole("follow_ups", 0, null, "Installs that have had their first follow-up");
        Whole("airflow_corrections", 0, null, "First follow-ups that corrected airflow");
        Whole("charge_corrections", 0, null, "First follow-ups that corrected charge");
        Whole("corrections", 0, null, "First follow-ups that corrected airflow, charge or both");
        Number("rate", "1", 0, 1, "Share");
        Number("rate_low", "1", 0, 1, "Lower end of the 95 % Wilson interval of the share");
        Number("rate_high", "1", 0, 1, "Upper end of the 95 % Wilson interval of the share");

        // Readings that look copied
        Text("quarter", "Calendar quarter, YYYY-Qn");
        Whole("repeated_visits", 0, null, "Visits whose readings repeat those of an earlier visit of the crew");
        Number("repeat_chance", "1", 0, 1, "Chance of as many repeats from honest readings, at most");
        Whole("digits", 0, null, "Last digits looked at");
        Number("digit_chi_square", "1", 0, null, "Pearson's chi-square of the last digits against even ones, 9 degrees of freedom");
        Number("digit_chance", "1", 0, 1, "Chance of last digits as uneven from honest readings");
        Text("spread_column", "Column that varies least against the fleet at like conditions");
        Number("spread_ratio", "1", 0, null, "Standard deviation of that column over the fleet's at like conditions");
        Number("spread_chance", "1", 0, 1, "Chance of as little spread where the true spread is half the fleet's");
        Number("adjusted_chance", "1", 0, 1, "Least of the three chances, times three, adjusted over all crews and quarters (Holm)");
        Whole("is_asked", 0, 1, "Whether to ask the crew how its readings came about: adjusted chance below 1 %");
        Text("earlier_visit_id", "Visit whose readings are repeated");
        Whole("compared_columns", 0, null, "Columns that both visits have");
        Whole("repeated_columns", 0, null, "Columns that are the same in both visits");

        // Marts by size, crew, season and month
        void Rate(string name, string meaning)
        {
            Number(name, "1", 0, 1, meaning);
            Number(name + "_low", "1", 0, 1, $"Lower end of the 95 % Wilson interval of {name}");
            Number(name + "_high", "1", 0, 1, $"Upper end of the 95 % Wilson interval of {name}");
        }

        Text("population", "Which follow-ups a rate speaks for; all_follow_ups includes complaints", ["all_follow_ups", "quality_checks", "all_installs", "start_ups"]);
        Text("adjustment", "raw, or adjusted for the work a crew was given; only adjusted rates compare crews", ["raw", "adjusted"]);
        Whole("enough", 0, 1, "1 when at least 20 installs could be judged, else 0");
        Text("finding_group", "Finding by what mends it", ["in_line", "airflow", "charge", "other", "cannot_judge"]);
        Whole("is_judged", 0, 1, "1 when the reading or first follow-up could be judged");
        Whole("is_as_found", 0, 1, "1 when the reading is as found, or its phase was not written");
        Whole("is_followed_up", 0, 1, "1 when the install has had its first follow-up");
        Whole("is_corrected", 0, 1, "1 when the first follow-up corrected airflow, charge or both, NULL when there was none yet");
        Whole("lacks_wet_bulb", 0, 1, "1 when neither wet bulb nor relative humidity of the return air was kept");
        Whole("lacks_pressures", 0, 1, "1 when suction or liquid pressure was not kept");
        Whole("lacks_run_time", 0, 1, "1 when the minutes of running were not kept");
        Whole("is_too_early", 0, 1, "1 when the system had run less than 15 minutes");
        Whole("without_wet_bulb", 0, null, "Readings that keep neither wet bulb nor relative humidity of the return air");
        Whole("without_pressures", 0, null, "Readings that lack suction or liquid pressure");
        Whole("without_run_time", 0, null, "Readings that lack the minutes of running");
        Whole("too_early", 0, null, "Readings taken before 15 minutes of running");
        Whole("judged_as_found", 0, null, "Readings as found that could be judged");
        Whole("of_readings", 0, null, "Readings as found that a share refers to");
        Whole("findings", 0, null, "Judged readings that are not in line");
        Whole("in_line_findings", 0, null, "Judged readings as found that are in line");
        Whole("airflow_findings", 0, null, "Judged readings as found with too much or too little airflow");
        Whole("charge_findings", 0, null, "Judged readings as found with too much or too little charge");
        Whole("other_findings", 0, null, "Judged readings as found with another cause");
        Rate("in_line_share", "Share of judged readings as found that are in line");
        Rate("airflow_share", "Share of judged readings as found with an airflow finding");
        Rate("charge_share", "Share of judged readings as found with a charge finding");
        Rate("other_share", "Share of judged readings as found with another finding");
        Number("split_error_median_f", "[degR]", -60, 60, "Median of split_error_f, °F difference");
        Number("superheat_error_median_f", "[degR]", -100, 120, "Median of superheat_error_f, °F difference");
        Number("subcooling_error_median_f", "[degR]", -90, 120, "Median of subcooling_error_f, °F difference");
        Rate("airflow_rate", "Share of first follow-ups that corrected airflow");
        Rate("charge_rate", "Share of first follow-ups that corrected charge");
        Whole("cured", 0, null, "Visits whose outcome is cured");
        Whole("better", 0, null, "Visits whose outcome is better");
        Whole("no_change", 0, null, "Visits whose outcome is no_change");
        Whole("worse", 0, null, "Visits whose outcome is worse");
        string[] dimensions = ["blower_motor", "crew_id", "duct_location", "install_month", "metering", "outdoor_band", "refrigerant", "season", "size_band"];
        Text("dimension", "What a cube is counted by; crew_id is the crew that installed", dimensions);
        Text("dimension_value", "Value of the dimension; unknown where it was not written");
        Text("second_dimension", "What a cube is counted by besides; none of one dimension alone", [.. dimensions, "none"]);
        Text("second_value", "Value of the second dimension; all of one dimension alone");
        Text("metric", "Metric whose spread is given, measured minus expected", ["split_error_f", "superheat_error_f", "subcooling_error_f"]);
        foreach (var error in new[] { "split", "superheat", "subcooling" })
        {
            Whole($"{error}_errors", 0, null, $"Judged readings as found that have {error}_error_f");
            Number($"{error}_error_mean_f", "[degR]", -100, 120, $"Mean of {error}_error_f, °F difference");
            Number($"{error}_error_sd_f", "[degR]", 0, 120, $"Sample standard deviation of {error}_error_f, °F difference; NULL of one reading");
        }

        foreach (var (name, part) in new[] { ("p10_f", "A tenth"), ("p25_f", "A quarter"), ("median_f", "Half"), ("p75_f", "Three quarters"), ("p90_f", "Nine tenths") })
        {
            Number(name, "[degR]", -100, 120, $"{part} of the readings lie at or under it, °F difference");
        }

        Text("outdoor_band", "Outdoor air of a reading in bands of 10 °F, as text");
        Text("install_month", "Month of the start-up, YYYY-MM");
        Whole("charge_touched_from", 1, 100, "First reading of the visit that the charge correction written with this reading may have changed; NULL when none is");
        Whole("has_humidity", 0, 1, "1 when a reading of the visit keeps wet bulb or relative humidity of the return air");
        Text("charge_found", "What the visit's first reading without a fault of airflow shows, before the charge was touched; NULL when there is none", Codes.Finding);
        Text("context", "Property of an install by which it is grouped", ["refrigerant", "metering", "duct_location", "blower_motor", "indoor_unit", "outdoor_unit", "line_set_band"]);
        Text("context_value", "Value of the context; unknown where it was not written");
        Text("line_set_band", "Length of the refrigerant lines in bands of 25 ft, one way, as text");
        Day("planned_on", "Day of the install's first planned visit: quality check or maintenance");
        Number("effective_installs", "1", 0, null, "Installs that the weighted ones are worth, (Σw)²/Σw²");
        Text("start_visit_id", "Start-up visit, where it was recorded");
        Day("started_on", "Day of the start-up visit");
        Text("start_season", "Season of the start-up visit, or of installed_on", Codes.Season);
        Number("start_outdoor_f", "[degF]", -40, 150, "Outdoor air of the first reading of the start-up visit that has one");
        Number("follow_up_outdoor_f", "[degF]", -40, 150, "Outdoor air of the first reading of the first follow-up that has one");
        foreach (var compared in Codes.Compared)
        {
            Whole(compared, 0, 1, $"1 when the first follow-up shows {compared.Replace('_', ' ')}, NULL where that could not be judged");
        }

        foreach (var habit in Codes.Habit)
        {
            Whole(habit, 0, 1, $"1 when it happened on this install ({habit.Replace('_', ' ')}), NULL where the work does not invite it or it could not be judged");
        }

        Text("compared", "What crews are compared by", Codes.Compared);
        Text("habit", "Mistake that is looked for where the work invites it", Codes.Habit);
        Text("standing", "How a crew stands against what its work lets expect: false discoveries held at 5 % over all crews and all that is compared", Codes.Standing);
        Whole("observed", 0, null, "Installs of the crew that had it");
        Number("expected_count", "1", 0, null, "Installs that would have had it if the crew's work had gone as that of the crews that do not stand far above the others");
        Number("ratio", "1", 0, null, "Observed over expected");
        Number("ratio_low", "1", 0, null, "Lower end of the 95 % exact Poisson interval of the ratio");
        Number("ratio_high", "1", 0, null, "Upper end of the 95 % exact Poisson interval of the ratio");
        Number("adjusted_rate", "1", 0, 1, "Ratio times the share among the installs of the crews that do not stand far above the others, at most 1");
        Number("adjusted_rate_low", "1", 0, 1, "Lower end of its 95 % interval");
        Number("adjusted_rate_high", "1", 0, 1, "Upper end of its 95 % interval");
        Number("shrunken_ratio", "1", 0, null, "Ratio drawn towards that of all crews by empirical Bayes (gamma-Poisson)");
        Number("shrunken_ratio_low", "1", 0, null, "Lower end of its 95 % posterior interval");
        Number("shrunken_ratio_high", "1", 0, null, "Upper end of its 95 % posterior interval");
        Number("dispersion", "1", 0, null, "Mean square of the winsorised z-scores of all crews: above 1 crews differ by more than chance and their work");
        Number("funnel_low", "1", 0, null, "Lower 99.8 % funnel limit of the ratio, widened by the dispersion");
        Number("funnel_high", "1", 0, null, "Upper 99.8 % funnel limit of the ratio, widened by the dispersion");
        Text("funnel_position", "Place of the ratio in the funnel", ["below", "inside", "above"]);
        Number("z_score", "1", null, null, "Normal deviate of observed against expected");
        Number("p_value", "1", 0, 1, "Two-sided chance of as much or more, were the crew as all others at the same work");
        Number("q_value", "1", 0, 1, "p_value after Benjamini and Hochberg over all crews and all that is compared");
        Number("peer_rate", "1", 0, 1, "Share among the other crews' installs where the work invites it");
        Day("seen_on", "Day on which it was seen");
        Whole("baseline_installs", 0, null, "Installs of the crew's earlier half, against which its later half is held");
        Number("baseline_ratio", "1", 0, null, "Observed over expected in the earlier half, drawn towards that of all crews");
        Whole("charted_installs", 0, null, "Installs of the crew's later half");
        Day("charted_from", "Start-up day of the first install of the later half");
        Whole("charted_observed", 0, null, "Installs of the later half that had it");
        Number("charted_expected", "1", 0, null, "Installs of the later half that would have had it, had the crew gone on as in its earlier half");
        Text("direction", "Change that is looked for: odds halved (better) or doubled (worse)", ["better", "worse"]);
        Number("cusum_highest", "1", 0, null, "Highest value of the risk-adjusted cumulative sum");
        Number("cusum_limit", "1", 0, null, "Limit at which it signals");
        Number("false_signal_chance", "1", 0, 1, "Chance of a signal over the charted installs without a change");
        Number("signal_chance", "1", 0, 1, "Chance of a signal over the charted installs, had the odds changed from the first of them");
        Number("run_length", "1", 0, null, "Installs until a signal on the average, once the odds have changed");
        Whole("signalled_after", 1, null, "Charted installs at the signal, NULL when there was none");
        Day("signalled_on", "Start-up day of the install that brought the signal, NULL when there was none");
        Number("limit_low", "1", 0, 1, "Lower control limit of the share: 3 standard deviations");
        Number("limit_high", "1", 0, 1, "Upper control limit of the share: 3 standard deviations");
        Number("expected_rate", "1", 0, 1, "Share that the crew's work of the period lets expect");
        Whole("missing", 0, null, "Readings that lack the column");
        Whole("set_aside", 0, null, "Readings whose value of the column was written and set aside");
        Whole("not_written", 0, null, "Readings whose value of the column was not written");
        Text("cannot_judge_reason", "Why a reading cannot be judged, told apart by the words of its finding",
        [
            "read_too_early", "too_cold_outdoors", "return_too_cool", "outdoor_missing", "split_missing", "humidity_missing",
            "subcooling_missing", "superheat_missing", "metering_missing", "no_orifice_target", "fits_no_cause", "causes_alike", "not_diagnosed", "other",
        ]);
        Whole("first_named", 0, null, "Readings that name the reason first");
        Whole("counted", 0, null, "Count that a check found");
        Whole("expected", 0, null, "Count that a check expected");
        return terms;
    }
}
