using System.Globalization;
using Revisit.Records;

namespace Revisit.Simulator.Exports;

/// <summary>
/// Every kind of dirt an export can bear, each put on rows as it comes about: any column that holds a value, a whole instrument in a wrong
/// unit, a mark left out. The names are the contract's reasons for a rejected row or a value set aside, and four for what ingest must see
/// without either.
/// </summary>
public static class DirtKinds
{
    /// <summary>A row that stands twice.</summary>
    public const string Duplicate = "exact_duplicate";

    /// <summary>A row saved again later with another value; the key calls the second <see cref="LaterSave"/>.</summary>
    public const string Superseded = "superseded";

    /// <summary>The later save of a row, which stands.</summary>
    public const string LaterSave = "later_save";

    /// <summary>A value written in a way that looks odd and means what it says.</summary>
    public const string OddWriting = "odd_writing";

    /// <summary>In an export, a quotation mark that is not doubled, and bytes no text of its encoding holds.</summary>
    internal const char RawQuote = '\uE000', BadBytes = '\uE001';

    /// <summary>A row longer than ingest takes is this long, in characters.</summary>
    private const int TooLong = (1 << 20) + 10;

    private static readonly string[] Junk = ["broken probe", "ERR", "#REF!", "9O", "--", "n/a", "<5", "12.3.4", "1,2", "72 F", "?", "NaN", "Infinity"];
    private static readonly string[] Sentinels = ["999.9", "-999.9", "9999", "0", "-1", "-5", "150000"];
    private static readonly string[] Identities = ["visit_id", "install_id", "crew_id"];

    private static readonly Dictionary<string, Action<ExportShape, ExportSheet, int, Rng>> Puts = new()
    {
        ["not_a_number"] = NotANumber,
        ["unknown_code"] = UnknownCode,
        ["not_a_date"] = NotADate,
        ["out_of_range"] = OutOfRange,
        ["unit_slip"] = UnitSlip,
        ["decimal_slip"] = DecimalSlip,
        ["wet_bulb_over_dry_bulb"] = WetBulb,
        ["pressures_crossed"] = (shape, sheet, at, _) => Swap(shape, sheet, at, "suction_pressure_psig", "liquid_pressure_psig", "pressures_crossed"),
        ["supply_return_crossed"] = (shape, sheet, at, _) => Swap(shape, sheet, at, "supply_db_f", "return_db_f", "supply_return_crossed"),
        ["lines_crossed"] = (shape, sheet, at, _) => Swap(shape, sheet, at, "suction_line_f", "liquid_line_f", "lines_crossed"),
        ["wet_bulbs_crossed"] = (shape, sheet, at, _) => Swap(shape, sheet, at, "supply_wb_f", "return_wb_f", "wet_bulbs_crossed"),
        ["missing_identity"] = MissingIdentity,
        ["bad_identity"] = BadIdentity,
        ["undecodable_text"] = Undecodable,
        ["bad_time"] = (shape, sheet, at, rng) => sheet.Replace(at, "visited_at", "bad_time", _ => One(rng, shape.BadTimes)),
        ["not_a_data_row"] = NotADataRow,
        ["wrong_number_of_fields"] = WrongFields,
        ["broken_quotes"] = BrokenQuotes,
        ["not_json"] = NotJson,
        ["too_long"] = (shape, sheet, at, _) => sheet.Spoil(at, "too_long", text => text + new string(shape.IsJson ? ' ' : 'x', TooLong - text.Length)),
        [Duplicate] = (_, sheet, at, rng) => sheet.Duplicate(at, rng.Chance(0.5) ? 1 + rng.Below(4) : int.MaxValue / 2),
        [Superseded] = SaveAgain,
        [OddWriting] = Odd,
    };

    /// <summary>Every kind, by name.</summary>
    public static IReadOnlyList<string> All { get; } = [.. Puts.Keys];

    /// <summary>Rows that are too long make a megabyte each; an export gets no more of them than this.</summary>
    internal const int MostTooLong = 3;

