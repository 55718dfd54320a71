using System.Globalization;
using System.Numerics;
using Revisit.Records;

namespace Revisit.Ingest;

/// <summary>
/// Finds values that cannot be right and sets them aside, with what the evidence points to; nothing is ever repaired.
/// The limits here are those a running residential cooling system cannot leave (common practice, no source). They are wide on
/// purpose: a fault of the system must stay in the record, only a fault of the writing goes.
/// </summary>
/// <param name="raw">The text a column was read from.</param>
/// <param name="unitOf">The unit its source is said to write.</param>
/// <param name="reread">Its number times a factor, read as if written in another unit.</param>
internal sealed class Plausibility(Func<int, string> raw, Func<int, UcumUnit?> unitOf, Func<int, UcumUnit, double, double> reread)
{
    private static readonly int Outdoor = ReadingRow.At("outdoor_db_f"), ReturnDry = ReadingRow.At("return_db_f"), ReturnWet = ReadingRow.At("return_wb_f"),
        SupplyDry = ReadingRow.At("supply_db_f"), SupplyWet = ReadingRow.At("supply_wb_f"), Suction = ReadingRow.At("suction_pressure_psig"),
        Liquid = ReadingRow.At("liquid_pressure_psig"), SuctionLine = ReadingRow.At("suction_line_f"), LiquidLine = ReadingRow.At("liquid_line_f"), Latitude = ReadingRow.At("latitude");

    /// <summary>Two thermometers of ±1 °F and a clamp that touches badly, °F (common practice, no source).</summary>
    private const double OverBothAirs = 3;

    /// <summary>As <see cref="OverBothAirs"/>, and what rain on the condenser or an outdoor probe in its warm air can feign, °F (common practice, no source).</summary>
    private const double UnderOutdoor = 8;

    /// <summary>Two wet bulbs of ±1 °F each, and the heat of the blower, °F (common practice, no source).</summary>
    private const double OverReturnWetBulb = 3;

    // Saturated air and two probes' tolerance can show up to half a degree over, °F; supply air off a wet coil often is saturated.
    private const double ReturnWetMargin = 0.5, SupplyWetMargin = 1.5;

    /// <summary>What one thermometer and what one gauge set read.</summary>
    private static readonly int[] Temperatures = [.. Enumerable.Range(0, ReadingRow.Width).Where(i => ReadingRow.TermAt(i).Unit == "[degF]")], Pressures = [Suction, Liquid];

    /// <summary>Return air of a running system is seldom wetter than this wet bulb, °F (common practice, no source).</summary>
    private const double MostReturnWetBulb = 70;

    /// <summary>Return air under cooling is seldom closer to saturation than this, °F (common practice, no source).</summary>
    private const double UsualWetBulbDepression = 6;

    /// <summary>Where a value of a running system nearly always lies; a converted or shifted value must land here to be suggested.</summary>
    private static readonly Dictionary<string, (double Low, double High)> Usual = new()
    {
        ["outdoor_db_f"] = (45, 118),
        ["return_db_f"] = (62, 92),
        ["return_wb_f"] = (48, 78),
        ["supply_db_f"] = (34, 75),
        ["supply_wb_f"] = (36, 72),
        ["suction_pressure_psig"] = (45, 185),
        ["liquid_pressure_psig"] = (110, 560),
        ["suction_line_f"] = (34, 90),
        ["liquid_line_f"] = (50, 130),
        ["discharge_line_f"] = (100, 250),
        ["external_static_inwc"] = (0.1, 1.6),
        ["return_static_inwc"] = (-1, 1),
        ["supply_static_inwc"] = (-1, 1),
        ["airflow_cfm"] = (300, 2_600),
        ["system_power_w"] = (700, 8_000),
        ["blower_power_w"] = (60, 1_500),
        ["line_set_ft"] = (3, 150),
        ["nominal_tons"] = (1.5, 5),
        ["target_subcooling_f"] = (3, 20),
        ["return_rh_pct"] = (20, 90),
        ["supply_rh_pct"] = (40, 100),
        ["minutes_running"] = (1, 240),
        ["charge_change_oz"] = (-160, 160),
    };

