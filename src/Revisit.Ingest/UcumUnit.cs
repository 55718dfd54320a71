using System.Collections.Frozen;
using Revisit.Records;

namespace Revisit.Ingest;

/// <summary>What a unit measures; a profile may only map a column to a unit of its own dimension.</summary>
public enum Dimension
{
    Number,
    Temperature,
    TemperatureDifference,
    Pressure,
    Length,
    AirFlow,
    Mass,
    Power,
    Energy,
    Time,
    Angle,
    EfficiencyRatio,
}

/// <summary>
/// A unit by its UCUM code (The Unified Code for Units of Measure, version 2.1) with its linear form
/// base = value × <paramref name="Factor"/> + <paramref name="Offset"/>; bases are K, Pa, m, m³/s, kg, W, s.
/// </summary>
public sealed record UcumUnit(string Code, Dimension Dimension, double Factor, double Offset)
{
    private static readonly FrozenDictionary<string, UcumUnit[]> ByCode = Build().GroupBy(u => u.Code).ToFrozenDictionary(g => g.Key, g => g.ToArray());

    /// <summary>Every code this tool takes, for error messages.</summary>
    public static IEnumerable<string> KnownCodes => ByCode.Keys.Order(StringComparer.Ordinal);

    /// <summary>The unit of a code within a dimension, or null.</summary>
    public static UcumUnit? Find(string code, Dimension dimension) =>
        ByCode.TryGetValue(code, out var units) ? units.FirstOrDefault(u => u.Dimension == dimension) : null;

    /// <summary>Whether the code is known at all.</summary>
    public static bool IsKnown(string code) => ByCode.ContainsKey(code);

    /// <summary>The unit a column of the contract is kept in.</summary>
    public static UcumUnit OfColumn(Term term) => ByCode[term.Unit][0];

    /// <summary>Scale and offset from this unit to another: other = value × scale + offset.</summary>
    public (double Scale, double Offset) To(UcumUnit other) => (Factor / other.Factor, (Offset - other.Offset) / other.Factor);

    private static IEnumerable<UcumUnit> Build()
    {
        const double rankine = 5.0 / 9.0;
        yield return new("1", Dimension.Number, 1, 0);
        yield return new("%", Dimension.Number, 0.01, 0);
        yield return new("[degF]", Dimension.Temperature, rankine, 459.67 * rankine);
        yield return new("Cel", Dimension.Temperature, 1, 273.15);
        yield return new("K", Dimension.Temperature, 1, 0);
        yield return new("[degR]", Dimension.TemperatureDifference, rankine, 0);
        yield return new("[degF]", Dimension.TemperatureDifference, rankine, 0);
        yield return new("K", Dimension.TemperatureDifference, 1, 0);
        yield return new("Cel", Dimension.TemperatureDifference, 1, 0);
        yield return new("[psi]", Dimension.Pressure, Units.PascalPerPsi, 0);
        yield return new("Pa", Dimension.Pressure, 1, 0);
        yield return new("hPa", Dimension.Pressure, 100, 0);
        yield return new("kPa", Dimension.Pressure, 1_000, 0);
        yield return new("MPa", Dimension.Pressure, 1e6, 0);
        yield return new("bar", Dimension.Pressure, 1e5, 0);
        yield return new("mbar", Dimension.Pressure, 100, 0);
        yield return new("[in_i'H2O]", Dimension.Pressure, Units.PascalPerInchWater, 0);
        yield return new("[ft_i]", Dimension.Length, Units.MetrePerFoot, 0);
        yield return new("m", Dimension.Length, 1, 0);
        yield return new("[cft_i]/min", Dimension.AirFlow, Units.CubicMetrePerSecondPerCfm, 0);
        yield return new("m3/h", Dimension.AirFlow, 1.0 / 3_600, 0);
        yield return new("m3/s", Dimension.AirFlow, 1, 0);
        yield return new("L/s", Dimension.AirFlow, 1e-3, 0);
        yield return new("[oz_av]", Dimension.Mass, 0.028349523125, 0);
        yield return new("[lb_av]", Dimension.Mass, 0.45359237, 0);
        yield return new("g", Dimension.Mass, 1e-3, 0);
        yield return new("kg", Dimension.Mass, 1, 0);
        yield return new("W", Dimension.Power, 1, 0);
        yield return new("kW", Dimension.Power, 1_000, 0);
        yield return new("[Btu_IT]/h", Dimension.Power, Units.WattPerBtuh, 0);
        yield return new("[ton_refrig]", Dimension.Power, Units.WattPerBtuh * Units.BtuhPerTon, 0); // not UCUM: 12,000 Btu/h, the trade's ton
        yield return new("min", Dimension.Time, 60, 0);
        yield return new("s", Dimension.Time, 1, 0);
        yield return new("h", Dimension.Time, 3_600, 0);
        yield return new("deg", Dimension.Angle, 1, 0);
        yield return new("[Btu_IT]/(W.h)", Dimension.EfficiencyRatio, 1, 0);
    }
}
