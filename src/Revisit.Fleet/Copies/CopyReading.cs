using Revisit.Records;

namespace Revisit.Fleet.Copies;

/// <summary>What is looked at of one reading. Values are in the order of <see cref="Columns"/>, NaN where missing.</summary>
public sealed record CopyReading(string CrewId, string VisitId, int ReadingNo, string InstallId, DateTime VisitedAt, DateOnly VisitedOn, double OutdoorDbF, string Refrigerant, bool Corrected, double[] Values)
{
    /// <summary>Columns compared. Outdoor air is left out, since all visits of an afternoon share it; statics that add up to another are left out too.</summary>
    public static readonly IReadOnlyList<string> Columns =
    [
        "return_db_f", "return_wb_f", "return_rh_pct", "supply_db_f", "supply_wb_f", "suction_pressure_psig", "liquid_pressure_psig",
        "suction_line_f", "liquid_line_f", "discharge_line_f", "external_static_inwc", "airflow_cfm", "system_power_w", "blower_power_w",
    ];

    /// <summary>The values of some readings by column, gathered reading by reading, since each lies elsewhere in memory.</summary>
    internal static T[][] ByColumn<T>(IReadOnlyList<CopyReading> readings, Func<double, T> value)
    {
        T[][] columns = [.. Columns.Select(_ => new T[readings.Count])];
        for (var i = 0; i < readings.Count; i++)
        {
            var values = readings[i].Values;
            for (var c = 0; c < columns.Length; c++)
            {
                columns[c][i] = value(values[c]);
            }
        }

        return columns;
    }

    /// <summary>Calendar quarter of the visit, YYYY-Qn.</summary>
    public string Quarter => FormattableString.Invariant($"{VisitedOn.Year:0000}-Q{(VisitedOn.Month + 2) / 3}");
}

/// <summary>A visit whose readings repeat those of an earlier one.</summary>
/// <param name="Visit">The reading that repeats.</param>
/// <param name="Earlier">The reading it repeats.</param>
/// <param name="Compared">Columns that both have.</param>
/// <param name="Repeated">Columns that are the same.</param>
/// <param name="Chance">Bound on the chance that an honest visit repeats as much, all comparisons of the visit counted.</param>
public sealed record RepeatedVisit(CopyReading Visit, CopyReading Earlier, int Compared, int Repeated, double Chance);

/// <summary>What the readings of a crew and quarter ask about. Chances are NaN where there is too little to go by.</summary>
public sealed record CopyQuestion(string CrewId, string Quarter)
{
    public int Visits { get; set; }
    public int RepeatedVisits { get; set; }
    public double RepeatChance { get; set; } = 1;
    public int Digits { get; set; }
    public double DigitChiSquare { get; set; } = double.NaN;
    public double DigitChance { get; set; } = double.NaN;
    public string? SpreadColumn { get; set; }
    public double SpreadRatio { get; set; } = double.NaN;
    public double SpreadChance { get; set; } = double.NaN;

    /// <summary>Smallest of the three chances times three (Bonferroni).</summary>
    public double Chance { get; set; } = 1;

    /// <summary>The chance adjusted over all crews and quarters (Holm).</summary>
    public double AdjustedChance { get; set; } = 1;

    /// <summary>Whether to ask the crew how these readings came about.</summary>
    public bool IsAsked => AdjustedChance < CopyLimits.Asked;
}
