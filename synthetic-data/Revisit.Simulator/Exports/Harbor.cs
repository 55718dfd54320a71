using System.Globalization;
using System.Text;

namespace Revisit.Simulator.Exports;

/// <summary>Comma-separated UTF-8 with BOM: US units and dates, local clock, preamble, notes over several lines, a private phone.</summary>
internal static class Harbor
{
    private const string Clock = "M/d/yyyy h:mm tt";

    private static readonly (string, string)[] Actions =
    [
        ("blower_tap", "speed"), ("filter", "filter"), ("duct", "ducts"), ("coil_clean", "coil wash"), ("charge_added", "added gas"),
        ("charge_removed", "took gas out"), ("metering", "valve"), ("other", "misc"),
    ];

    public static ExportShape Shape(Fleet fleet)
    {
        var zone = fleet.Zone(Scenario.Branches[0]);
        static string N(double value, string format) => Cell.Number(value, format);
        ExportColumn[] columns =
        [
            new("Ticket", "visit_id", r => r.VisitId),
            new("Seq", "reading_no", r => N(r.ReadingNo, "0")),
            new("Unit ID", "install_id", r => r.InstallId),
            new("Taken at", "visited_at", r => Cell.Local(r.VisitedAt, zone, Clock)),
            new("Reason", "visit_kind", r => Cell.Word(r.VisitKind, ("commissioning", "Start up"), ("quality_check", "Second look"), ("callback", "Complaint"), ("maintenance", "Tune-up"))),
            new("Crew code", "crew_id", r => r.CrewId),
            new("Tech code", "technician_id", r => r.TechnicianId),
            new("Contact phone", "private", r => string.Create(CultureInfo.InvariantCulture, $"555-01{StableDigits(r.InstallId):00}")),
            new("Before/After", "phase", r => Cell.Word(r.Phase, ("as_found", "before"), ("interim", "between"), ("as_left", "after"))),
            new("Size (tons)", "nominal_tons", r => N(r.Install.NominalTons, "0.0")),
            new("Rated Btu/h", "rated_cooling_btuh", r => N(r.Install.RatedCoolingBtuh, "#,##0")),
            new("Gas", "refrigerant", r => r.Install.Refrigerant.Replace("-", "", StringComparison.Ordinal)),
            new("Expansion", "metering", r => Cell.Word(r.Install.Metering, ("txv", "TX valve"), ("eev", "electronic"), ("fixed_orifice", "fixed"))),
            new("Subcool goal", "target_subcooling_f", r => N(r.Install.TargetSubcoolingF, "0")),
            new("Lines ft", "line_set_ft", r => N(r.Install.LineSetFt, "0")),
            new("Fan motor", "blower_motor", r => Cell.Word(r.Install.BlowerMotor, ("psc", "PSC"), ("constant_torque", "CT"), ("constant_airflow", "CAF"))),
            new("Duct run", "duct_location", r => Cell.Word(r.Install.DuctLocation, ("attic", "Attic"), ("crawlspace", "Under floor"), ("basement", "Bsmt"), ("garage", "Gar"), ("indoors", "Living space"))),
            new("Started up on", "installed_on", r => Cell.Day(r.Install.InstalledOn, "M/d/yyyy")),
            new("Run min", "minutes_running", r => N(r.MinutesRunning, "0")),
            new("Fan speed", "blower_tap", r => r.BlowerTap ?? ""),
            new("Filter seen", "filter_state", r => Cell.Word(r.FilterState, ("clean", "OK"), ("fair", "used"), ("loaded", "plugged"), ("missing", "none"))),
            new("Outside °F", "outdoor_db_f", r => N(r.OutdoorDbF, "0.0")),
            new("Return wet °F", "return_wb_f", r => N(r.ReturnWbF, "0.0")),
            new("Return dry °F", "return_db_f", r => N(r.ReturnDbF, "0.0")),
            new("Return RH", "return_rh_pct", r => N(r.ReturnRhPct, "0")),
            new("Supply dry °F", "supply_db_f", r => N(r.SupplyDbF, "0.0")),
            new("Low side", "suction_pressure_psig", r => N(r.SuctionPressurePsig, "0")),
            new("Big pipe °F", "suction_line_f", r => N(r.SuctionLineF, "0.0")),
            new("High side", "liquid_pressure_psig", r => N(r.LiquidPressurePsig, "0")),
            new("Small pipe °F", "liquid_line_f", r => N(r.LiquidLineF, "0.0")),
            new("ESP", "external_static_inwc", r => N(r.ExternalStaticInwc, "0.00")),
            new("Measured cfm", "airflow_cfm", r => N(r.AirflowCfm, "#,##0")),
            new("Action", "correction", r => Cell.Words(r.Correction, Actions)),
            new("Was", "correction_from", r => r.CorrectionFrom ?? ""),
            new("Now", "correction_to", r => r.CorrectionTo ?? ""),
            new("Gas oz", "charge_change_oz", r => N(r.ChargeChangeOz, "0")),
            new("Remarks", "notes", Remark),
            new("Edited at", "saved_at", r => Cell.Local(r.SavedAt, zone, Clock)),
        ];
        (string, string)[] Saved(DateTime utc) => [("Edited at", Cell.Local(utc, zone, Clock))];
        string Line(IEnumerable<string> cells) => string.Join(',', cells.Select(c => PlainCsv.Quoted(c)));
        return new ExportShape(
            "harbor.csv", new UTF8Encoding(true), "\r\n", columns, ["Harbor branch readings (invented)", "\"Printed 11/2/2026, office copy\"", Line(columns.Select(c => c.Heading))],
            row => Line(row.Cut ? row.Cells.Take(20) : row.Cells), ["End of list"],
        [
            new(1, (s, at) => s.Replace(at, "suction_line_f", "out_of_range", _ => "999.9")),
            new(5, (s, at) => s.Swap(at, "return_wb_f", "return_db_f", "wet_bulb_over_dry_bulb")),
            new(9, (s, at) => s.Swap(at, "suction_pressure_psig", "liquid_pressure_psig", "pressures_crossed")),
            new(12, (s, at) => s.Replace(at, "filter_state", "unknown_code", _ => "???")),
            new(14, (s, at) => s.Replace(at, "liquid_pressure_psig", "unit_slip", r => N(r.LiquidPressurePsig * 6.894757, "0"))),
            new(19, (s, at) => s.Replace(at, "supply_db_f", "decimal_slip", r => N(r.SupplyDbF * 10, "0"))),
            new(22, (s, at) => s.Replace(at, "visit_id", "missing_identity", _ => "")),
            new(24, (s, at) => s.Replace(at, "outdoor_db_f", "not_a_number", _ => "broken probe")),
            new(26, (s, at) => s.Replace(at, "visited_at", "bad_time", _ => "2/31/2026 9:15 AM")),
            new(28, (s, at) => s.Cut(at, "wrong_number_of_fields")),
            new(32, (s, at) => s.Duplicate(at)),
            new(34, (s, at) => s.Swap(at, "supply_db_f", "return_db_f", "supply_return_crossed")),
            new(36, (s, at) => s.SaveAgain(at, "liquid_line_f", row => N(row.Reading.LiquidLineF + 3.1, "0.0"), r => Saved(r.SavedAt.AddMinutes(95)))),
        ])
        {
            Delimiter = ',',
            BadTimes = ["2/31/2026 9:15 AM", "13/7/2026 9:15 AM", "3/8/2026 2:30 AM", "yesterday", "7/14/1926 9:15 AM", "7/14 9:15", "2026"],
            BadDays = ["13/45/2026", "4/31/2026", "spring", "2/29/2025", "0/0/0000"],
            Saved = Saved,
        };
    }

    private static string Remark(SimulatedReading r) => (r.Notes, StableDigits(r.VisitId) % 6) switch
    {
        (null, 0) => "Met at side door.\nOld unit hauled off, \"pad reused\".",
        (null, _) => "",
        var (notes, _) => notes + ",\nsee sketch",
    };

    private static int StableDigits(string id) => id.Aggregate(7, (sum, c) => (sum * 31 + c) % 9973) % 100;
}
