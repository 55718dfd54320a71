using System.CommandLine;
using Revisit.Diagnosis;
using Revisit.Ingest;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Cli.Commands;

/// <summary>revisit reading: one reading at the unit, one answer.</summary>
internal static class ReadingCommand
{
    public static Command Make()
    {
        Option<string?> Text(string name, string description) => new(name) { Description = description };
        Option<double?> Number(string name, string description) => new(name) { Description = description };
        var si = new Option<bool>("--si") { Description = "Temperatures in °C, differences in K, pressures in kPa, airflow in L/s, elevation in m: in and out" };
        var json = new Option<bool>("--json") { Description = "Print one JSON object a reading" };
        var file = new Option<FileInfo?>("--file") { Description = "A CSV with the column names of a plain reading row; every row is answered" };
        var refrigerant = Text("--refrigerant", "ASHRAE 34 designation, such as R-410A");
        var metering = Text("--metering", "txv, eev or fixed_orifice");
        var filter = Text("--filter", "clean, fair, loaded or missing");
        var method = Text("--airflow-method", "How airflow was measured: " + string.Join(", ", Nomenclature.Of("airflow_method").Codes));
        var numbers = new (Option<double?> Option, string Column)[]
        {
            (Number("--tons", "Nominal size [tons]"), "nominal_tons"),
            (Number("--eer", "Rated efficiency [Btu/(W·h)]"), "rated_eer"),
            (Number("--target-subcooling", "The unit's own target [°F]"), "target_subcooling_f"),
            (Number("--target-superheat", "The valve's own target [°F]"), "target_superheat_f"),
            (Number("--design-airflow", "Airflow it was designed for [cfm]"), "design_airflow_cfm"),
            (Number("--elevation", "Elevation of the site [ft]"), "elevation_ft"),
            (Number("--minutes", "Minutes it has run"), "minutes_running"),
            (Number("--outdoor", "Outdoor air at the condenser [°F]"), "outdoor_db_f"),
            (Number("--return-db", "Return air dry bulb [°F]"), "return_db_f"),
            (Number("--return-wb", "Return air wet bulb [°F]"), "return_wb_f"),
            (Number("--return-rh", "Return air humidity [%], instead of the wet bulb"), "return_rh_pct"),
            (Number("--supply-db", "Supply air dry bulb [°F]"), "supply_db_f"),
            (Number("--suction-psig", "Suction pressure [psig]"), "suction_pressure_psig"),
            (Number("--liquid-psig", "Liquid pressure [psig]"), "liquid_pressure_psig"),
            (Number("--suction-kpa", "Suction pressure [kPa gauge], instead"), "suction_pressure_psig"),
            (Number("--liquid-kpa", "Liquid pressure [kPa gauge], instead"), "liquid_pressure_psig"),
            (Number("--suction-line", "Suction line [°F]"), "suction_line_f"),
            (Number("--liquid-line", "Liquid line [°F]"), "liquid_line_f"),
            (Number("--discharge-line", "Discharge line [°F]"), "discharge_line_f"),
            (Number("--airflow", "Measured airflow [cfm]"), "airflow_cfm"),
        };
        var command = new Command("reading", """
            Answer one reading at the unit: what it says, how sure that is, what to check first, what the correction should change.
            Values that were not taken may be left out; the answer says what they cost.

            Example:
              revisit reading --refrigerant R-410A --metering txv --tons 2.5 --target-subcooling 10 --minutes 20 --outdoor 88
                --return-db 76 --return-wb 63 --supply-db 61 --suction-psig 140 --liquid-psig 345 --suction-line 62 --liquid-line 96
              revisit reading --file row.csv --json
            """)
        { refrigerant, metering, filter, method, si, json, file };
        foreach (var (option, _) in numbers)
        {
            command.Options.Add(option);
        }

        command.SetAction(result => Terminal.Guard(() =>
        {
            var text = new ReadingText(result.GetValue(si));
            void Print(ReadingAnswer answer, string? name) => Console.Write(result.GetValue(json) ? text.Json(answer, name) : text.Plain(answer, name));
            if (result.GetValue(file) is { } row)
            {
                foreach (var (visit, reading, answer) in FromFile(row.FullName))
                {
                    Print(answer, $"{visit} reading {reading}");
                }

                return;
            }

            var values = numbers.Where(n => result.GetValue(n.Option) is not null).ToDictionary(n => n.Option.Name, n => (n.Column, Value: result.GetValue(n.Option)!.Value));
            if (values.Count == 0)
            {
                throw new UserError("no reading was given: name at least the pressures, lines and air you have read, or a file with --file; 'revisit reading --help' shows an example.");
            }

            Print(ReadingAnswer.Of(ReadingOptions.ToInputs(values, result.GetValue(si), result.GetValue(refrigerant), result.GetValue(metering), result.GetValue(filter), result.GetValue(method))), null);
        }));
        return command;
    }

    /// <summary>Reads the rows as ingest does, in a lake of their own, so that the same values are set aside.</summary>
    private static List<(string Visit, int Reading, ReadingAnswer Answer)> FromFile(string path)
    {
        var folder = Directory.CreateTempSubdirectory("revisit-reading-").FullName;
        try
        {
            using var publication = Lake.At(folder).BeginPublication();
            var summary = IngestStage.Run(publication, [new(path, null)], null).Single();
            foreach (var (reason, count) in summary.RejectedByReason)
            {
                Terminal.Progress.Report($"{count} rows rejected: {reason}");
            }

            if (summary.SetAside > 0)
            {
                Terminal.Progress.Report($"{summary.SetAside} values cannot be right and were set aside; 'revisit ingest' says which");
            }

            var installs = ParquetTable.Read(publication.PathOf(publication.Pending.Find(Tables.Installs.Name, "all")!), Tables.Installs);
            return [.. publication.Pending.Of(Tables.Readings.Name).ToList().SelectMany(e => ReadingAnswer.Of(ParquetTable.Read(publication.PathOf(e), Tables.Readings), installs))];
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
