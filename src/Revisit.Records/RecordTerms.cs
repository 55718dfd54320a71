namespace Revisit.Records;

/// <summary>Terms of the records, of what is worked out for each, and of the worklist.</summary>
internal sealed class RecordTerms : TermGroup
{
    public RecordTerms()
    {
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
    }
}
