using System.Diagnostics;
using System.Globalization;
using System.Runtime.InteropServices;
using System.Text;

namespace Benchmarks;

/// <summary>
/// The whole monthly run, training included, as a user starts it: seconds of each stage, peak memory and bytes written, for simulated fleets of
/// several sizes, and how the cost grows from one to the next.
/// </summary>
internal static class WholeRunBenchmark
{
    /// <summary>Readings that the simulator's documented fleet gives an install, from start-up to the last visit of three years.</summary>
    private const double ReadingsAnInstall = 2.577;

    private static readonly string[] Stages = ["ingest", "diagnosis", "fleet", "forecast and worklist", "pages"];

    public static int Run(int[] sizes, bool record)
    {
        var runs = sizes.Select(Measure).ToList();
        FormattableString head = $"""
            # The whole monthly run

            Machine: {Environment.ProcessorCount} cores, {RuntimeInformation.OSArchitecture}, {RuntimeInformation.FrameworkDescription}, {RuntimeInformation.OSDescription}.
            `revisit run` on plain rows of simulated fleets (invented) of three years, one run each into an empty folder: nothing was there to be kept. Training is part of the forecast.
            Baseline: the smallest size; growth is the exponent b of seconds = a · readings^b from the row before.

            | readings | seconds | {string.Join(" | ", Stages)} | peak memory, MB | lake, MB | pages, MB | growth |
            |---|---|{string.Concat(Stages.Select(_ => "---|"))}---|---|---|---|

            """;
        var report = new StringBuilder(head.ToString(CultureInfo.InvariantCulture).ReplaceLineEndings("\n"));
        for (var i = 0; i < runs.Count; i++)
        {
            var r = runs[i];
            var growth = i == 0 ? "" : (Math.Log(r.Seconds / runs[i - 1].Seconds) / Math.Log((double)r.Readings / runs[i - 1].Readings)).ToString("0.00", CultureInfo.InvariantCulture);
            report.Append(CultureInfo.InvariantCulture, $"| {r.Readings:N0} | {r.Seconds:0.0} | {string.Join(" | ", r.Stages.Select(s => s.ToString("0.0", CultureInfo.InvariantCulture)))} | {r.Peak:0} | {r.Lake:0.0} | {r.Pages:0.0} | {growth} |\n");
        }

        Console.Write(report);
        if (record)
        {
            File.WriteAllText(Path.Combine("tests", "Benchmarks", "results", $"run-{Environment.ProcessorCount}-cores.md"), report.ToString());
        }

        return 0;
    }

    private static Measured Measure(int readings)
    {
        var folder = Directory.CreateTempSubdirectory("revisit-bench-").FullName;
        try
        {
            File.WriteAllText(Path.Combine(folder, "fleet.json"), string.Create(CultureInfo.InvariantCulture,
                $$"""{ "installs": {{(int)(readings / ReadingsAnInstall)}}, "first_day": "2023-11-01", "last_day": "2026-10-31", "dirt_share": 0 }"""));
            Start(folder, ["simulate", "fleet.json", "--folder", "fleet"], _ => { });
            File.WriteAllText(Path.Combine(folder, "run.yaml"), "lake: lake\npages: pages\nnote: \"Invented data.\"\ninputs:\n  - { files: fleet/readings.csv, profile: plain }\n");
            var begun = new List<double>();
            var (seconds, peak) = Start(folder, ["run", "run.yaml"], at => begun.Add(at));
            if (begun.Count != Stages.Length)
            {
                throw new InvalidOperationException($"the run told of {begun.Count} stages, not of {Stages.Length}");
            }

            return new(
                File.ReadLines(Path.Combine(folder, "fleet", "readings.csv")).Count() - 1, seconds, [.. begun.Skip(1).Append(seconds).Zip(begun, (end, start) => end - start)], peak,
                Megabytes(Path.Combine(folder, "lake")), Megabytes(Path.Combine(folder, "pages")));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    /// <summary>Runs the command line; tells when each stage began, and gives seconds and peak memory.</summary>
    private static (double Seconds, double PeakMegabytes) Start(string folder, string[] arguments, Action<double> stageBegan)
    {
        var watch = Stopwatch.StartNew();
        var start = new ProcessStartInfo("dotnet", [Path.Combine(AppContext.BaseDirectory, "revisit.dll"), .. arguments]) { WorkingDirectory = folder, RedirectStandardError = true, RedirectStandardOutput = true };
        using var process = Process.Start(start)!;
        var lines = new StringBuilder();
        process.OutputDataReceived += (_, _) => { };
        process.ErrorDataReceived += (_, line) =>
        {
            lines.AppendLine(line.Data);
            if (line.Data is { Length: > 3 } text && char.IsAsciiDigit(text[0]) && text[1..4] == "/5 ")
            {
                stageBegan(watch.Elapsed.TotalSeconds);
            }
        };
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
        var peak = 0.0;
        while (!process.WaitForExit(100))
        {
            peak = Math.Max(peak, Children.PeakMegabytes(process));
        }

        process.WaitForExit();
        return process.ExitCode == 0 ? (watch.Elapsed.TotalSeconds, peak) : throw new InvalidOperationException($"revisit {arguments[0]} ended with {process.ExitCode}:\n{lines}");
    }

    private static double Megabytes(string folder) => new DirectoryInfo(folder).EnumerateFiles("*", SearchOption.AllDirectories).Sum(f => f.Length) / 1e6;

    private sealed record Measured(int Readings, double Seconds, double[] Stages, double Peak, double Lake, double Pages);
}
