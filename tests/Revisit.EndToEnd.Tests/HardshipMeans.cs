using System.Diagnostics;
using Revisit.Cli;
using Revisit.Storage;

namespace Revisit.EndToEnd.Tests;

/// <summary>How hardship is made, and what has to stand after it.</summary>
public sealed partial class HardshipTests
{
    private static string Revisit => $"'{Environment.GetEnvironmentVariable("DOTNET_HOST_PATH") ?? "dotnet"}' '{Command.Assembly}'";

    private static readonly string[] Parts = ["pipelines", "synthetic-data", "lake", "pages"];

    /// <summary>In full a month that goes on; else one that has ended.</summary>
    private (string Before, string After) Start() => InFull ? Onward() : (runs.Folder, runs.Folder);

    /// <summary>The month of three exports, and the month after a run that took in the fourth.</summary>
    private (string Before, string After) Onward()
    {
        var (before, after) = (folder.At("before"), folder.At("after"));
        CopyAll(Repository.Root, before, "pipelines", "synthetic-data/exports");
        WriteSettings(before, withLast: false);
        MonthlyRun.Run(MonthlySettings.Read(Path.Combine(before, Month), anywhere: true), null);
        WriteSettings(before, withLast: true);
        CopyAll(before, after);
        MonthlyRun.Run(MonthlySettings.Read(Path.Combine(after, Month), anywhere: true), null);
        return (before, after);
    }

    private static void WriteSettings(string at, bool withLast) => File.WriteAllLines(Path.Combine(at, Month),
        File.ReadAllLines(Path.Combine(Repository.Root, Month)).Where(l => withLast || !l.Contains("prairie.tsv", StringComparison.Ordinal)));

    private string CopyOfMonth(string name)
    {
        var at = folder.At(name);
        CopyAll(runs.Folder, at, "pipelines", "synthetic-data", "lake", "pages");
        return at;
    }

    private static void CopyAll(string from, string to, params string[] parts)
    {
        foreach (var part in parts.Length > 0 ? parts : ["."])
        {
            TestFolder.Copy(Path.Combine(from, part), Path.Combine(to, part));
        }
    }

    private static void RemoveAll(string at)
    {
        for (var attempt = 0; Directory.Exists(at) && attempt < 50; attempt++)
        {
            try
            {
                Directory.Delete(at, recursive: true);
            }
            catch (IOException)
            {
                Thread.Sleep(1); // the run made a file meanwhile
            }
        }
    }

    private static CatalogEntry FileOf(Lake lake, string area) => lake.ReadCatalog().Of(area).First();

    private static void Damage(Lake lake, CatalogEntry entry, string how)
    {
        var path = Path.Combine(lake.Folder, entry.File);
        var bytes = File.ReadAllBytes(path);
        switch (how)
        {
            case "gone":
                File.Delete(path);
                return;
            case "cut off":
                File.WriteAllBytes(path, bytes.Length > 0 ? bytes[..(bytes.Length / 2)] : [0]);
                return;
            default:
                if (bytes.Length == 0)
                {
                    bytes = [0];
                }

                bytes[bytes.Length / 2] ^= 1;
                File.WriteAllBytes(path, bytes);
                return;
        }
    }

    private static long Sizes(string at) => Directory.EnumerateFiles(at, "*", SearchOption.AllDirectories).Sum(f => (new FileInfo(f).Length + 4095) / 4096 * 4096) + 4096L * Directory.EnumerateDirectories(at, "*", SearchOption.AllDirectories).Count();

    private static void AssertSame(string expected, string actual)
    {
        var (a, b) = (FileHashes.Of(expected, "lake", "pages"), FileHashes.Of(actual, "lake", "pages"));
        Assert.True(a == b, FileHashes.Difference(a, b));
    }

    /// <summary>The tables alone: a lake that was removed has lost what earlier months said.</summary>
    private static void AssertSameTables(string expected, string actual)
    {
        string Of(string at) => string.Join('\n', FileHashes.Of(at, "lake").Split('\n').Where(l => !l.Contains("/past_", StringComparison.Ordinal) && !l.Contains("/look_back/", StringComparison.Ordinal) && !l.Contains(Catalog.FileName, StringComparison.Ordinal)));
        Assert.True(Of(expected) == Of(actual), FileHashes.Difference(Of(expected), Of(actual)));
    }

    /// <summary>The lake is the one before or the one after, and so are the pages.</summary>
    private static void AssertWhole(string at, string before, string after)
    {
        static string CatalogOf(string at) => File.ReadAllText(Path.Combine(at, "lake", Catalog.FileName));
        Assert.Contains(CatalogOf(at), new[] { CatalogOf(before), CatalogOf(after) });
        Assert.DoesNotContain(LakeCheck.Of(Lake.At(Path.Combine(at, "lake"))), f => f.IsWrong);
        static string Pages(string at) => string.Join('\n', FileHashes.Of(at, "pages").Split('\n').Where(l => l.Contains(".html", StringComparison.Ordinal) && !l.Contains("/.", StringComparison.Ordinal)));
        Assert.Contains(Pages(at), new[] { Pages(before), Pages(after) });
    }

    private static void WaitFor(Running running, string said)
    {
        while (!running.Error.Contains(said, StringComparison.Ordinal) && !running.HasExited)
        {
            Thread.Sleep(2);
        }
    }

    /// <summary>Runs a line of the shell where it may mount what it likes, seen by nobody else.</summary>
    private static Ended InMounts(string line)
    {
        var start = new ProcessStartInfo("unshare", ["-rm", "sh", "-c", line]) { RedirectStandardOutput = true, RedirectStandardError = true };
        start.Environment["DOTNET_TC_QuickJit"] = "1";
        using var process = Process.Start(start)!;
        var error = process.StandardError.ReadToEndAsync();
        var text = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return new(process.ExitCode, text, error.Result);
    }

    /// <summary>Runs where a process may make file systems of its own.</summary>
    private sealed class FactWithOwnMountsAttribute : FactAttribute
    {
        public FactWithOwnMountsAttribute()
        {
            var at = Path.GetTempPath();
            try
            {
                Skip = InMounts($"mount -t tmpfs -o size=64k tmpfs '{at}'").Code == 0 ? null : "this machine lets no process mount anything";
            }
            catch (System.ComponentModel.Win32Exception)
            {
                Skip = "this machine has no unshare";
            }
        }
    }
}