    /// <summary>Kinds a shape can bear.</summary>
    internal static IReadOnlyList<string> Of(ExportShape shape) =>
        [.. All.Where(k => k switch { "not_json" => shape.IsJson, "wrong_number_of_fields" => !shape.IsJson, "wet_bulb_over_dry_bulb" => shape.At("return_wb_f") >= 0, "wet_bulbs_crossed" => shape.At("return_wb_f") >= 0 && shape.At("supply_wb_f") >= 0, _ => true })];

    /// <summary>Puts a kind of dirt on the next sound row from a position on, if a row there can bear it.</summary>
    internal static void Put(string kind, ExportShape shape, ExportSheet sheet, int at, Rng rng) => Puts[kind](shape, sheet, at, rng);

    private static string One(Rng rng, IReadOnlyList<string> some) => some[rng.Below(some.Count)];

    /// <summary>A row with a value in one of some columns, and which of them; null when no row is left.</summary>
    private static (ExportRow Row, string Plain)? Filled(ExportShape shape, ExportSheet sheet, int at, Rng rng, Func<Term, bool> wanted)
    {
        bool Usable(ExportRow row, int i) => row.Cells[i].Length > 0 && Nomenclature.TryFind(shape.Columns[i].Plain, out var term) && wanted(term);
        if (sheet.Next(at, r => Enumerable.Range(0, r.Cells.Length).Any(i => Usable(r, i))) is not { } row)
            return null;
        return (row, One(rng, [.. Enumerable.Range(0, row.Cells.Length).Where(i => Usable(row, i)).Select(i => shape.Columns[i].Plain)]));
    }

    private static bool IsNumber(Term term) => term.Kind == ColumnKind.Number;

    private static void Write(ExportShape shape, ExportSheet sheet, ExportRow row, string plain, string kind, string cell, string? reasons = null)
    {
        row.Cells[shape.At(plain)] = cell;
        sheet.Dirt.Add(new(row, plain, kind, reasons));
    }

    private static void NotANumber(ExportShape shape, ExportSheet sheet, int at, Rng rng)
    {
        if (Filled(shape, sheet, at, rng, IsNumber) is not var (row, plain))
            return;
        var comma = shape.Culture.NumberFormat.NumberDecimalSeparator == ",";
        var junk = One(rng, Junk);

        // The other decimal mark: 72.5 where the branch writes 72,5.
        junk = junk == "1,2" && comma ? "1.2" : junk == "12.3.4" && comma ? "12,3,4" : junk;
        var bare = shape.IsJson && junk is "NaN" or "Infinity" && rng.Chance(0.5);
        Write(shape, sheet, row, plain, "not_a_number", bare ? junk : shape.Text(junk));
    }

    private static void UnknownCode(ExportShape shape, ExportSheet sheet, int at, Rng rng)
    {
        if (Filled(shape, sheet, at, rng, t => (t.Codes.Count > 0 && t.Name != "visit_kind") || t.Name is "refrigerant" or "correction") is var (row, plain))
            Write(shape, sheet, row, plain, "unknown_code", shape.Text(One(rng, ["???", "see notes", "brine", "0", "same as last time"])));
    }

    private static void NotADate(ExportShape shape, ExportSheet sheet, int at, Rng rng)
    {
        if (Filled(shape, sheet, at, rng, t => t.Name is "installed_on" or "saved_at") is var (row, plain))
            Write(shape, sheet, row, plain, "not_a_date", One(rng, plain == "saved_at" ? shape.BadTimes : shape.BadDays));
    }

    private static void OutOfRange(ExportShape shape, ExportSheet sheet, int at, Rng rng)
    {
        if (Filled(shape, sheet, at, rng, IsNumber) is not var (row, plain))
            return;
        var beyond = Sentinels.Select(s => double.Parse(s, CultureInfo.InvariantCulture)).Where(v => !Nomenclature.Of(plain).Allows(shape.Contract(row, plain, v))).ToArray();
        if (beyond.Length > 0)
            Write(shape, sheet, row, plain, "out_of_range", shape.Number(beyond[rng.Below(beyond.Length)], "0.##"));
    }

