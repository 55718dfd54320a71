using System.Diagnostics;
using System.Globalization;
using DuckDB.NET.Data;
using Revisit.Records;
using Revisit.Simulator;
using Revisit.Storage;
using Xunit.Abstractions;

namespace Revisit.EndToEnd.Tests;

/// <summary>
/// A run killed at any moment harms nothing: readers see the lake before or after, never between, and the next run ends with
/// the very bytes of a run that nobody disturbed.
/// </summary>
public sealed class KillTests(ITestOutputHelper output) : IDisposable
{
    private const int KillsInARow = 4, Lanes = 2;

    /// <summary>Two runs at once take longer than one alone.</summary>
    private const double Slower = 1.3;
    private static readonly int Kills = int.Parse(Environment.GetEnvironmentVariable("REVISIT_KILLS") ?? "20", CultureInfo.InvariantCulture) / KillsInARow * KillsInARow;
    private readonly TestFolder folder = new();

    [Fact]
    public async Task A_killed_run_leaves_the_lake_whole_and_the_next_run_ends_the_same()
    {
        WriteInput();
        var onward = Undisturbed("onward", early: true);
        var fresh = Undisturbed("fresh", early: false);
        Assert.NotEqual(onward.Before, onward.After);

        // Two start points in turn: no lake yet, and a lake that holds the months before. Moments are drawn from a seed, one in each
        // slice of the run; each trial is killed several times, begun again over what the kill left, and ends untouched.
        var random = new Random(int.Parse(Environment.GetEnvironmentVariable("REVISIT_KILL_SEED") ?? "20261125", CultureInfo.InvariantCulture));
        var moments = Enumerable.Range(0, Kills).Select(i => (i + random.NextDouble()) / Kills).ToArray();
        var trials = Enumerable.Range(0, Kills / KillsInARow).Select(t => (Number: t, Start: t % 2 == 0 ? fresh : onward, Shares: moments.Where((_, i) => i % (Kills / KillsInARow) == t).ToArray()));
        var killed = new string[Kills / KillsInARow][];
        await Task.WhenAll(trials.GroupBy(t => t.Number / 2 % Lanes).Select(lane => OnThreadOfItsOwn(() =>
        {
            foreach (var t in lane)
            {
                killed[t.Number] = Trial(t.Number, t.Start, t.Shares);
            }
        })));

        foreach (var line in killed.SelectMany(k => k))
        {
            output.WriteLine(line);
        }

        foreach (var stage in killed.SelectMany(k => k).GroupBy(l => l.Split(", ")[1].Split(';')[0]))
        {
            FaultTable.Keep($"SIGKILL: {stage.Key}", $"moments drawn from a seed over a whole run, {KillsInARow} in a row, over no lake and over an earlier one; then a run to the end", stage.Count(),
                "a reader saw the lake before or after, every file as it was written, whole pages; the next run ended with the bytes of an undisturbed one", "none: killed", [137], adds: true);
        }

        output.WriteLine($"{Kills} kills of a running process; {fresh.Files} and {onward.Files} files compared after each {KillsInARow}");
        Assert.Equal(Kills, killed.Sum(k => k.Count(line => line.Contains("killed", StringComparison.Ordinal))));
    }

    [Fact]
    public void Half_a_month_would_be_seen()
    {
        WriteInput();
        var run = Undisturbed("twin", early: false);
        var at = folder.At("twin");
        var lake = Lake.At(Path.Combine(at, "lake"));
        Assert.Equal(run.After, Look(lake));

        // As if a month's findings had been published without the rest.
        using (var publication = lake.BeginPublication())
        {
            publication.Remove(Tables.Findings.Name, publication.Pending.Of(Tables.Findings.Name).First().Partition);
            publication.Commit();
        }

        Assert.StartsWith("half a month", Look(lake), StringComparison.Ordinal);
        Assert.NotEqual(run.Hashes, Hashes(at));
    }

    public void Dispose() => folder.Dispose();

    private string[] Trial(int number, Start start, double[] shares)
    {
        var name = $"kill-{number}";
        var at = Prepare(name, start.Early);
        var lines = shares.Select(share => Kill(name, start, share)).ToArray();
        var killed = string.Join("\n", lines);
        Command.Run(at, "run", "settings.yaml", "--anywhere").Well();
        Assert.Equal(start.After, Look(Lake.At(Path.Combine(at, "lake"))));
        Assert.True(start.Hashes == Hashes(at), $"{killed}\ndiffers from the undisturbed run:\n{FileHashes.Difference(start.Hashes, Hashes(at))}");
        Directory.Delete(at, recursive: true);
        return lines;
    }

