using System.Diagnostics;
using System.Globalization;
using System.Runtime.InteropServices;

namespace Benchmarks;

/// <summary>Ingest of a plain CSV against DuckDB's own copy of the same file to Parquet, in turn, with the ratio pair by pair.</summary>
internal static class IngestBenchmark
{
    public static int Run(int rows, int runs, bool record)
    {
        var folder = Directory.CreateTempSubdirectory("revisit-bench-").FullName;
        try
        {
            var csv = Path.Combine(folder, "readings.csv");
            Console.Error.WriteLine($"writing {rows:N0} rows of {PlainCsvFile.Columns.Length} columns");
            PlainCsvFile.Write(csv, rows);
            var ingest = new List<(double Seconds, double Megabytes)>();
            var copy = new List<(double Seconds, double Megabytes)>();
            for (var i = -1; i < runs; i++)
            {
                var lake = Path.Combine(folder, "lake");
                if (Directory.Exists(lake))
                {
                    Directory.Delete(lake, recursive: true);
                }

                var a = Child("ingest", csv, lake, rows.ToString(CultureInfo.InvariantCulture));
                var b = Child("duckdb-copy", csv, Path.Combine(folder, "copy.parquet"));
                if (i >= 0)
                {
                    ingest.Add(a);
                    copy.Add(b);
                }
            }

            var ratios = ingest.Zip(copy, (a, b) => a.Seconds / b.Seconds).ToList();
            FormattableString text = $"""
                # Ingest against DuckDB's CSV to Parquet copy

                {rows:N0} readings, {PlainCsvFile.Columns.Length} columns, {new FileInfo(csv).Length / 1e6:0} MB of CSV; {runs} pairs after one warm-up, each run its own process.
                Machine: {Environment.ProcessorCount} cores, {RuntimeInformation.OSArchitecture}, {RuntimeInformation.FrameworkDescription}, {RuntimeInformation.OSDescription}.
                Baseline: `COPY (SELECT * FROM read_csv(…)) TO … (FORMAT parquet, COMPRESSION zstd)` with explicit column types and as many threads as cores.

                | | seconds: min, median, max | peak memory, MB: median |
                |---|---|---|
                | ingest (read, check, resolve saves, build months, verify, publish) | {Spread(ingest.Select(r => r.Seconds))} | {Median(ingest.Select(r => r.Megabytes)):0} |
                | DuckDB copy | {Spread(copy.Select(r => r.Seconds))} | {Median(copy.Select(r => r.Megabytes)):0} |
                | ratio | {Spread(ratios)} | |

                """;
            var report = text.ToString(CultureInfo.InvariantCulture);
            Console.Write(report);
            if (record)
            {
                File.WriteAllText(Path.Combine("tests", "Benchmarks", "results", $"ingest-{Environment.ProcessorCount}-cores.md"), report.ReplaceLineEndings("\n"));
            }

            return 0;
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static (double Seconds, double Megabytes) Child(params string[] arguments)
    {
        var start = new ProcessStartInfo(Environment.ProcessPath!) { RedirectStandardOutput = true };
        foreach (var argument in arguments.Prepend("child"))
        {
            start.ArgumentList.Add(argument);
        }

        using var process = Process.Start(start)!;
        var output = process.StandardOutput.ReadToEnd().Trim().Split(' ');
        process.WaitForExit();
        if (process.ExitCode != 0)
        {
            throw new InvalidOperationException($"{arguments[0]} ended with {process.ExitCode}");
        }

        return (double.Parse(output[0], CultureInfo.InvariantCulture), double.Parse(output[1], CultureInfo.InvariantCulture));
    }

    private static double Median(IEnumerable<double> values)
    {
        var sorted = values.Order().ToArray();
        return sorted.Length % 2 == 1 ? sorted[sorted.Length / 2] : (sorted[sorted.Length / 2 - 1] + sorted[sorted.Length / 2]) / 2;
    }

    private static string Spread(IEnumerable<double> values)
    {
        var list = values.ToList();
        return string.Create(CultureInfo.InvariantCulture, $"{list.Min():0.00}, **{Median(list):0.00}**, {list.Max():0.00}");
    }
}