    /// <summary>A value in another unit; one time in three the instrument shows another unit, and all it reads is written in that.</summary>
    private static void UnitSlip(ExportShape shape, ExportSheet sheet, int at, Rng rng)
    {
        if (Filled(shape, sheet, at, rng, t => shape.UnitOf(t.Name) is not null && WrittenUnit.Met[t.Unit].Length > 1 && t.Name != "elevation_ft") is not var (row, plain))
            return;
        var dimension = Nomenclature.Of(plain).Unit;
        var own = shape.UnitOf(plain)!;
        var others = WrittenUnit.Met[dimension].Where(u => u.Code != own.Code && (u.Code != "K" || dimension == "[degR]")).ToArray();
        var other = others[rng.Below(others.Length)];
        var whole = dimension is "[degF]" or "[psi]" && rng.Chance(1 / 3.0);
        foreach (var column in whole ? shape.Columns.Where(c => Nomenclature.TryFind(c.Plain, out var t) && t.Unit == dimension).Select(c => c.Plain).ToArray() : [plain])
        {
            var written = shape.Read(row.Cells[shape.At(column)]);
            if (double.IsNaN(written))
                continue;
            var value = shape.Contract(row, column, written);
            var slipped = shape.Number(shape.Written(row, column, value, other), other.Format);

            // 0 oz is 0 g: no slip at all.
            if (Math.Abs(shape.Contract(row, column, shape.Read(slipped)) - value) > 0.02 * Math.Abs(value) + 1e-6)
                Write(shape, sheet, row, column, "unit_slip", slipped);
        }
    }

    private static void DecimalSlip(ExportShape shape, ExportSheet sheet, int at, Rng rng)
    {
        if (Filled(shape, sheet, at, rng, t => IsNumber(t) && t.Name != "elevation_ft") is not var (row, plain))
            return;
        var written = shape.Read(row.Cells[shape.At(plain)]);
        var factor = rng.Chance(0.9) ? 10.0 : 100.0;
        if (written != 0)
            Write(shape, sheet, row, plain, "decimal_slip", shape.Number(rng.Chance(0.6) ? written * factor : written / factor, "0.#####"));
    }

    private static void WetBulb(ExportShape shape, ExportSheet sheet, int at, Rng rng)
    {
        var (wet, dry) = shape.At("supply_wb_f") >= 0 && rng.Chance(0.3) ? ("supply_wb_f", "supply_db_f") : ("return_wb_f", "return_db_f");
        if (rng.Chance(0.75))
        {
            Swap(shape, sheet, at, wet, dry, "wet_bulb_over_dry_bulb");
            return;
        }

        // The tens typed wrong: 64 as 84 over a dry bulb of 76.
        if (sheet.Next(at, wet, dry) is not { } row)
            return;
        var unit = shape.UnitOf(wet)!;
        double Value(string column) => shape.Contract(row, column, shape.Read(row.Cells[shape.At(column)]));
        var value = Value(wet);
        while (value < Value(dry) + 2)
            value += 10;
        Write(shape, sheet, row, wet, "wet_bulb_over_dry_bulb", shape.Number(shape.Written(row, wet, value, unit), "0.0"));
    }

    private static void Swap(ExportShape shape, ExportSheet sheet, int at, string plain, string other, string kind)
    {
        if (shape.At(plain) >= 0 && shape.At(other) >= 0)
            sheet.Swap(at, plain, other, kind);
    }

    private static void MissingIdentity(ExportShape shape, ExportSheet sheet, int at, Rng rng)
    {
        var plain = One(rng, [.. Tables.IdentityColumns]);
        sheet.Replace(at, plain, "missing_identity", _ => "", plain switch { "visited_at" => "bad_time", "visit_kind" => "bad_identity|missing_identity", _ => "missing_identity" });
    }

    private static void BadIdentity(ExportShape shape, ExportSheet sheet, int at, Rng rng)
    {
        var (plain, cell) = rng.Below(4) switch
        {
            0 => (One(rng, Identities), shape.Text("V" + new string('7', 70))),
            1 => (One(rng, Identities), shape.Text("V7" + (char)(1 + rng.Below(8)) + "3")),
            2 => ("visit_kind", shape.Text(One(rng, ["???", "birthday", "0"]))),
            _ => ("reading_no", shape.IsJson ? One(rng, ["0", "-1", "\"first\"", "100"]) : One(rng, ["0", "-1", "first", "100"])),
        };
        sheet.Replace(at, plain, "bad_identity", _ => cell, plain == "reading_no" ? "missing_identity|bad_identity" : "bad_identity");
    }

