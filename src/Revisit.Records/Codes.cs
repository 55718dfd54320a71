namespace Revisit.Records;

/// <summary>The fixed sets of codes of the contract. Order matters where a page lists them.</summary>
public static class Codes
{
    public static readonly IReadOnlyList<string> VisitKind = ["commissioning", "quality_check", "callback", "maintenance", "other"];
    public static readonly IReadOnlyList<string> Phase = ["as_found", "interim", "as_left"];
    public static readonly IReadOnlyList<string> Metering = ["txv", "eev", "fixed_orifice"];
    public static readonly IReadOnlyList<string> BlowerMotor = ["psc", "constant_torque", "constant_airflow"];
    public static readonly IReadOnlyList<string> DuctLocation = ["attic", "crawlspace", "basement", "garage", "indoors"];
    public static readonly IReadOnlyList<string> IndoorUnit = ["furnace_coil", "air_handler"];
    public static readonly IReadOnlyList<string> OutdoorUnit = ["air_conditioner", "heat_pump"];
    public static readonly IReadOnlyList<string> FilterState = ["clean", "fair", "loaded", "missing"];
    public static readonly IReadOnlyList<string> AirflowMethod = ["flow_grid", "flow_hood", "traverse", "blower_table", "temperature_rise"];
    public static readonly IReadOnlyList<string> Correction = ["blower_tap", "filter", "duct", "coil_clean", "charge_added", "charge_removed", "metering", "other"];

    /// <summary>What a reading can be found to be. The causes are all but the first and the last.</summary>
    public static readonly IReadOnlyList<string> Finding =
    [
        "in_line", "airflow_high", "airflow_low", "charge_low", "charge_high", "liquid_restriction",
        "condenser_airflow_low", "noncondensables", "compressor_weak", "cannot_judge",
    ];

    /// <summary>What crews are compared by at first follow-ups: findings as found by cause, and corrections.</summary>
    public static readonly IReadOnlyList<string> Compared =
        ["airflow", "airflow_high", "airflow_low", "charge", "charge_high", "charge_low", "airflow_corrected", "charge_corrected"];

    /// <summary>Recurring mistakes that are looked for, each where the work invites it.</summary>
    public static readonly IReadOnlyList<string> Habit =
    [
        "tap_high_on_small", "air_short_in_attic", "long_line_short", "orifice_overcharged", "overcharged_in_mild", "undercharged_in_heat",
        "filter_left", "read_early", "no_wet_bulb",
    ];

    /// <summary>How a crew stands against what its work lets expect.</summary>
    public static readonly IReadOnlyList<string> Standing = ["more", "as_expected", "fewer", "too_few_installs"];
    public static readonly IReadOnlyList<string> SheetPart = ["goes_well", "to_change"];

    /// <summary>How a visit ended, comparing as found with as left.</summary>
    public static readonly IReadOnlyList<string> Outcome = ["cured", "better", "no_change", "worse", "cannot_judge"];

    /// <summary>What is to be done about an install without a follow-up.</summary>
    public static readonly IReadOnlyList<string> VisitNeed = ["visit", "later", "not_needed", "cannot_judge"];

    /// <summary>How visits were chosen: by the solver, by insertion where there is none, or as a plain ranking without coordinates.</summary>
    public static readonly IReadOnlyList<string> PlannedBy = ["solver", "insertion", "ranking"];

    /// <summary>Season of a visit by calendar month: winter is December to February.</summary>
    public static readonly IReadOnlyList<string> Season = ["winter", "spring", "summer", "autumn"];

    /// <summary>Why a single value was set aside.</summary>
    public static readonly IReadOnlyList<string> SetAside =
    [
        "not_a_number", "unknown_code", "out_of_range", "unit_slip", "decimal_slip", "wet_bulb_over_dry_bulb",
        "pressures_crossed", "supply_return_crossed", "lines_crossed", "wet_bulbs_crossed", "not_a_date",
    ];

    /// <summary>Why a whole row was rejected.</summary>
    public static readonly IReadOnlyList<string> Rejected =
    [
        "wrong_number_of_fields", "broken_quotes", "not_json", "undecodable_text", "missing_identity", "bad_identity",
        "bad_time", "not_a_data_row", "too_long",
    ];
}
