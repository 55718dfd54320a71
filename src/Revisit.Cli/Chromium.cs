using System.ComponentModel;
using System.Diagnostics;
using Revisit.Records;

namespace Revisit.Cli;

/// <summary>A Chromium on this machine, used to print a page to PDF.</summary>
internal static class Chromium
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);
    private static readonly string[] Names = ["chromium", "chromium-browser", "google-chrome", "chrome", "msedge"];

    /// <summary>Prints a page.</summary>
    /// <param name="page">Path of the page.</param>
    /// <param name="pdf">File to write; one that is there is replaced.</param>
    /// <exception cref="UserError">There is no Chromium, or it did not print.</exception>
    public static void Print(string page, string pdf)
    {
        var program = Find() ?? throw new UserError("There is no Chromium here to print with. Install it, or name its program in the variable CHROMIUM; or open the page in any browser and print it from there.");
        var profile = Directory.CreateTempSubdirectory("revisit-print-").FullName;
        try
        {
            string[] arguments =
            [
                "--headless", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-quic",
                // Its sandbox refuses to run as root; the page is our own and loads nothing.
                .. Environment.UserName == "root" ? ["--no-sandbox"] : (string[])[],
                $"--user-data-dir={profile}", "--virtual-time-budget=10000", "--no-pdf-header-footer", $"--print-to-pdf={pdf}", new Uri(page).AbsoluteUri,
            ];
            File.Delete(pdf);
            var start = new ProcessStartInfo(program) { RedirectStandardError = true, RedirectStandardOutput = true };
            Array.ForEach(arguments, start.ArgumentList.Add);
            using var run = Process.Start(start)!;
            var said = Task.WhenAll(run.StandardError.ReadToEndAsync(), run.StandardOutput.ReadToEndAsync());
            if (!run.WaitForExit(Patience))
            {
                run.Kill(entireProcessTree: true);
                throw new UserError($"{program} did not print {page} within {Patience.TotalSeconds:0} s.");
            }

            if (!File.Exists(pdf)) throw new UserError($"{program} did not print {page}: {string.Concat(said.Result).Trim()}");
        }
        catch (Win32Exception e)
        {
            throw new UserError($"{program} could not be started: {e.Message}");
        }
        finally
        {
            Directory.Delete(profile, recursive: true);
        }
    }

    private static string? Find()
    {
        if (Environment.GetEnvironmentVariable("CHROMIUM") is { Length: > 0 } named) return File.Exists(named) ? named : throw new UserError($"The variable CHROMIUM names {named}, which is not there.");
        var folders = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator, StringSplitOptions.RemoveEmptyEntries);
        return Names.SelectMany(n => folders.SelectMany(f => new[] { Path.Combine(f, n), Path.Combine(f, n + ".exe") })).FirstOrDefault(File.Exists);
    }
}
