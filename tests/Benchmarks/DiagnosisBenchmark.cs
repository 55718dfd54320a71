using System.Diagnostics;
using System.Globalization;
using System.Runtime.InteropServices;
using Revisit.Diagnosis;
using Revisit.Ingest;
using Revisit.Storage;

namespace Benchmarks;

/// <summary>
/// Metrics, findings and outcomes of many readings with Parquet in and out on all cores, beside the metric kernel alone on one core
/// over the same kind of readings in memory.
/// </summary>
internal static class DiagnosisBenchmark
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
                publication.Commit();
            }

            File.Delete(csv);
            var kernel = Kernel(Math.Min(rows, 200_000));
            var allocated = GC.GetTotalAllocatedBytes();
            var processor = Environment.CpuUsage.TotalTime;
            var watch = Stopwatch.StartNew();
            using (var publication = lake.BeginPublication())
            {
                DiagnosisStage.Run(publication, Environment.GetEnvironmentVariable("TRACE") is null ? null : new Timed(watch));
                publication.Commit();
            }

            var (seconds, bytes) = (watch.Elapsed.TotalSeconds, GC.GetTotalAllocatedBytes() - allocated);
            var used = (Environment.CpuUsage.TotalTime - processor).TotalSeconds;
            FormattableString text = $"""
                # Diagnosis of {rows:N0} readings, Parquet in and out

                Machine: {Environment.ProcessorCount} cores, {RuntimeInformation.OSArchitecture}, {RuntimeInformation.FrameworkDescription}, {RuntimeInformation.OSDescription}.
                One run, first of its process: it compiles the code and fills the tables of the equipment model as it goes.

                | | |
                |---|---|
                | readings a second, all cores | {rows / seconds:N0} |
                | seconds | {seconds:0.0} |
                | processor seconds | {used:0.0} |
                | allocated, bytes a reading | {(double)bytes / rows:N0} |
                | metric kernel alone, one core, readings a second | {kernel:N0} |
                | time of a reading over the kernel's, core for core | {seconds * Environment.ProcessorCount / rows * kernel:0.0} |

                """;
            var report = text.ToString(CultureInfo.InvariantCulture);
            Console.Write(report);
            if (record)
            {
                File.WriteAllText(Path.Combine("tests", "Benchmarks", "results", $"diagnosis-{Environment.ProcessorCount}-cores.md"), report.ReplaceLineEndings("\n"));
            }

            return 0;
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static double Kernel(int readings)
    {
        var sample = new PerturbedSample(1);
        var inputs = Enumerable.Range(0, 5_000).Select(_ => sample.NextOfPrior().Inputs).ToArray();
        var metrics = new MetricSet();
        var best = double.PositiveInfinity;
        for (var run = 0; run < 3; run++)
        {
            var watch = Stopwatch.StartNew();
            for (var i = 0; i < readings; i++)
            {
                ReadingMetrics.Compute(inputs[i % inputs.Length], metrics);
            }

            best = Math.Min(best, watch.Elapsed.TotalSeconds);
        }

        return readings / best;
    }
}
