namespace Revisit.Records;

/// <summary>Terms of what is counted over the fleet.</summary>
internal sealed class FleetTerms : TermGroup
{
    public FleetTerms()
    {
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
        Text("word", "One of the texts of a column that has few");
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
        Text("sheet_part", "Part of the sheet to talk over with a crew", Codes.SheetPart);
        Whole("sheet_place", 1, 5, "Place in that part of the sheet, the first to speak of first");
        Text("sheet_point", "What is spoken of: something compared, or a habit", [.. Codes.Compared, .. Codes.Habit]);
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
    }
}
