using Revisit.Diagnosis;
using Revisit.Physics;
using Revisit.Records;

namespace Revisit.Cli;

/// <summary>From the options of one reading to what diagnosis takes: units, ranges and codes checked, all faults in one message.</summary>
internal static class ReadingOptions
{
    /// <param name="values">By option: the column it fills and the number given.</param>
    /// <param name="si">Whether numbers are in SI units.</param>
    /// <param name="refrigerant">Designation, or null.</param>
    /// <param name="metering">Code, or null.</param>
    /// <param name="filter">Code, or null.</param>
    /// <param name="method">Code, or null.</param>
    /// <exception cref="UserError">Something is out of range, unknown or given twice.</exception>
    public static ReadingInputs ToInputs(Dictionary<string, (string Column, double Value)> values, bool si, string? refrigerant, string? metering, string? filter, string? method)
    {
        var faults = new List<string>();
        var columns = new Dictionary<string, double>(StringComparer.Ordinal);
        foreach (var (option, (column, given)) in values)
        {
            var term = Nomenclature.Of(column);
            var value = option.EndsWith("-kpa", StringComparison.Ordinal) ? given * 1000 / Units.PascalPerPsi : si ? FromSi(term, given) : given;
            if (!term.Allows(value))
            {
                faults.Add(FormattableString.Invariant($"{option} {given}: {term.Meaning} is {value:0.#} {term.Unit}, expected {term.Low} to {term.High}"));
            }
            else if (!columns.TryAdd(column, value))
            {
                faults.Add($"{option}: {term.Meaning} is given twice");
            }
        }

        string? Code(string option, string column, string? text)
        {
            if (text is not null && !Nomenclature.Of(column).Codes.Contains(text))
            {
                faults.Add($"{option} {text}: expected one of {string.Join(", ", Nomenclature.Of(column).Codes)}");
            }

            return text;
        }

        if (refrigerant is not null && !Refrigerants.TryFind(refrigerant, out _))
        {
            faults.Add($"--refrigerant {refrigerant}: known are {string.Join(", ", Refrigerants.All.Select(r => r.Designation))}");
        }

        double Of(string column) => columns.TryGetValue(column, out var value) ? value : double.NaN;
        var inputs = new ReadingInputs
        {
            Refrigerant = Refrigerants.TryFind(refrigerant, out var fluid) ? fluid.Designation : refrigerant,
            Metering = Code("--metering", "metering", metering),
            FilterState = Code("--filter", "filter_state", filter),
            AirflowMethod = Code("--airflow-method", "airflow_method", method),
            Elevation = Of("elevation_ft"),
            NominalTons = Of("nominal_tons"),
            RatedEer = Of("rated_eer"),
            TargetSubcooling = Of("target_subcooling_f"),
            TargetSuperheat = Of("target_superheat_f"),
            DesignAirflow = Of("design_airflow_cfm"),
            MinutesRunning = Of("minutes_running"),
            OutdoorDb = Of("outdoor_db_f"),
            ReturnDb = Of("return_db_f"),
            ReturnWb = Of("return_wb_f"),
            ReturnRh = Of("return_rh_pct"),
            SupplyDb = Of("supply_db_f"),
            SuctionPressure = Of("suction_pressure_psig"),
            LiquidPressure = Of("liquid_pressure_psig"),
            SuctionLine = Of("suction_line_f"),
            LiquidLine = Of("liquid_line_f"),
            DischargeLine = Of("discharge_line_f"),
            Airflow = Of("airflow_cfm"),
        };
        Check(inputs, faults);
        return faults.Count == 0 ? inputs : throw new UserError(string.Join("\n         ", faults.Prepend("the reading cannot be right:")));
    }

    /// <summary>What would be set aside in a record is asked back here, where it can still be read again.</summary>
    private static void Check(in ReadingInputs x, List<string> faults)
    {
        if (x.ReturnWb > x.ReturnDb + 0.5)
        {
            faults.Add("return wet bulb over dry bulb: read them again, they may be swapped");
        }

        if (x.SuctionPressure > x.LiquidPressure)
        {
            faults.Add("suction pressure over liquid pressure while cooling: the hoses may be crossed");
        }

        if (x.SupplyDb > x.ReturnDb + 3)
        {
            faults.Add("supply air warmer than return air while cooling: the probes may be crossed");
        }
    }

    private static double FromSi(Term term, double value) => term.Unit switch
    {
        "[degF]" => Units.FahrenheitFromCelsius(value),
        "[degR]" => value * 1.8,
        "[psi]" => value * 1000 / Units.PascalPerPsi,
        "[cft_i]/min" => value / 1000 / Units.CubicMetrePerSecondPerCfm,
        "[ft_i]" => value / Units.MetrePerFoot,
        _ => value,
    };
}