    /// <summary>Units a value may have been written in by mistake, by the unit of its column.</summary>
    private static readonly Dictionary<string, string[]> Mistaken = new()
    {
        ["[degF]"] = ["[degF]", "Cel", "K"],
        ["[psi]"] = ["[psi]", "kPa", "bar", "MPa"],
        ["[in_i'H2O]"] = ["[in_i'H2O]", "Pa"],
        ["[cft_i]/min"] = ["[cft_i]/min", "m3/h", "L/s"],
        ["W"] = ["W", "kW"],
        ["[oz_av]"] = ["[oz_av]", "g"],
        ["[ft_i]"] = ["[ft_i]", "m"],
        ["[ton_refrig]"] = ["[ton_refrig]", "kW"],
        ["[degR]"] = ["[degR]", "K"],
    };

    private static readonly double[] Lows = [.. Tables.PlainColumns.Select(c => Nomenclature.Of(c).Low ?? double.NegativeInfinity)],
        Highs = [.. Tables.PlainColumns.Select(c => Nomenclature.Of(c).High ?? double.PositiveInfinity)];

    /// <summary>Checks a row whose values are all in place.</summary>
    public void Check(ReadingRow row)
    {
        // Crossed probes first: a liquid pressure in the suction column is out of range there, but that is not what is wrong.
        Crossed(row, Suction, Liquid, 0, "pressures_crossed", "suction", "liquid");
        if (!(row.Numbers[ReturnWet] > Math.Max(row.Numbers[SupplyDry], row.Numbers[ReturnDry]) + UsualWetBulbDepression))
        {
            // A return wet bulb far over both dry bulbs is no exchange of the two: the wet and dry bulb of the return are looked at below.
            Crossed(row, SupplyDry, ReturnDry, 3, "supply_return_crossed", "supply", "return");
        }

        LinesCrossed(row);
        Ranges(row);
        Company(row, Temperatures, 2);
        Company(row, Pressures, 1);
        WetBulbsCrossed(row);
        WetBulb(row, ReturnWet, ReturnDry);
        WetBulb(row, SupplyWet, SupplyDry);
        OutdoorSlip(row);
    }

    private void Ranges(ReadingRow row)
    {
        for (var i = 0; i < ReadingRow.Width; i += Vector<double>.Count)
        {
            // Some columns at once; nearly always none is outside. NaN, missing, is not.
            var some = Math.Min(i, ReadingRow.Width - Vector<double>.Count);
            var values = new Vector<double>(row.Numbers, some);
            if (Vector.LessThanAny(values, new Vector<double>(Lows, some)) || Vector.GreaterThanAny(values, new Vector<double>(Highs, some)))
            {
                Ranges(row, i, Math.Min(i + Vector<double>.Count, ReadingRow.Width));
            }
        }
    }

    private void Ranges(ReadingRow row, int from, int to)
    {
        for (var i = from; i < to; i++)
        {
            var value = row.Numbers[i];
            if (value < Lows[i] || value > Highs[i])
            {
                var (reason, suggestion) = Explain(row, i);
                var term = ReadingRow.TermAt(i);
                row.PutAside(i, raw(i), reason, string.Create(CultureInfo.InvariantCulture,
                    $"{Show(value)} {term.Unit} is outside {term.Low} to {term.High}"), suggestion);
            }
        }
    }

    /// <summary>
    /// What an impossible value may have been: another unit, or the same unit with a slipped decimal mark. Every explanation that lands
    /// where such a value usually lies is named; a slip of the decimal mark is the reason only when no other unit explains it.
    /// </summary>
    private (string Reason, string? Suggestion) Explain(ReadingRow row, int column)
    {
        var term = ReadingRow.TermAt(column);
        if (!Usual.ContainsKey(term.Name) || unitOf(column) is not { } written)
        {
            return ("out_of_range", null);
        }

        bool Fits(double value) => IsUsual(column, value);
        var units = Mistaken.GetValueOrDefault(term.Unit, [])
            .Where(code => code != written.Code)
            .Select(code => UcumUnit.Find(code, written.Dimension)!)
            .Select(unit => (unit.Code, Value: reread(column, unit, 1)))
            .Where(u => Fits(u.Value)).Select(u => $"reads like {u.Code} ({Show(u.Value)} {term.Unit})").ToList();
        var shifts = ((double[])[0.1, 0.01, 10, 100])
            .Select(factor => reread(column, written, factor))
            .Where(Fits).Select(v => $"reads like a slipped decimal mark ({Show(v)} {term.Unit})").ToList();
        if (PartnerSlipped(row, column))
        {
            // Both pressures come from one gauge set: when both are impossible, the unit is wrong, not two decimal marks.
            shifts.Clear();
        }

        var suggestions = units.Concat(shifts).ToList();
        return (units.Count > 0 ? "unit_slip" : shifts.Count > 0 ? "decimal_slip" : "out_of_range", suggestions.Count > 0 ? string.Join("; or ", suggestions) : null);
    }