    /// <summary>Begins a run over what stands there, kills it, and looks at what a reader saw and sees.</summary>
    private string Kill(string name, Start start, double share)
    {
        var at = folder.At(name);
        for (var attempt = 0; ; attempt++)
        {
            var seen = new List<string>();
            using var running = new Running(at, ["run", "settings.yaml", "--anywhere"]);
            var watch = Stopwatch.StartNew();
            using var stop = new CancellationTokenSource();
            var reader = OnThreadOfItsOwn(() => Watch(Path.Combine(at, "lake"), seen, stop.Token));
            var moment = start.Seconds * share * Math.Pow(0.8, attempt);
            Thread.Sleep(TimeSpan.FromSeconds(Math.Max(0, moment - watch.Elapsed.TotalSeconds)));
            var hit = running.Kill();
            var stage = running.Error.Split('\n', StringSplitOptions.RemoveEmptyEntries).LastOrDefault(l => l.Contains("/5 ", StringComparison.Ordinal)) ?? "before the first step";
            stop.Cancel();
            reader.GetAwaiter().GetResult();
            if (!hit && attempt < 8)
            {
                // A process that had ended before its moment is no kill: begin afresh, somewhat earlier.
                Directory.Delete(at, recursive: true);
                Prepare(name, start.Early);
                continue;
            }

            Add(seen, Look(Lake.At(Path.Combine(at, "lake"))));
            var strange = seen.Except([start.Before, start.After]).ToList();
            Assert.True(strange.Count == 0, $"{name} at {stage}: a reader saw {string.Join(" / ", strange)}; expected {start.Before} or {start.After}");
            AssertPagesWhole(at);
            Assert.True(!File.Exists(Path.Combine(at, "lake", Catalog.FileName)) || !LakeCheck.Of(Lake.At(Path.Combine(at, "lake"))).Any(f => f.IsWrong), $"{name} at {stage}: a file of the lake is not as it was written");
            return string.Create(CultureInfo.InvariantCulture, $"{name,-8} {(start.Early ? "over an earlier lake" : "no lake yet"),-20} {(hit ? "killed" : "missed")} at {moment / start.Seconds,4:0%} of the run, {stage}; seen: {string.Join(", then ", seen)}");
        }
    }

