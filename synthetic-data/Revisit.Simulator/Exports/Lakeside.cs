using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using Revisit.Records;

namespace Revisit.Simulator.Exports;

/// <summary>One nested JSON document a line: UTC, SI units, absolute kPa, nulls, a private customer block.</summary>
internal static class Lakeside
{
    private static readonly JsonSerializerOptions Plain = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    private static readonly (string, string)[] Actions =
    [
        ("blower_tap", "fan"), ("filter", "filter"), ("duct", "duct"), ("coil_clean", "wash"), ("charge_added", "charge_in"),
        ("charge_removed", "charge_out"), ("metering", "valve"), ("other", "other"),
    ];

    public static ExportShape Shape()
    {
        static string N(double value, string format) => Cell.Number(value, format);
        static string C(double f) => N(Cell.Celsius(f), "0.00");
        static string T(string? text) => string.IsNullOrEmpty(text) ? "" : JsonSerializer.Serialize(text, Plain);
        static string Z(DateTime utc) => "\"" + utc.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture) + "\"";
        static string Kpa(double psig, SimulatedReading r) => N(Cell.Absolute(psig, r) / 1_000, "0.0");
        ExportColumn[] columns =
        [
            new("what.job", "visit_id", r => T(r.VisitId)),
            new("what.pass", "reading_no", r => N(r.ReadingNo, "0")),
            new("what.because", "visit_kind", r => T(Cell.Word(r.VisitKind, ("commissioning", "first_start"), ("quality_check", "audit"), ("callback", "comfort_call"), ("maintenance", "yearly")))),
            new("what.moment", "phase", r => T(Cell.Word(r.Phase, ("as_found", "arrive"), ("interim", "mid"), ("as_left", "leave")))),
            new("when.taken", "visited_at", r => Z(r.VisitedAt)),
            new("when.stored", "saved_at", r => Z(r.SavedAt)),
            new("who.team", "crew_id", r => T(r.CrewId)),
            new("who.person", "technician_id", r => T(r.TechnicianId)),
            new("customer.label", "private", r => T("Customer " + r.InstallId[^3..])),
            new("customer.phone", "private", r => T("555-01" + r.InstallId[^2..])),
            new("system.tag", "install_id", r => T(r.InstallId)),
            new("system.since", "installed_on", r => T(Cell.Day(r.Install.InstalledOn, "yyyy-MM-dd"))),
            new("system.cooling_kw", "nominal_tons", r => N(r.Install.NominalTons * 3.5168528, "0.00")),
            new("system.fluid", "refrigerant", r => T(r.Install.Refrigerant.ToLowerInvariant())),
            new("system.device", "metering", r => T(Cell.Word(r.Install.Metering, ("txv", "bulb_valve"), ("eev", "stepper_valve"), ("fixed_orifice", "orifice")))),
            new("system.subcool_aim_k", "target_subcooling_f", r => N(r.Install.TargetSubcoolingF / 1.8, "0.0")),
            new("system.pipe_m", "line_set_ft", r => N(r.Install.LineSetFt * Units.MetrePerFoot, "0.0")),
            new("system.fan", "blower_motor", r => T(r.Install.BlowerMotor)),
            new("system.ducts", "duct_location", r => T(r.Install.DuctLocation)),
            new("system.height_m", "elevation_ft", r => N(r.Install.ElevationFt * Units.MetrePerFoot, "0")),
            new("air.out", "outdoor_db_f", r => C(r.OutdoorDbF)),
            new("air.back", "return_db_f", r => C(r.ReturnDbF)),
            new("air.back_wet", "return_wb_f", r => C(r.ReturnWbF)),
            new("air.back_rh", "return_rh_pct", r => N(r.ReturnRhPct, "0")),
            new("air.blown", "supply_db_f", r => C(r.SupplyDbF)),
            new("air.blown_wet", "supply_wb_f", r => C(r.SupplyWbF)),
            new("air.esp_pa", "external_static_inwc", r => N(r.ExternalStaticInwc * Units.PascalPerInchWater, "0.0")),
            new("air.flow", "airflow_cfm", r => N(Cell.CubicMetresPerHour(r.AirflowCfm), "0")),
            new("air.flow_by", "airflow_method", r => T(r.AirflowMethod)),
            new("loop.liquid_kpa", "liquid_pressure_psig", r => Kpa(r.LiquidPressurePsig, r)),
            new("loop.suction_kpa", "suction_pressure_psig", r => Kpa(r.SuctionPressurePsig, r)),
            new("loop.liquid_pipe", "liquid_line_f", r => C(r.LiquidLineF)),
            new("loop.suction_pipe", "suction_line_f", r => C(r.SuctionLineF)),
            new("loop.hot_gas_pipe", "discharge_line_f", r => C(r.DischargeLineF)),
            new("set.minutes", "minutes_running", r => N(r.MinutesRunning, "0")),
            new("set.speed", "blower_tap", r => T(r.BlowerTap)),
            new("set.filter", "filter_state", r => T(r.FilterState)),
            new("power.all_w", "system_power_w", r => N(r.SystemPowerW, "0")),
            new("power.fan_w", "blower_power_w", r => N(r.BlowerPowerW, "0")),
            new("done.kind", "correction", r => T(Cell.Words(r.Correction, Actions))),
            new("done.from", "correction_from", r => T(r.CorrectionFrom)),
            new("done.to", "correction_to", r => T(r.CorrectionTo)),
            new("done.grams", "charge_change_oz", r => N(Cell.Grams(r.ChargeChangeOz), "0")),
            new("remark", "notes", r => T(r.Notes)),
        ];
        static (string, string)[] Saved(DateTime utc) => [("when.stored", Z(utc))];
        return new ExportShape(
            "lakeside.ndjson", new UTF8Encoding(false), "\n", columns, [],
            row => Document(columns, row), ["-- sync finished --"],
        [
            new(1, (s, at) => s.Replace(at, "suction_line_f", "out_of_range", _ => "999.90")),
            new(3, (s, at) => s.Swap(at, "return_db_f", "return_wb_f", "wet_bulb_over_dry_bulb")),
            new(7, (s, at) => s.Swap(at, "liquid_pressure_psig", "suction_pressure_psig", "pressures_crossed")),
            new(10, (s, at) => s.Replace(at, "liquid_line_f", "not_a_number", _ => "\"probe fault\"")),
            new(12, (s, at) => s.Replace(at, "liquid_pressure_psig", "unit_slip", r => N(Cell.Absolute(r.LiquidPressurePsig, r) / 1e5, "0.00"))),
            new(16, (s, at) => s.Replace(at, "return_db_f", "decimal_slip", r => N(Cell.Celsius(r.ReturnDbF) * 10, "0.0"))),
            new(18, (s, at) => s.Replace(at, "visit_id", "missing_identity", _ => "")),
            new(20, (s, at) => s.Replace(at, "metering", "unknown_code", _ => "\"???\"")),
            new(22, (s, at) => s.Replace(at, "visited_at", "bad_time", _ => "\"2026-02-31T09:15:00Z\"")),
            new(25, (s, at) => s.Cut(at, "not_json")),
            new(29, (s, at) => s.Duplicate(at)),
            new(31, (s, at) => s.Swap(at, "supply_db_f", "return_db_f", "supply_return_crossed")),
            new(33, (s, at) => s.SaveAgain(at, "suction_line_f", row => C(row.Reading.SuctionLineF + 2.2), r => Saved(r.SavedAt.AddMinutes(61)))),
        ])
        {
            Units = new Dictionary<string, string>
            {
                ["[degF]"] = "Cel",
                ["[psi]"] = "kPa",
                ["[in_i'H2O]"] = "Pa",
                ["[cft_i]/min"] = "m3/h",
                ["[oz_av]"] = "g",
                ["[ft_i]"] = "m",
                ["[ton_refrig]"] = "kW",
                ["[degR]"] = "K",
            },
            Absolute = true,
            BadTimes = ["\"2026-02-31T09:15:00Z\"", "\"14.7.2026 09:15\"", "1784020500", "\"yesterday\"", "\"1926-07-14T09:15:00Z\"", "\"2026-07-14T25:15:00Z\"", "false"],
            BadDays = ["\"2026-13-45\"", "\"2026-04-31\"", "\"spring\"", "\"2025-02-29\"", "\"0000-00-00\"", "20260714"],
            Saved = Saved,
        };
    }

    private static string Document(ExportColumn[] columns, ExportRow row)
    {
        var text = new StringBuilder("{");
        var open = "";
        for (var i = 0; i < columns.Length; i++)
        {
            var path = columns[i].Heading.Split('.');
            var block = path.Length == 2 ? path[0] : "";
            if (block != open)
            {
                text.Append(open.Length > 0 ? "}," : i > 0 ? "," : "").Append(block.Length > 0 ? $"\"{block}\":{{" : "");
                open = block;
            }
            else if (i > 0)
                text.Append(',');
            text.Append('"').Append(path[^1]).Append("\":").Append(row.Cells[i].Length == 0 ? "null" : row.Cells[i]);
        }

        text.Append(open.Length > 0 ? "}}" : "}");
        return row.Cut ? text.ToString(0, text.Length * 3 / 5) : text.ToString();
    }
}
