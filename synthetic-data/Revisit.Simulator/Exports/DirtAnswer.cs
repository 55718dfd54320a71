using System.Globalization;
using Revisit.Records;

namespace Revisit.Simulator.Exports;

/// <summary>
/// What ingest must answer to a piece of dirt. It is judged from the row as written, the contract's ranges and what two probes of ±1 °F may
/// differ by; never from how ingest works. Dirt that leaves a value where a sound one could stand cannot be seen.
/// </summary>
/// <param name="What">set_aside, rejected, duplicate, superseded, accepted, nothing or cannot_be_seen.</param>
/// <param name="Reasons">Reasons that are right, joined by |.</param>
internal readonly record struct DirtAnswer(string What, string Reasons)
{
    /// <summary>Two probes of ±1 °F each: their difference has a standard deviation of about 1.4 °F when sound; twice that is 3.</summary>
    private const double ProbesDiffer = 3;

    /// <summary>How much colder than the outdoor air a sound liquid line may seem, in rain or beside a warm outdoor probe, °F (common practice, no source).</summary>
    private const double LiquidSeemsColder = 8;

    private const string Slips = "unit_slip|decimal_slip|out_of_range";
    private static readonly DirtAnswer Unseen = new("cannot_be_seen", "");

    public static DirtAnswer Of(ExportShape shape, Dirt dirt) => dirt.Kind switch
    {
        DirtKinds.Duplicate => new("duplicate", ""),
        DirtKinds.Superseded => new("superseded", ""),
        DirtKinds.LaterSave => new("accepted", ""),
        DirtKinds.OddWriting => new("nothing", ""),
        "broken_quotes" or "not_a_data_row" when shape.IsJson => new("rejected", "not_json"),
        "not_a_data_row" => new("rejected", "not_a_data_row|missing_identity|bad_identity|bad_time"),
        ExportSheet.RestOfRow => new("rejected", "wrong_number_of_fields|not_a_data_row|broken_quotes|too_long"),
        "unit_slip" or "decimal_slip" or "out_of_range" => Nomenclature.Of(dirt.Plain).Allows(Value(shape, dirt.Row, dirt.Plain)) ? Unseen : new("set_aside", Slips),
        "pressures_crossed" => Over(shape, dirt, "suction_pressure_psig", "liquid_pressure_psig", 0),
        "supply_return_crossed" => Over(shape, dirt, "supply_db_f", "return_db_f", ProbesDiffer),
        "wet_bulbs_crossed" => Over(shape, dirt, "supply_wb_f", "return_wb_f", ProbesDiffer),

        // Each line alone can seem wrong on a sound system; heat that flows the wrong way in both cannot.
        "lines_crossed" when !Exceeds(shape, dirt, "outdoor_db_f", "liquid_line_f", LiquidSeemsColder) || !Exceeds(shape, dirt, "suction_line_f", "outdoor_db_f", ProbesDiffer)
            || !Exceeds(shape, dirt, "suction_line_f", "return_db_f", ProbesDiffer) => Unseen,

        // Of a wet and a dry bulb that were exchanged only the wet bulb must go: which of the two is wrong cannot be seen.
        "wet_bulb_over_dry_bulb" when dirt.Plain.EndsWith("_db_f", StringComparison.Ordinal) => Unseen,
        "wet_bulb_over_dry_bulb" => Over(shape, dirt, dirt.Plain, dirt.Plain.Replace("_wb_", "_db_", StringComparison.Ordinal), ProbesDiffer),
        _ => new(Codes.Rejected.Contains(dirt.Kind) ? "rejected" : "set_aside", dirt.Reasons ?? dirt.Kind),
    };

    /// <summary>The number a cell reads as in the contract's unit; NaN when it holds none.</summary>
    public static double Value(ExportShape shape, ExportRow row, string plain)
    {
        // Quoted, with a sign, spaces or zeros that change nothing, or its unit's mark.
        var cell = row.Cells[shape.At(plain)].Trim('"', ' ', '°', '%', '+').Replace('\u2212', '-');
        return Nomenclature.TryFind(plain, out var term) && term.Kind == ColumnKind.Number ? shape.Contract(row, plain, shape.Read(cell)) : double.NaN;
    }

    /// <summary>The key's row for a piece of dirt, but for the line it stands on: column, kind, source column, raw value, what it reads as, answer, reasons.</summary>
    public static string Keyed(ExportShape shape, Dirt dirt)
    {
        var answer = Of(shape, dirt);
        var (heading, raw, reads) = ("", "", "");
        if (dirt.Plain.Length > 0)
        {
            heading = shape.Columns[shape.At(dirt.Plain)].Heading;
            raw = Raw(shape, dirt.Row, dirt.Plain);
            reads = Value(shape, dirt.Row, dirt.Plain) is var value && double.IsNaN(value) ? "" : value.ToString("0.####", CultureInfo.InvariantCulture);
        }

        return string.Join(',', new[] { dirt.Plain, dirt.Kind, heading, raw, reads, answer.What, answer.Reasons }.Select(c => PlainCsv.Quoted(c)));
    }

    private static string Raw(ExportShape shape, ExportRow row, string plain)
    {
        var cell = row.Cells[shape.At(plain)];
        cell = shape.IsJson && cell.StartsWith('"') && !cell.Contains(DirtKinds.RawQuote) ? System.Text.Json.JsonSerializer.Deserialize<string>(cell)! : cell;
        cell = cell.Replace(DirtKinds.RawQuote, '"').Replace(DirtKinds.BadBytes, '\uFFFD');
        return shape.At(plain + "_clock") is var clock and >= 0 ? cell + " " + row.Cells[clock] : cell;
    }

    private static bool Exceeds(ExportShape shape, Dirt dirt, string one, string other, double margin) =>
        Value(shape, dirt.Row, one) > Value(shape, dirt.Row, other) + margin;

    private static DirtAnswer Over(ExportShape shape, Dirt dirt, string low, string high, double margin) =>
        !Exceeds(shape, dirt, low, high, margin) ? Unseen
        : new("set_aside", Nomenclature.Of(dirt.Plain).Allows(Value(shape, dirt.Row, dirt.Plain)) ? dirt.Kind : dirt.Kind + "|" + Slips);
}
