using System.Globalization;

namespace Benchmarks;

/// <summary>A plain CSV of 45 columns for timing only: plausible numbers, no physics in them.</summary>
internal static class PlainCsvFile
{
    /// <summary>The columns, in order.</summary>
    public static readonly string[] Columns =
    [
        "visit_id", "reading_no", "install_id", "crew_id", "visit_kind", "visited_at", "technician_id", "installed_on", "nominal_tons", "rated_cooling_btuh",
        "rated_eer", "refrigerant", "metering", "target_subcooling_f", "line_set_ft", "blower_motor", "duct_location", "indoor_unit", "outdoor_unit",
        "design_airflow_cfm", "supply_runs", "region", "elevation_ft", "phase", "minutes_running", "blower_tap", "filter_state", "outdoor_db_f", "return_db_f",
        "return_wb_f", "supply_db_f", "suction_pressure_psig", "liquid_pressure_psig", "suction_line_f", "liquid_line_f", "external_static_inwc", "airflow_cfm",
        "airflow_method", "system_power_w", "blower_power_w", "correction", "charge_change_oz", "notes", "saved_at", "discharge_line_f",
    ];

    private static readonly string[] Kinds = ["commissioning", "quality_check", "callback", "maintenance"], Refrigerants = ["R-410A", "R-454B", "R-32"],
        Meterings = ["txv", "eev", "fixed_orifice"], Motors = ["psc", "constant_torque", "constant_airflow"], Ducts = ["attic", "crawlspace", "indoors"],
        Taps = ["low", "medium", "medium-high", "high"], Filters = ["clean", "fair", "loaded"], Notes = ["", "", "all good", "attic was hot, quick visit", "left before it settled"];

    /// <summary>Writes <paramref name="rows"/> readings over 24 months, about 2.5 an install.</summary>
    public static void Write(string path, int rows)
    {
        using var writer = new StreamWriter(path, false, new System.Text.UTF8Encoding(false), 1 << 20);
        writer.Write(string.Join(',', Columns) + "\n");
        ulong state = 20_261_031;
        ulong Next()
        {
            // SplitMix64.
            state += 0x9E3779B97F4A7C15;
            var z = state;
            z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
            z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
            return z ^ (z >> 31);
        }

        double Between(double low, double high) => low + (high - low) * (Next() >> 11) * (1.0 / (1UL << 53));
        T Pick<T>(T[] from) => from[Next() % (ulong)from.Length];
        var start = new DateTime(2024, 11, 1, 8, 0, 0, DateTimeKind.Utc);
        var at = start;
        for (var i = 0; i < rows; i++)
        {
            // Two readings a visit, twenty minutes apart; five visits for four installs.
            var install = i / 2 * 4 / 5;
            at = i % 2 == 0 ? start.AddMinutes(Between(0, 730.0 * 24 * 60)) : at.AddMinutes(20);
            var outdoor = Between(60, 100);
            FormattableString row = $"V{i / 2:0000000},{i % 2 + 1},I{install:0000000},K{install % 40:00},{Pick(Kinds)},{at:yyyy-MM-ddTHH:mm:ssZ},T{Next() % 90:00},{at.AddDays(-(double)(Next() % 200)):yyyy-MM-dd},{1.5 + install % 8 * 0.5:0.0},{18000 + install % 8 * 6000},{Between(10, 13):0.0},{Pick(Refrigerants)},{Pick(Meterings)},{8 + install % 5},{Between(10, 80):0},{Pick(Motors)},{Pick(Ducts)},furnace_coil,air_conditioner,{600 + install % 8 * 200},{6 + install % 9},north,{install % 5 * 900},{(i % 2 == 0 ? "as_found" : "as_left")},{Between(15, 40):0},{Pick(Taps)},{Pick(Filters)},{outdoor:0.0},{Between(71, 79):0.0},{Between(58, 67):0.0},{Between(50, 60):0.0},{Between(100, 140):0},{outdoor * 3.2 + Between(20, 60):0},{Between(45, 65):0.0},{outdoor + Between(4, 12):0.0},{Between(0.3, 0.9):0.00},{Between(600, 1900):0},flow_grid,{Between(1500, 4500):0},{Between(200, 700):0},{(i % 9 == 0 ? "blower_tap" : "")},{(i % 17 == 0 ? "6.5" : "")},{Pick(Notes) switch { { Length: > 0 } note => "\"" + note + "\"", _ => "" }},{at.AddMinutes(30):yyyy-MM-ddTHH:mm:ssZ},{Between(150, 200):0.0}\n";
            writer.Write(row.ToString(CultureInfo.InvariantCulture));
        }
    }
}
