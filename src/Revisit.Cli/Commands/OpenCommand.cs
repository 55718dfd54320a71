using System.CommandLine;
using System.ComponentModel;
using System.Diagnostics;
using Revisit.Records;

namespace Revisit.Cli.Commands;

/// <summary>revisit open: the pages of a month in the browser.</summary>
internal static class OpenCommand
{
    public static Command Make()
    {
        var pages = new Argument<string>("PAGES") { Description = "Folder with the pages of the months", DefaultValueFactory = _ => "pages" };
        var month = new Option<string?>("--month") { Description = "Month, YYYY-MM; the latest there is when left out" };
        var pdf = new Option<bool>("--pdf") { Description = "Print the owner's page to MONTH-owner.pdf beside the month's folder, instead of opening it" };
        var command = new Command("open", """
            Open the owner's page of a month in the browser; the other pages are linked from it. Its path is printed as well.
            With --pdf it is printed to a file by Chromium, where there is one.

            Examples:
              revisit open revisit-demo/pages
              revisit open pages --month 2026-08
              revisit open pages --pdf
            """)
        { pages, month, pdf };
        command.SetAction(result => Terminal.Guard(() =>
        {
            var page = Find(result.GetValue(pages)!, result.GetValue(month));
            if (result.GetValue(pdf))
            {
                var printed = Path.GetDirectoryName(page)! + "-owner.pdf";
                Chromium.Print(page, printed);
                Console.WriteLine(printed);
                return;
            }

            Console.WriteLine(page);
            try
            {
                using var started = Process.Start(new ProcessStartInfo(page) { UseShellExecute = true });
            }
            catch (Exception e) when (e is Win32Exception or PlatformNotSupportedException)
            {
                Console.Error.WriteLine($"No program opens pages here ({e.Message}). Open the file above in a browser.");
            }
        }));
        return command;
    }

    private static string Find(string pages, string? month)
    {
        var months = !Directory.Exists(pages) ? [] : Directory.EnumerateDirectories(pages).Where(d => File.Exists(Path.Combine(d, "index.html"))).Select(d => Path.GetFileName(d)!).Order(StringComparer.Ordinal).ToList();
        if (months.Count == 0)
        {
            throw new UserError($"There are no pages in {Path.GetFullPath(pages)}. Name the folder that holds the months, as 'revisit run' or 'revisit demo' printed it.");
        }

        var chosen = month ?? months[^1];
        return months.Contains(chosen) ? Path.GetFullPath(Path.Combine(pages, chosen, "index.html"))
            : throw new UserError($"There are no pages of month '{chosen}' in {Path.GetFullPath(pages)}. Months (YYYY-MM): {string.Join(", ", months)}.");
    }
}
