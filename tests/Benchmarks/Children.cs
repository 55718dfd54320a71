using System.Diagnostics;
using System.Globalization;
using DuckDB.NET.Data;
using Revisit.Ingest;
using Revisit.Records;
using Revisit.Storage;

namespace Benchmarks;

/// <summary>The measured tasks. A child prints its wall seconds and its peak resident memory in MB.</summary>
internal static class Children
{
    public static int Run(string task, string[] arguments)
    {
        var watch = Stopwatch.StartNew();
        switch (task)
        {
            case "ingest":
                using (var publication = Lake.At(arguments[1]).BeginPublication())
                {
                    var summaries = IngestStage.Run(publication, [new(arguments[0], null)], Environment.GetEnvironmentVariable("TRACE") is null ? null : new Timed(watch));
                    publication.Commit();
                    if (summaries[0].Accepted != int.Parse(arguments[2], CultureInfo.InvariantCulture))
                    {
                        Console.Error.WriteLine($"accepted {summaries[0].Accepted} of {arguments[2]}");
                        return 1;
                    }
                }

                break;
            case "duckdb-copy":
                Copy(arguments[0], arguments[1]);
                break;
            default:
                return 1;
        }

        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{watch.Elapsed.TotalSeconds:0.000} {PeakMegabytes(Process.GetCurrentProcess()):0}"));
        return 0;
    }

    private static void Copy(string csv, string parquet)
    {
        var columns = string.Join(", ", PlainCsvFile.Columns.Select(c => $"'{c}': '{LakeSession.SqlType(Nomenclature.Of(c).Kind)}'"));
        using var connection = new DuckDBConnection("DataSource=:memory:");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = $"""
            SET threads = {Environment.ProcessorCount};
            COPY (SELECT * FROM read_csv({LakeSession.Literal(csv)}, columns = {"{"}{columns}{"}"}, header = true, delim = ',', quote = '"', auto_detect = false))
            TO {LakeSession.Literal(parquet)} (FORMAT parquet, COMPRESSION zstd);
            """;
        command.ExecuteNonQuery();
    }

    /// <summary>Peak resident memory of a process; 0 when it has ended.</summary>
    public static double PeakMegabytes(Process process)
    {
        if (!OperatingSystem.IsLinux())
        {
            return process.PeakWorkingSet64 / 1e6;
        }

        try
        {
            var line = File.ReadLines($"/proc/{process.Id}/status").FirstOrDefault(l => l.StartsWith("VmHWM:", StringComparison.Ordinal));
            return line is null ? 0 : double.Parse(line.Split(' ', StringSplitOptions.RemoveEmptyEntries)[^2], CultureInfo.InvariantCulture) / 1024;
        }
        catch (IOException)
        {
            return 0;
        }
    }
}

/// <summary>Shows when each step was reached.</summary>
internal sealed class Timed(Stopwatch watch) : IProgress<string>
{
    public void Report(string value) => Console.Error.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{watch.Elapsed.TotalSeconds,8:0.00} s {Process.GetCurrentProcess().TotalProcessorTime.TotalSeconds,8:0.00} cpu {GC.CollectionCount(0)}/{GC.CollectionCount(1)}/{GC.CollectionCount(2)} gcs {GC.GetTotalPauseDuration().TotalSeconds:0.00} s paused, {GC.GetTotalMemory(false) >> 20} MB live, {Environment.WorkingSet >> 20} MB resident  {value}"));
}
