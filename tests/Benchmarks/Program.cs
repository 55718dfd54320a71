using Benchmarks;

// Each measured run is a process of its own (this program again), so that its peak memory is its own.
return args switch
{
    ["child", var task, .. var rest] => Children.Run(task, rest),
    ["ingest"] => IngestBenchmark.Run(rows: 1_000_000, runs: 5, record: false),
    ["ingest", "--record"] => IngestBenchmark.Run(rows: 1_000_000, runs: 5, record: true),
    ["physics"] => PhysicsBenchmark.Run(pressures: 1_000_000, readings: 20_000, solves: 20_000, runs: 5, record: false),
    ["physics", "--record"] => PhysicsBenchmark.Run(pressures: 1_000_000, readings: 20_000, solves: 20_000, runs: 5, record: true),
    ["diagnosis"] => DiagnosisBenchmark.Run(rows: 1_000_000, record: false),
    ["diagnosis", "--record"] => DiagnosisBenchmark.Run(rows: 1_000_000, record: true),
    ["diagnosis", var rows] => DiagnosisBenchmark.Run(int.Parse(rows, System.Globalization.CultureInfo.InvariantCulture), record: false),
    ["fleet"] => FleetBenchmark.Run(rows: 1_000_000, record: false),
    ["fleet", "--record"] => FleetBenchmark.Run(rows: 1_000_000, record: true),
    ["forecast"] => ForecastBenchmark.Run(train: 500_000, score: 1_000_000, record: false),
    ["forecast", "--record"] => ForecastBenchmark.Run(train: 500_000, score: 1_000_000, record: true),
    ["run", "--record"] => WholeRunBenchmark.Run([10_000, 1_000_000], record: true),
    ["run", .. var sizes] => WholeRunBenchmark.Run(sizes is [] ? [10_000, 1_000_000] : [.. sizes.Select(s => int.Parse(s, System.Globalization.CultureInfo.InvariantCulture))], record: false),
    ["quick"] => WholeRunBenchmark.Run([2_000], record: false) | ForecastBenchmark.Run(train: 2_000, score: 2_000, record: false) | FleetBenchmark.Run(rows: 5_000, record: false) | DiagnosisBenchmark.Run(rows: 5_000, record: false) | IngestBenchmark.Run(rows: 20_000, runs: 1, record: false) | PhysicsBenchmark.Run(pressures: 10_000, readings: 500, solves: 500, runs: 1, record: false),
    ["write", var path, var rows] => Write(path, rows),
    _ => Usage(),
};

static int Usage()
{
    Console.Error.WriteLine("""
        dotnet run -c Release --project tests/Benchmarks -- ingest [--record]   1 million readings: ingest against DuckDB's CSV to Parquet copy
        dotnet run -c Release --project tests/Benchmarks -- physics [--record]  saturation, metrics and the equipment model on one thread
        dotnet run -c Release --project tests/Benchmarks -- diagnosis [ROWS|--record]  1 million readings: metrics, findings and outcomes, Parquet in and out
        dotnet run -c Release --project tests/Benchmarks -- fleet [--record]    1 million readings: copied readings, crews, marts, checks
        dotnet run -c Release --project tests/Benchmarks -- forecast [--record]  train on 500,000 follow-ups, score 1 million installs
        dotnet run -c Release --project tests/Benchmarks -- run [READINGS…|--record]  the whole monthly run: 10 thousand and 1 million readings
        dotnet run -c Release --project tests/Benchmarks -- quick               all, small: shows that they run
        """);
    return 1;
}

static int Write(string path, string rows)
{
    PlainCsvFile.Write(path, int.Parse(rows, System.Globalization.CultureInfo.InvariantCulture));
    return 0;
}