    /// <summary>Runs to the end, untouched, and keeps what it made.</summary>
    private Start Undisturbed(string name, bool early)
    {
        var at = Prepare(name, early);
        var before = Look(Lake.At(Path.Combine(at, "lake")));
        var watch = Stopwatch.StartNew();
        var ended = Command.Run(at, "run", "settings.yaml", "--anywhere").Well();
        var seconds = Slower * watch.Elapsed.TotalSeconds;
        output.WriteLine(string.Join('\n', ended.Error.Split('\n').Where(l => l.Contains("airflow:", StringComparison.Ordinal) || l.Contains("charge:", StringComparison.Ordinal))));
        var hashes = Hashes(at);
        var start = new Start(early, before, Look(Lake.At(Path.Combine(at, "lake"))), hashes, hashes.Count(c => c == '\n'), seconds);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"undisturbed {name}, {seconds:0.0} s allowed, {start.Files} files, {before} -> {start.After}"));
        return start;
    }

    private string Prepare(string name, bool early)
    {
        var at = folder.At(name);
        var base_ = folder.At("base");
        lock (folder)
        {
            if (early && !Directory.Exists(base_))
            {
                folder.Write(Path.Combine("base", "settings.yaml"), "inputs:\n  - { files: ../input/early.csv }\n");
                Command.Run(base_, "run", "settings.yaml", "--anywhere").Well();
            }
        }

        if (early)
        {
            TestFolder.Copy(base_, at);
        }

        folder.Write(Path.Combine(name, "settings.yaml"), "inputs:\n  - { files: ../input/early.csv }\n  - { files: ../input/late.csv }\n");
        return at;
    }

    /// <summary>An invented fleet of few months, split into an earlier and a later export that share the month of the split.</summary>
    private void WriteInput()
    {
        // The small fleet has too few follow-ups to train a model, which keeps this short; REVISIT_KILL_TRAINING=1 takes one that has enough.
        var settings = new SimulatorSettings { Installs = 150, FirstDay = new(2026, 6, 1), LastDay = new(2026, 8, 31) };
        if (Environment.GetEnvironmentVariable("REVISIT_KILL_TRAINING") == "1")
        {
            settings = settings with { Installs = 220, FirstDay = new(2026, 5, 1), QualityCheckShare = 0.6 };
        }

        SimulatorRun.WriteDemo(folder.At("input"), settings);
        var lines = File.ReadAllLines(folder.At("input", "readings.csv"));
        var column = Array.IndexOf(lines[0].Split(','), "visited_at");
        var late = lines.Skip(1).ToLookup(l => string.CompareOrdinal(l.Split(',')[column], "2026-07-15") >= 0);
        Assert.All([true, false], k => Assert.True(late[k].Count() > 50));
        File.WriteAllLines(folder.At("input", "early.csv"), late[false].Prepend(lines[0]));
        File.WriteAllLines(folder.At("input", "late.csv"), late[true].Prepend(lines[0]));
        File.Delete(folder.At("input", "readings.csv"));
    }

    /// <summary>What waits for processes must not take the threads of the pool, which read what the processes say.</summary>
    private static Task OnThreadOfItsOwn(Action work) => Task.Factory.StartNew(work, CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default);

    private static void Watch(string lake, List<string> seen, CancellationToken stop)
    {
        while (!stop.IsCancellationRequested)
        {
            Add(seen, Look(Lake.At(lake)));
            stop.WaitHandle.WaitOne(150);
        }
    }

    private static void Add(List<string> seen, string state)
    {
        if (seen.Count == 0 || seen[^1] != state)
        {
            seen.Add(state);
        }
    }

    /// <summary>What a reader sees: no lake, whole months with so many readings, or a month whose tables do not agree.</summary>
    private static string Look(Lake lake)
    {
        for (var attempt = 0; ; attempt++)
        {
            if (!File.Exists(Path.Combine(lake.Folder, Catalog.FileName)))
            {
                return "no lake";
            }

            var catalog = lake.ReadCatalog();
            try
            {
                using var session = lake.OpenSession();
                using var reader = session.Query("""
                    with n as (
                        select strftime(visited_on, '%Y-%m') as month, 1 as r, 0 as m, 0 as f from readings
                        union all select strftime(visited_on, '%Y-%m'), 0, 1, 0 from metrics
                        union all select strftime(visited_on, '%Y-%m'), 0, 0, 1 from findings),
                    months as (select month, sum(r)::bigint as r, sum(m)::bigint as m, sum(f)::bigint as f from n group by all)
                    select coalesce(sum(r), 0)::bigint, count(*), coalesce(string_agg(month || ' ' || r || '/' || m || '/' || f, ', ' order by month) filter (r <> m or r <> f), '') from months
                    """);
                reader.Read();
                return reader.GetString(2) is { Length: > 0 } half
                    ? "half a month: " + half
                    : string.Create(CultureInfo.InvariantCulture, $"{reader.GetInt64(0)} readings in {reader.GetInt64(1)} months");
            }
            catch (DuckDBException) when (attempt < 5 && !lake.ReadCatalog().Entries.SequenceEqual(catalog.Entries))
            {
                // Published anew between opening and reading: look again.
            }
        }
    }

    private static void AssertPagesWhole(string at)
    {
        var pages = Path.Combine(at, "pages");
        foreach (var page in Directory.Exists(pages) ? Directory.EnumerateDirectories(pages).Where(d => !Path.GetFileName(d).StartsWith('.')).SelectMany(Directory.GetFiles) : [])
        {
            Assert.EndsWith(page.EndsWith(".js", StringComparison.Ordinal) ? "}));" : "</html>", File.ReadAllText(page).TrimEnd(), StringComparison.Ordinal);
        }
    }

    private static string Hashes(string at) => FileHashes.Of(at, "lake", "pages");

    /// <summary>A way to start, and what an undisturbed run makes of it.</summary>
    private sealed record Start(bool Early, string Before, string After, string Hashes, int Files, double Seconds);
}