    /// <summary>Windows-1252 leaves no byte without a meaning; a stray one reads as a control character.</summary>
    private static void Undecodable(ExportShape shape, ExportSheet sheet, int at, Rng rng) => sheet.Replace(
        at, One(rng, Identities), "undecodable_text", r => shape.Text("V" + BadBytes + r.InstallId[^2..]), shape.Encoding.CodePage == 1252 ? "bad_identity" : "undecodable_text");

    private static void NotADataRow(ExportShape shape, ExportSheet sheet, int at, Rng rng)
    {
        var cells = shape.Columns.Length - 1;
        var text = shape.IsJson ? One(rng, ["-- page 2 --", "[]", "null", "# sync resumed"]) : rng.Below(4) switch
        {
            0 => "Page 2",
            1 => "Total" + new string(shape.Delimiter, cells),
            2 => new string(shape.Delimiter, cells),
            _ => shape.Head[^1],
        };
        sheet.Insert(at, "not_a_data_row", text);
    }

    private static void WrongFields(ExportShape shape, ExportSheet sheet, int at, Rng rng)
    {
        if (rng.Chance(0.5))
        {
            sheet.Cut(at, "wrong_number_of_fields");
            return;
        }

        // A delimiter inside a text, or a line break in the third cell: the row then stands on two lines.
        var broken = rng.Chance(0.5);
        sheet.Spoil(at, "wrong_number_of_fields", text =>
        {
            var place = text.IndexOf(shape.Delimiter, text.IndexOf(shape.Delimiter, text.IndexOf(shape.Delimiter) + 1) + 1) + 1;
            return text.Insert(place, broken ? shape.NewLine : "a" + shape.Delimiter);
        }, fallsApart: broken);
    }

    /// <summary>A text that begins with an inch mark or a quotation and is not quoted as a whole.</summary>
    private static void BrokenQuotes(ExportShape shape, ExportSheet sheet, int at, Rng rng)
    {
        if (sheet.Next(at, "blower_tap") is { } row)
        {
            var text = shape.IsJson ? $"\"3/8{RawQuote} pipe\"" : One(rng, [$"{RawQuote}3/8 pipe", $"{RawQuote}low{RawQuote} tap"]);
            Write(shape, sheet, row, "blower_tap", "broken_quotes", text);
        }
    }

    private static void NotJson(ExportShape shape, ExportSheet sheet, int at, Rng rng)
    {
        if (rng.Chance(0.5))
            sheet.Cut(at, "not_json");
        else
            sheet.Spoil(at, "not_json", text => rng.Chance(0.5) ? text.Replace(":", "=", StringComparison.Ordinal) : text[1..]);
    }

    private static void SaveAgain(ExportShape shape, ExportSheet sheet, int at, Rng rng)
    {
        var plain = One(rng, ["return_db_f", "suction_line_f", "liquid_line_f"]);
        sheet.SaveAgain(at, plain, row => shape.Number(shape.Read(row.Cells[shape.At(plain)]) + 0.4, "0.0#"), r => shape.Saved(r.SavedAt.AddMinutes(30 + rng.Below(600))));
    }

    private static void Odd(ExportShape shape, ExportSheet sheet, int at, Rng rng)
    {
        if (Filled(shape, sheet, at, rng, IsNumber) is not var (row, plain))
            return;
        var cell = row.Cells[shape.At(plain)];
        var odd = rng.Below(4) switch
        {
            0 => " " + cell + " ",
            1 => cell[0] != '-' ? "+" + cell : shape.Encoding.CodePage == 1252 ? cell : "\u2212" + cell[1..],
            2 => Nomenclature.Of(plain).Unit switch { "[degF]" => cell + "°", "%" => cell + " %", _ => cell + " " },
            _ => cell.Contains(shape.Culture.NumberFormat.NumberDecimalSeparator, StringComparison.Ordinal) ? cell + "00" : cell,
        };
        Write(shape, sheet, row, plain, OddWriting, shape.Text(odd));
    }
}
