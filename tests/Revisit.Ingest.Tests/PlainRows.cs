using Revisit.Records;

namespace Revisit.Ingest.Tests;

/// <summary>Plain reading rows of an invented system running well, as CSV; a test changes what it is about.</summary>
internal static class PlainRows
{
    private static readonly Dictionary<string, string> Sound = new()
    {
        ["visit_id"] = "V1",
        ["reading_no"] = "1",
        ["install_id"] = "I1",
        ["crew_id"] = "C1",
        ["visit_kind"] = "maintenance",
        ["visited_at"] = "2026-07-14T15:00:00Z",
        ["nominal_tons"] = "3",
        ["refrigerant"] = "R-410A",
        ["metering"] = "txv",
        ["phase"] = "as_found",
        ["minutes_running"] = "20",
        ["outdoor_db_f"] = "88",
        ["return_db_f"] = "76",
        ["return_wb_f"] = "63",
        ["supply_db_f"] = "57",
        ["suction_pressure_psig"] = "125",
        ["liquid_pressure_psig"] = "340",
        ["suction_line_f"] = "54",
        ["liquid_line_f"] = "95",
        ["external_static_inwc"] = "0.6",
        ["notes"] = "all quiet",
    };

    /// <summary>Heading line of the contract.</summary>
    public static string Heading { get; } = string.Join(',', Tables.PlainColumns) + "\n";

    /// <summary>One row; "" empties a column.</summary>
    public static string Row(params (string Column, string Value)[] changes)
    {
        var values = new Dictionary<string, string>(Sound);
        foreach (var (column, value) in changes)
        {
            Assert.Contains(column, Tables.PlainColumns);
            values[column] = value;
        }

        return string.Join(',', Tables.PlainColumns.Select(c => Cell(values.GetValueOrDefault(c, "")))) + "\n";
    }

    /// <summary>A whole file of rows.</summary>
    public static string Csv(params string[] rows) => Heading + string.Concat(rows);

    private static string Cell(string text) => text.AsSpan().IndexOfAny(",\"\r\n") < 0 ? text : "\"" + text.Replace("\"", "\"\"", StringComparison.Ordinal) + "\"";
}
