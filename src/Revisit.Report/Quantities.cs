using Revisit.Records;

namespace Revisit.Report;

/// <summary>
/// The units of the pages: those of the tables, or SI. Every conversion of a page happens here; a quantity is named by its unit in the
/// tables, a difference of temperatures by "Δ°F".
/// </summary>
internal sealed class Quantities
{
    /// <summary>A unit of the tables and what stands in its place.</summary>
    /// <param name="Label">How the tables' unit is written.</param>
    /// <param name="SiLabel">How the SI unit is written.</param>
    /// <param name="ToSi">The conversion.</param>
    /// <param name="SiDecimals">Decimals that keep what the tables' usual decimals say.</param>
    private sealed record Kind(string Label, string SiLabel, Func<double, double> ToSi, int SiDecimals);

    private const double KilowattPerTon = Records.Units.BtuhPerTon * Records.Units.WattPerBtuh / 1000;

    private static readonly Dictionary<string, Kind> All = new()
    {
        ["°F"] = new("°F", "°C", Records.Units.CelsiusFromFahrenheit, 1),
        ["Δ°F"] = new("°F", "K", v => v / 1.8, 1),
        ["psig"] = new("psig", "kPa", v => v * Records.Units.PascalPerPsi / 1000, 0),
        ["in. w.c."] = new("in. w.c.", "Pa", v => v * Records.Units.PascalPerInchWater, 0),
        ["cfm"] = new("cfm", "L/s", v => v * Records.Units.CubicMetrePerSecondPerCfm * 1000, 0),
        ["cfm a ton"] = new("cfm a ton", "L/s a kW", v => v * Records.Units.CubicMetrePerSecondPerCfm * 1000 / KilowattPerTon, 1),
        ["tons"] = new("tons", "kW", v => v * KilowattPerTon, 1),
        ["ft"] = new("ft", "m", v => v * Records.Units.MetrePerFoot, 1),
        ["mph"] = new("mph", "km/h", v => v * 5280 * Records.Units.MetrePerFoot / 1000, 0),
        ["kWh a ton"] = new("kWh a ton", "kWh a kW", v => v / KilowattPerTon, 0),
    };

    private readonly bool si;

    /// <param name="units">"ip" or "si".</param>
    /// <exception cref="UserError">It is neither.</exception>
    public Quantities(string units) => si = units switch
    {
        "ip" => false,
        "si" => true,
        _ => throw new UserError($"There are no units '{units}'. Write ip (°F, psig, tons) or si (°C, kPa, kW)."),
    };

    /// <summary>The names of the quantities, longest first.</summary>
    public static IEnumerable<string> Names => All.Keys.OrderByDescending(k => k.Length);

    /// <summary>How the tables write the unit.</summary>
    public static string Written(string kind) => All[kind].Label;

    /// <summary>How the pages write it.</summary>
    public string Label(string kind) => si ? All[kind].SiLabel : All[kind].Label;

    /// <summary>The value in the unit of the pages, with the decimals to show.</summary>
    /// <param name="value">In the unit of the tables.</param>
    /// <param name="kind">The quantity.</param>
    /// <param name="decimals">Decimals in the tables' unit.</param>
    public (double Value, int Decimals) Of(double value, string kind, int decimals) => si ? (All[kind].ToSi(value), All[kind].SiDecimals) : (value, decimals);
}
