using System.Text;
using Revisit.Records;

namespace Revisit.Simulator.Exports;

/// <summary>Tabs, UTF-16 little-endian with BOM, kelvin and absolute MPa, day and clock in two columns, codes in capitals.</summary>
internal static class Prairie
{
    private static readonly (string, string)[] Actions =
    [
        ("blower_tap", "TAP"), ("filter", "FILT"), ("duct", "DUCT"), ("coil_clean", "COIL"), ("charge_added", "CHG_UP"),
        ("charge_removed", "CHG_DN"), ("metering", "METER"), ("other", "OTH"),
    ];

    public static ExportShape Shape(Fleet fleet)
    {
        var zone = fleet.Zone(Scenario.Branches[3]);
        static string N(double value, string format) => Cell.Number(value, format);
        static string K(double f) => N(Cell.Kelvin(f), "0.00");
        static string Mpa(double psig, SimulatedReading r) => N(Cell.Absolute(psig, r) / 1e6, "0.0000");
        ExportColumn[] columns =
        [
            new("SYS", "install_id", r => r.InstallId),
            new("VIS", "visit_id", r => r.VisitId),
            new("RD", "reading_no", r => N(r.ReadingNo, "0")),
            new("VDAY", "visited_at", r => Cell.Local(r.VisitedAt, zone, "yyyy-MM-dd")),
            new("VCLK", "visited_at_clock", r => Cell.Local(r.VisitedAt, zone, "HH:mm")),
            new("SDAY", "saved_at", r => Cell.Local(r.SavedAt, zone, "yyyy-MM-dd")),
            new("SCLK", "saved_at_clock", r => Cell.Local(r.SavedAt, zone, "HH:mm")),
            new("WHY", "visit_kind", r => Cell.Word(r.VisitKind, ("commissioning", "COMM"), ("quality_check", "QC"), ("callback", "CB"), ("maintenance", "PM"))),
            new("STEP", "phase", r => Cell.Word(r.Phase, ("as_found", "AF"), ("interim", "IM"), ("as_left", "AL"))),
            new("CRW", "crew_id", r => r.CrewId),
            new("TEC", "technician_id", r => r.TechnicianId),
            new("IDAY", "installed_on", r => Cell.Day(r.Install.InstalledOn, "yyyy-MM-dd")),
            new("TONS", "nominal_tons", r => N(r.Install.NominalTons, "0.0")),
            new("REFR", "refrigerant", r => r.Install.Refrigerant.ToUpperInvariant()),
            new("MTR", "metering", r => Cell.Word(r.Install.Metering, ("txv", "TXV"), ("eev", "EEV"), ("fixed_orifice", "FO"))),
            new("SC_SET_K", "target_subcooling_f", r => N(r.Install.TargetSubcoolingF / 1.8, "0.00")),
            new("LSET_FT", "line_set_ft", r => N(r.Install.LineSetFt, "0")),
            new("BLWR", "blower_motor", r => Cell.Word(r.Install.BlowerMotor, ("psc", "PSC"), ("constant_torque", "CTQ"), ("constant_airflow", "CAF"))),
            new("DLOC", "duct_location", r => Cell.Word(r.Install.DuctLocation, ("attic", "ATT"), ("crawlspace", "CRW"), ("basement", "BSM"), ("garage", "GAR"), ("indoors", "IND"))),
            new("ELEV_FT", "elevation_ft", r => N(r.Install.ElevationFt, "0")),
            new("RUN_MIN", "minutes_running", r => N(r.MinutesRunning, "0")),
            new("T_RET_DB", "return_db_f", r => K(r.ReturnDbF)),
            new("T_RET_WB", "return_wb_f", r => K(r.ReturnWbF)),
            new("RH_RET", "return_rh_pct", r => N(r.ReturnRhPct, "0")),
            new("T_SUP_DB", "supply_db_f", r => K(r.SupplyDbF)),
            new("T_OUT", "outdoor_db_f", r => K(r.OutdoorDbF)),
            new("P_LIQ", "liquid_pressure_psig", r => Mpa(r.LiquidPressurePsig, r)),
            new("T_LIQ", "liquid_line_f", r => K(r.LiquidLineF)),
            new("P_SUC", "suction_pressure_psig", r => Mpa(r.SuctionPressurePsig, r)),
            new("T_SUC", "suction_line_f", r => K(r.SuctionLineF)),
            new("ESP_PA", "external_static_inwc", r => N(r.ExternalStaticInwc * Units.PascalPerInchWater, "0")),
            new("TAP", "blower_tap", r => (r.BlowerTap ?? "").ToUpperInvariant()),
            new("FILT", "filter_state", r => Cell.Word(r.FilterState, ("clean", "C"), ("fair", "F"), ("loaded", "L"), ("missing", "M"))),
            new("ACT", "correction", r => Cell.Words(r.Correction, Actions)),
            new("ACT_FROM", "correction_from", r => (r.CorrectionFrom ?? "").ToUpperInvariant()),
            new("ACT_TO", "correction_to", r => (r.CorrectionTo ?? "").ToUpperInvariant()),
            new("CHG_OZ", "charge_change_oz", r => N(r.ChargeChangeOz, "0")),
            new("TXT", "notes", r => r.Notes ?? ""),
        ];
        (string, string)[] Saved(DateTime utc) => [("SDAY", Cell.Local(utc, zone, "yyyy-MM-dd")), ("SCLK", Cell.Local(utc, zone, "HH:mm"))];
        return new ExportShape(
            "prairie.tsv", new UnicodeEncoding(bigEndian: false, byteOrderMark: true), "\r\n", columns, [string.Join('\t', columns.Select(c => c.Heading))],
            row => string.Join('\t', row.Cut ? row.Cells.Take(18) : row.Cells), ["** END OF EXTRACT **"],
        [
            new(1, (s, at) => s.Replace(at, "suction_line_f", "out_of_range", _ => "999.90")),
            new(4, (s, at) => s.Swap(at, "return_db_f", "return_wb_f", "wet_bulb_over_dry_bulb")),
            new(10, (s, at) => s.Swap(at, "liquid_pressure_psig", "suction_pressure_psig", "pressures_crossed")),
            new(13, (s, at) => s.Replace(at, "filter_state", "unknown_code", _ => "??")),
            new(15, (s, at) => s.Replace(at, "liquid_pressure_psig", "unit_slip", r => N(Cell.Absolute(r.LiquidPressurePsig, r) / 1_000, "0"))),
            new(17, (s, at) => s.Replace(at, "supply_db_f", "not_a_number", _ => "ERR")),
            new(20, (s, at) => s.Replace(at, "outdoor_db_f", "unit_slip", r => N(r.OutdoorDbF, "0.0"))),
            new(22, (s, at) => s.Replace(at, "visited_at", "bad_time", _ => "2026-02-31")),
            new(25, (s, at) => s.Replace(at, "liquid_line_f", "decimal_slip", r => N(Cell.Kelvin(r.LiquidLineF) / 10, "0.000"))),
            new(28, (s, at) => s.Replace(at, "visit_id", "missing_identity", _ => "")),
            new(31, (s, at) => s.Cut(at, "wrong_number_of_fields")),
            new(33, (s, at) => s.Swap(at, "supply_db_f", "return_db_f", "supply_return_crossed")),
            new(35, (s, at) => s.Duplicate(at)),
            new(39, (s, at) => s.SaveAgain(at, "supply_db_f", row => K(row.Reading.SupplyDbF - 1.4), r => Saved(r.SavedAt.AddMinutes(200)))),
        ])
        {
            Delimiter = '\t',
            Units = new Dictionary<string, string> { ["[degF]"] = "K", ["[psi]"] = "MPa", ["[in_i'H2O]"] = "Pa", ["[degR]"] = "K" },
            Absolute = true,
            BadTimes = ["2026-02-31", "2026-13-02", "yesterday", "1926-07-14", "14.07.2026", "20260714"],
            BadDays = ["2026-13-45", "2026-04-31", "SPRING", "2025-02-29", "0000-00-00"],
            Saved = Saved,
        };
    }
}
