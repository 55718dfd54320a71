using System.Globalization;
using System.Text;
using Revisit.Records;

namespace Revisit.Simulator;

/// <summary>Plain reading rows as CSV: every column of the contract in its order, UTF-8, LF, numbers invariant, empty where missing.</summary>
public static class PlainCsv
{
    private delegate void Field(SimulatedReading row, StringBuilder line);

    private static readonly Field[] Fields = [.. Tables.PlainColumns.Select(Of)];

    /// <summary>Writes the heading and a line a row.</summary>
    /// <returns>Rows written.</returns>
    public static long Write(TextWriter writer, IEnumerable<SimulatedReading> rows)
    {
        WriteHeading(writer);
        var line = new StringBuilder(700);
        var count = 0L;
        foreach (var row in rows)
        {
            WriteRow(writer, line, row);
            count++;
        }

        return count;
    }

    internal static void WriteHeading(TextWriter writer)
    {
        writer.Write(string.Join(',', Tables.PlainColumns));
        writer.Write('\n');
    }

    internal static void WriteRow(TextWriter writer, StringBuilder line, SimulatedReading row)
    {
        line.Clear();
        for (var i = 0; i < Fields.Length; i++)
        {
            if (i > 0)
                line.Append(',');
            Fields[i](row, line);
        }

        line.Append('\n');
        foreach (var chunk in line.GetChunks())
            writer.Write(chunk.Span);
    }

    /// <summary>A text as a CSV field: quoted where it holds a comma, a quote or a line break.</summary>
    internal static string Quoted(string text, char delimiter = ',') =>
        text.AsSpan().IndexOfAny(delimiter, '"', '\n') < 0 && !text.Contains('\r', StringComparison.Ordinal)
            ? text
            : "\"" + text.Replace("\"", "\"\"", StringComparison.Ordinal) + "\"";

    /// <summary>The cell of a plain column, not quoted.</summary>
    internal static Func<SimulatedReading, string> CellOf(string column)
    {
        var field = Of(column);
        return row =>
        {
            var cell = new StringBuilder();
            field(row, cell);
            return cell.Length > 0 && cell[0] == '"' ? cell.ToString(1, cell.Length - 2).Replace("\"\"", "\"", StringComparison.Ordinal) : cell.ToString();
        };
    }

    private static Field Of(string column)
    {
        Field Text(Func<SimulatedReading, string?> of) => (row, line) =>
        {
            if (of(row) is { } text)
                line.Append(Quoted(text));
        };
        Field Number(Func<SimulatedReading, double> of, string format) => (row, line) =>
        {
            var value = of(row);
            if (double.IsNaN(value))
                return;
            Span<char> buffer = stackalloc char[32];
            value.TryFormat(buffer, out var written, format, CultureInfo.InvariantCulture);
            line.Append(buffer[..written]);
        };
        Field Instant(Func<SimulatedReading, DateTime> of) => (row, line) => line.Append(CultureInfo.InvariantCulture, $"{of(row):yyyy-MM-dd'T'HH:mm:ss'Z'}");

        return column switch
        {
            "visit_id" => Text(r => r.VisitId),
            "reading_no" => Number(r => r.ReadingNo, "0"),
            "install_id" => Text(r => r.InstallId),
            "crew_id" => Text(r => r.CrewId),
            "visit_kind" => Text(r => r.VisitKind),
            "visited_at" => Instant(r => r.VisitedAt),
            "technician_id" => Text(r => r.TechnicianId),
            "installed_on" => (row, line) => line.Append(CultureInfo.InvariantCulture, $"{row.Install.InstalledOn:yyyy-MM-dd}"),
            "nominal_tons" => Number(r => r.Install.NominalTons, "0.#"),
            "rated_cooling_btuh" => Number(r => r.Install.RatedCoolingBtuh, "0"),
            "rated_eer" => Number(r => r.Install.RatedEer, "0.0"),
            "refrigerant" => Text(r => r.Install.Refrigerant),
            "metering" => Text(r => r.Install.Metering),
            "target_subcooling_f" => Number(r => r.Install.TargetSubcoolingF, "0.#"),
            "target_superheat_f" => Number(r => r.Install.TargetSuperheatF, "0.#"),
            "line_set_ft" => Number(r => r.Install.LineSetFt, "0"),
            "blower_motor" => Text(r => r.Install.BlowerMotor),
            "duct_location" => Text(r => r.Install.DuctLocation),
            "indoor_unit" => Text(r => r.Install.IndoorUnit),
            "outdoor_unit" => Text(r => r.Install.OutdoorUnit),
            "design_airflow_cfm" => Number(r => r.Install.DesignAirflowCfm, "0"),
            "supply_runs" => Number(r => r.Install.SupplyRuns, "0"),
            "region" => Text(r => r.Install.Region),
            "elevation_ft" => Number(r => r.Install.ElevationFt, "0"),
            "latitude" => Number(r => r.Install.Latitude, "0.0000"),
            "longitude" => Number(r => r.Install.Longitude, "0.0000"),
            "phase" => Text(r => r.Phase),
            "minutes_running" => Number(r => r.MinutesRunning, "0"),
            "blower_tap" => Text(r => r.BlowerTap),
            "filter_state" => Text(r => r.FilterState),
            "outdoor_db_f" => Number(r => r.OutdoorDbF, "0.0"),
            "return_db_f" => Number(r => r.ReturnDbF, "0.0"),
            "return_wb_f" => Number(r => r.ReturnWbF, "0.0"),
            "return_rh_pct" => Number(r => r.ReturnRhPct, "0"),
            "supply_db_f" => Number(r => r.SupplyDbF, "0.0"),
            "supply_wb_f" => Number(r => r.SupplyWbF, "0.0"),
            "supply_rh_pct" => Number(r => r.SupplyRhPct, "0"),
            "suction_pressure_psig" => Number(r => r.SuctionPressurePsig, "0.0"),
            "liquid_pressure_psig" => Number(r => r.LiquidPressurePsig, "0.0"),
            "suction_line_f" => Number(r => r.SuctionLineF, "0.0"),
            "liquid_line_f" => Number(r => r.LiquidLineF, "0.0"),
            "discharge_line_f" => Number(r => r.DischargeLineF, "0.0"),
            "external_static_inwc" => Number(r => r.ExternalStaticInwc, "0.00"),
            "return_static_inwc" => Number(r => r.ReturnStaticInwc, "0.00"),
            "supply_static_inwc" => Number(r => r.SupplyStaticInwc, "0.00"),
            "airflow_cfm" => Number(r => r.AirflowCfm, "0"),
            "airflow_method" => Text(r => r.AirflowMethod),
            "system_power_w" => Number(r => r.SystemPowerW, "0"),
            "blower_power_w" => Number(r => r.BlowerPowerW, "0"),
            "correction" => Text(r => r.Correction),
            "correction_from" => Text(r => r.CorrectionFrom),
            "correction_to" => Text(r => r.CorrectionTo),
            "charge_change_oz" => Number(r => r.ChargeChangeOz, "0"),
            "notes" => Text(r => r.Notes),
            "saved_at" => Instant(r => r.SavedAt),
            _ => throw new InvalidOperationException($"the simulator does not know how to write the plain column '{column}'"),
        };
    }
}