    /// <summary>
    /// An instrument switched to another unit writes all it reads in that unit, and some of it stays possible: 12 °C on a suction line
    /// reads as 12 °F. Where enough of its values are impossible and read like one other unit, those beside them that are possible but
    /// unusual as written, and usual in that unit, go too; unless one of its values is usual only as written.
    /// </summary>
    private void Company(ReadingRow row, int[] columns, int enough)
    {
        if (row.SetAside.Count < enough)
        {
            return;
        }

        foreach (var code in Mistaken[ReadingRow.TermAt(columns[0]).Unit])
        {
            double In(int column) => unitOf(column) is { } written && written.Code != code ? reread(column, UcumUnit.Find(code, written.Dimension)!, 1) : double.NaN;
            if (row.SetAside.Count(s => s.Reason == "unit_slip" && columns.Contains(s.Column) && IsUsual(s.Column, In(s.Column))) < enough
                || columns.Any(c => IsUsual(c, row.Numbers[c]) && !IsUsual(c, In(c))))
            {
                continue;
            }

            foreach (var column in columns.Where(c => !double.IsNaN(row.Numbers[c]) && !IsUsual(c, row.Numbers[c]) && IsUsual(c, In(c))))
            {
                var unit = ReadingRow.TermAt(column).Unit;
                row.PutAside(column, raw(column), "unit_slip", $"{Show(row.Numbers[column])} {unit} stands beside values that read like {code}", $"reads like {code} ({Show(In(column))} {unit})");
            }
        }
    }

    private static bool PartnerSlipped(ReadingRow row, int column)
    {
        var partner = column == Suction ? Liquid : column == Liquid ? Suction : -1;
        return partner >= 0 && (row.SetAside.Any(s => s.Column == partner && s.Reason == "unit_slip")
            || (!double.IsNaN(row.Numbers[partner]) && !ReadingRow.TermAt(partner).Allows(row.Numbers[partner])));
    }

    /// <summary>
    /// In cooling, suction is under liquid and supply is under return. When it is the other way round by more than the margin, neither can
    /// be trusted; that they are swapped is only suggested where each would be possible in the other's place.
    /// </summary>
    private void Crossed(ReadingRow row, int low, int high, double margin, string reason, string lowName, string highName)
    {
        var (below, above) = (row.Numbers[low], row.Numbers[high]);
        var (lowTerm, highTerm) = (ReadingRow.TermAt(low), ReadingRow.TermAt(high));
        if (!(below > above + margin))
        {
            return;
        }

        var swappable = IsUsual(low, above) && IsUsual(high, below);
        if (!swappable && !(lowTerm.Allows(below) && highTerm.Allows(above)))
        {
            // One of them is out of its own range and a swap does not explain it: the range check says more.
            return;
        }

        var detail = string.Create(CultureInfo.InvariantCulture, $"{lowName} {Show(below)} is over {highName} {Show(above)} {lowTerm.Unit} while cooling");
        if (!swappable && IsUsual(low, below) != IsUsual(high, above))
        {
            // One is as it always is. When a slip explains the other, the slip is what is wrong.
            var odd = IsUsual(low, below) ? high : low;
            if (Explain(row, odd) is ("unit_slip" or "decimal_slip", _) and var (slip, reading))
            {
                row.PutAside(odd, raw(odd), slip, detail, reading);
                return;
            }
        }

        var suggestion = swappable ? $"{lowName} and {highName} look swapped" : null;
        Swapped(row, low, high, reason, detail, suggestion);
    }

    /// <summary>
    /// While cooling, heat flows out of the liquid to the outdoor air, so that the liquid line is not colder than that air; and the suction
    /// vapour was warmed by the return air and the air around its line, so that it is not warmer than both airs. Either can be feigned, by rain
    /// or by an attic; both together only by clamps that were exchanged. Where the liquid line would be warmer than the outdoor air but
    /// not than the return air, an exchange is not seen. Outdoor and return probes are never called exchanged: a hot house looks the same.
    /// </summary>
    private void LinesCrossed(ReadingRow row)
    {
        var (suction, liquid, outdoor) = (row.Numbers[SuctionLine], row.Numbers[LiquidLine], row.Numbers[Outdoor]);
        if (liquid < outdoor - UnderOutdoor && suction > outdoor + OverBothAirs && suction > row.Numbers[ReturnDry] + OverBothAirs
            && ReadingRow.TermAt(SuctionLine).Allows(liquid) && ReadingRow.TermAt(LiquidLine).Allows(suction))
        {
            Swapped(row, SuctionLine, LiquidLine, "lines_crossed", string.Create(CultureInfo.InvariantCulture,
                $"liquid line {Show(liquid)} °F is under the outdoor air and suction line {Show(suction)} °F over outdoor and return air while cooling"), "suction line and liquid line look swapped");
        }
    }

