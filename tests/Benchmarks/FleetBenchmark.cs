using System.Diagnostics;
using System.Globalization;
using System.Runtime.InteropServices;
using Revisit.Diagnosis;
using Revisit.Fleet;
using Revisit.Ingest;
using Revisit.Records;
using Revisit.Storage;

namespace Benchmarks;

/// <summary>Everything the fleet stage makes of many readings: copied-readings statistic, crews, marts, checks; Parquet in and out.</summary>
internal static class FleetBenchmark
{
    public static int Run(int rows, bool record)
    {
        var folder = Directory.CreateTempSubdirectory("revisit-bench-").FullName;
        try
        {
            var csv = Path.Combine(folder, "readings.csv");
            PlainCsvFile.Write(csv, rows);
            var lake = Lake.At(Path.Combine(folder, "lake"));
            using (var publication = lake.BeginPublication())
            {
                _ = IngestStage.Run(publication, [new(csv, null)], null);
                DiagnosisStage.Run(publication, null);
                publication.Commit();
            }

            File.Delete(csv);
            var scans = Scans(lake);
            var steps = new Steps();
            var watch = Stopwatch.StartNew();
            using (var publication = lake.BeginPublication())
            {
                FleetStage.Run(publication, steps);
                publication.Commit();
            }

            var seconds = watch.Elapsed.TotalSeconds;
            var (copies, shared, marts, crews) = (steps.At("copy_questions"), steps.At("queries that several"), steps.LastMart, steps.At("crew_rates"));
            var all = marts - copies + seconds - crews;
            FormattableString text = $"""
                # The fleet stage on {rows:N0} readings, Parquet in and out

                Machine: {Environment.ProcessorCount} cores, {RuntimeInformation.OSArchitecture}, {RuntimeInformation.FrameworkDescription}, {RuntimeInformation.OSDescription}.
                One run, first of its process. Installs, visits and values are drawn evenly, so the load is that of a fleet, the rates are not.
                A plain scan is DuckDB reading the same columns of the same files and hashing every row, median of three, just before.

                | | seconds | plain scan of what it reads | ratio |
                |---|---|---|---|
                | marts: queries that several read | {shared - copies:0.0} | | |
                | marts: each written as Parquet | {marts - shared:0.0} | | |
                | marts: contracts and checks on all of them | {seconds - crews:0.0} | | |
                | **all marts (the SQL)** | {all:0.0} | {scans.Marts:0.00} | {all / scans.Marts:0} |
                | crews: comparisons, mistakes, changes, populations | {crews - marts:0.0} | {scans.Crews:0.00} | {(crews - marts) / scans.Crews:0} |
                | readings that look copied | {copies:0.0} | {scans.Copies:0.00} | {copies / scans.Copies:0} |
                | together | {seconds:0.0} | | |

                """;
            var report = text.ToString(CultureInfo.InvariantCulture);
            Console.Write(report);
            if (record)
            {
                File.WriteAllText(Path.Combine("tests", "Benchmarks", "results", $"fleet-{Environment.ProcessorCount}-cores.md"), report.ReplaceLineEndings("\n"));
            }

            return 0;
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    /// <summary>Seconds of a plain scan of what marts, crews and the copied-readings statistic read.</summary>
    private static (double Marts, double Crews, double Copies) Scans(Lake lake)
    {
        using var session = lake.OpenSession();
        var measured = string.Join(", ", Tables.MeasuredColumns);
        double Seconds(params string[] scans) => Timing.Median([.. Enumerable.Range(0, 3).Select(_ => scans.Sum(scan => Timing.Once(() =>
        {
            using var reader = session.Query($"select sum(hash({scan.Replace(" from ", ")::hugeint) from ", StringComparison.Ordinal)}");
            reader.Read();
        })) / 1e9)]);
        string[] installs = ["install_id, crew_id, installed_on, nominal_tons, refrigerant, metering, duct_location, blower_motor, line_set_ft from installs", "install_id, commissioning_visit_id, follow_up_visit_id, follow_up_state, follow_up_kind, followed_up_on, as_found_finding from follow_ups"];
        return (
            Seconds([$"visit_id, reading_no, install_id, crew_id, visited_on, source_id, {measured} from readings", "visit_id, reading_no, finding, cannot_judge_because from findings",
                "visit_id, reading_no, split_error_f, superheat_error_f, subcooling_error_f from metrics", .. installs]),
            Seconds([.. installs, "visit_id, reading_no, visited_on, outdoor_db_f, minutes_running, filter_state, return_wb_f, return_rh_pct, phase, correction from readings", "visit_id, reading_no, finding from findings"]),
            Seconds($"crew_id, visit_id, reading_no, install_id, visited_at, visited_on, outdoor_db_f, correction, {string.Join(", ", Revisit.Fleet.Copies.CopyReading.Columns)} from readings"));
    }

    private sealed class Steps : IProgress<string>
    {
        private readonly Stopwatch watch = Stopwatch.StartNew();
        private readonly List<(string Line, double Seconds)> lines = [];

        /// <summary>Seconds at which the last mart was made.</summary>
        public double LastMart => lines.Last(l => !l.Line.StartsWith("checks", StringComparison.Ordinal) && !l.Line.StartsWith("crew_rates", StringComparison.Ordinal)).Seconds;

        public double At(string start) => lines.First(l => l.Line.StartsWith(start, StringComparison.Ordinal)).Seconds;

        public void Report(string value) => lines.Add((value, watch.Elapsed.TotalSeconds));
    }
}
