using Revisit.Records;

namespace Revisit.Simulator.Exports;

/// <summary>A unit somebody may write a quantity in.</summary>
/// <param name="Code">UCUM code.</param>
/// <param name="Scale">Contract's units in one of it.</param>
/// <param name="Offset">Its zero in the contract's unit.</param>
/// <param name="Format">As fine as an instrument that shows this unit.</param>
internal sealed record WrittenUnit(string Code, double Scale, double Offset, string Format)
{
    /// <summary>By unit of the contract: units its quantities are met in, the contract's own first.</summary>
    public static readonly IReadOnlyDictionary<string, WrittenUnit[]> Met = new Dictionary<string, WrittenUnit[]>
    {
        ["[degF]"] = [new("[degF]", 1, 0, "0.0"), new("Cel", 1.8, 32, "0.0"), new("K", 1.8, -459.67, "0.0")],
        ["[psi]"] =
        [
            new("[psi]", 1, 0, "0"), new("kPa", 1_000 / Units.PascalPerPsi, 0, "0"), new("bar", 1e5 / Units.PascalPerPsi, 0, "0.0"),
            new("MPa", 1e6 / Units.PascalPerPsi, 0, "0.00"),
        ],
        ["[in_i'H2O]"] = [new("[in_i'H2O]", 1, 0, "0.00"), new("Pa", 1 / Units.PascalPerInchWater, 0, "0")],
        ["[cft_i]/min"] =
        [
            new("[cft_i]/min", 1, 0, "0"), new("m3/h", 1 / (Units.CubicMetrePerSecondPerCfm * 3_600), 0, "0"), new("L/s", 1e-3 / Units.CubicMetrePerSecondPerCfm, 0, "0"),
        ],
        ["W"] = [new("W", 1, 0, "0"), new("kW", 1_000, 0, "0.00")],
        ["[oz_av]"] = [new("[oz_av]", 1, 0, "0"), new("g", 1 / Cell.Grams(1), 0, "0")],
        ["[ft_i]"] = [new("[ft_i]", 1, 0, "0"), new("m", 1 / Units.MetrePerFoot, 0, "0.0")],
        ["[ton_refrig]"] = [new("[ton_refrig]", 1, 0, "0.0"), new("kW", 1 / 3.5168528, 0, "0.0"), new("k[Btu_IT]/h", 1 / 12.0, 0, "0")],
        ["[degR]"] = [new("[degR]", 1, 0, "0"), new("K", 1.8, 0, "0.0")],
        ["[Btu_IT]/h"] = [new("[Btu_IT]/h", 1, 0, "0"), new("k[Btu_IT]/h", 1_000, 0, "0"), new("kW", 1_000 / Units.WattPerBtuh, 0, "0.0")],
    };
}