    /// <summary>
    /// A cooling coil takes enthalpy out of the air, and wet bulb rises with enthalpy: it is not higher behind the coil than before it. The
    /// two look exchanged where each would be possible in the other's place; where not, the wet bulb that is over its dry bulb goes alone.
    /// </summary>
    private void WetBulbsCrossed(ReadingRow row)
    {
        var (supply, back) = (row.Numbers[SupplyWet], row.Numbers[ReturnWet]);
        if (supply > back + OverReturnWetBulb && !(supply > row.Numbers[ReturnDry] + ReturnWetMargin) && !(back > row.Numbers[SupplyDry] + SupplyWetMargin))
        {
            Swapped(row, SupplyWet, ReturnWet, "wet_bulbs_crossed", string.Create(CultureInfo.InvariantCulture,
                $"supply wet bulb {Show(supply)} °F is over return wet bulb {Show(back)} °F while cooling"), "supply and return wet bulb look swapped");
        }
    }

    private void Swapped(ReadingRow row, int one, int other, string reason, string detail, string? suggestion)
    {
        row.PutAside(one, raw(one), reason, detail, suggestion);
        row.PutAside(other, raw(other), reason, detail, suggestion);
    }

    private void WetBulb(ReadingRow row, int wet, int dry)
    {
        var margin = wet == SupplyWet ? SupplyWetMargin : ReturnWetMargin;
        var over = row.Numbers[wet] - row.Numbers[dry];
        if (!(over > margin))
        {
            return;
        }

        var detail = string.Create(CultureInfo.InvariantCulture, $"wet bulb {Show(row.Numbers[wet])} °F is over dry bulb {Show(row.Numbers[dry])} °F");

        // Return air of a running system keeps its wet bulb several degrees under its dry bulb. When the two exchanged would do so, they
        // look swapped and neither stays; when they would not, or the dry bulb is too warm for a wet bulb, the wet bulb alone is wrong.
        if (wet == ReturnWet && over >= UsualWetBulbDepression && row.Numbers[dry] <= MostReturnWetBulb)
        {
            Swapped(row, wet, dry, "wet_bulb_over_dry_bulb", detail, "wet bulb and dry bulb look swapped");
            return;
        }

        row.PutAside(wet, raw(wet), "wet_bulb_over_dry_bulb", detail);
    }

    /// <summary>
    /// An outdoor temperature typed in °C stays inside the physical range in °F. The liquid line gives it away: it cannot stand 30 °F
    /// and more over the outdoor air while, read as °C, the outdoor air lies where a liquid line puts it. On a cold day it can, with
    /// too much charge or a starved condenser, so only the warm months are looked at (common practice, no source).
    /// </summary>
    private void OutdoorSlip(ReadingRow row)
    {
        var (outdoor, line) = (row.Numbers[Outdoor], row.Numbers[LiquidLine]);
        if (line - outdoor > 30 && IsWarmMonth(row))
        {
            var fromCelsius = Units.FahrenheitFromCelsius(outdoor);
            if (line - fromCelsius is > -8 and < 25 && IsUsual(Outdoor, fromCelsius))
            {
                row.PutAside(Outdoor, raw(Outdoor), "unit_slip", string.Create(CultureInfo.InvariantCulture,
                    $"outdoor {Show(outdoor)} °F is {Show(line - outdoor)} °F under the liquid line"), $"reads like Cel ({Show(fromCelsius)} [degF])");
            }
        }
    }

    /// <summary>Whether a value lies where that of a running system nearly always does; a missing one does not.</summary>
    private static bool IsUsual(int column, double value) => Usual.TryGetValue(ReadingRow.TermAt(column).Name, out var usual) && value >= usual.Low && value <= usual.High;

    /// <summary>May to September, or November to March where the latitude is known to be south.</summary>
    private static bool IsWarmMonth(ReadingRow row)
    {
        var month = DateOnly.FromDayNumber(row.VisitedOn).Month;
        return row.Numbers[Latitude] < 0 ? month is >= 11 or <= 3 : month is >= 5 and <= 9;
    }

    private static string Show(double value) => Math.Round(value, 2).ToString("0.##", CultureInfo.InvariantCulture);
}
