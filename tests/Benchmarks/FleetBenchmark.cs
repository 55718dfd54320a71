using System.Diagnostics;
using System.Globalization;
using System.Runtime.InteropServices;
using Revisit.Diagnosis;
using Revisit.Fleet;
using Revisit.Ingest;
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
            var steps = new Steps();
            var watch = Stopwatch.StartNew();
            using (var publication = lake.BeginPublication())
            {
                FleetStage.Run(publication, steps);
                publication.Commit();
            }

            var seconds = watch.Elapsed.TotalSeconds;
            var (copies, crews, marts) = (steps.At("copy_questions"), steps.At("crew_rates"), steps.LastMart);
            FormattableString text = $"""
                # The fleet stage on {rows:N0} readings, Parquet in and out

                Machine: {Environment.ProcessorCount} cores, {RuntimeInformation.OSArchitecture}, {RuntimeInformation.FrameworkDescription}, {RuntimeInformation.OSDescription}.
                One run, first of its process. Installs, visits and values are drawn evenly, so the load is that of a fleet, the rates are not.

                | | seconds |
                |---|---|
                | readings that look copied | {copies:0.0} |
                | crews: comparisons, mistakes, changes, populations | {crews - copies:0.0} |
                | all marts | {marts - crews:0.0} |
                | contracts and checks on all of them | {seconds - marts:0.0} |
                | together | {seconds:0.0} |

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

    private sealed class Steps : IProgress<string>
    {
        private readonly Stopwatch watch = Stopwatch.StartNew();
        private readonly List<(string Line, double Seconds)> lines = [];

        /// <summary>Seconds at which the last mart was made.</summary>
        public double LastMart => lines.Last(l => !l.Line.StartsWith("checks", StringComparison.Ordinal)).Seconds;

        public double At(string start) => lines.First(l => l.Line.StartsWith(start, StringComparison.Ordinal)).Seconds;

        public void Report(string value) => lines.Add((value, watch.Elapsed.TotalSeconds));
    }
}
