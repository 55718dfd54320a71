using Revisit.Diagnosis;
using Revisit.Fleet;
using Revisit.Forecast;
using Revisit.Forecast.Visits;
using Revisit.Ingest;
using Revisit.Records;
using Revisit.Report;
using Revisit.Storage;

namespace Revisit.Cli;

/// <summary>
/// The monthly run: the stages in order. All tables are published by one switch at the end, so a reader sees the month as it was
/// or as it is, whenever the run may die.
/// </summary>
internal static class MonthlyRun
{
    /// <summary>Runs the month and returns the paths of its pages.</summary>
    /// <param name="settings">What to read and where to write.</param>
    /// <param name="month">YYYY-MM; null for the latest month with readings.</param>
    /// <param name="listBefore">Whether the worklist of the month before is made first, of what was known then, to hold this month's visits against.</param>
    /// <param name="mend">Whether damaged files of the lake are made again, rather than refused.</param>
    public static IReadOnlyList<string> Run(MonthlySettings settings, string? month, bool listBefore = false, bool mend = false)
    {
        var lake = Lake.At(settings.Resolve(settings.Lake));
        var worklist = settings.ReadWorklist();
        string chosen;
        using (var publication = lake.BeginPublication())
        {
            var files = settings.Inputs.SelectMany(i => settings.FilesOf(i).Select(f => new IngestFile(f, Profiles.Find(i.Profile, settings.Folder)))).ToList();
            var mending = mend ? new Mending(lake, publication, Terminal.Progress) : null;
            Step(1, "taking in the exports");
            Commands.IngestCommand.Print(IngestStage.Run(publication, files, Terminal.Progress), Console.Error);
            mending?.MustHaveTakenIn();
            chosen = Month(publication, month);
            Step(2, "working out metrics and findings");
            DiagnosisStage.Run(publication, Terminal.Progress);
            Step(3, "counting the fleet");
            FleetStage.Run(publication, Terminal.Progress);
            Step(4, "forecasting follow-ups and making the worklist");
            var day = Months.LastDay(chosen);
            foreach (var asOf in listBefore ? [day.AddDays(-day.Day), day] : new[] { day })
            {
                ForecastStage.Run(publication, settings.Forecast, asOf, Terminal.Progress);
                WorklistStage.Run(publication, worklist, Terminal.Progress);
            }

            mending?.KeepHistory(Terminal.Progress);
            publication.Commit();
        }

        Step(5, $"writing the pages of {chosen}");
        using var session = lake.OpenSession();
        var pages = ReportStage.Run(session, settings.Resolve(settings.Pages), chosen, Terminal.Progress, settings.PageSettings);
        SettingsFile.Write(Path.Combine(settings.Resolve(settings.Pages), $"{chosen}-settings.yaml"), settings);
        SettingsFile.Write(Path.Combine(settings.Resolve(settings.Pages), $"{chosen}-worklist.yaml"), worklist);
        return pages;
    }

    private static void Step(int number, string what) => Console.Error.WriteLine($"{number}/5 {what}");

    private static string Month(Publication publication, string? month)
    {
        var months = publication.Pending.Of(Tables.Readings.Name).Select(e => e.Partition).Order(StringComparer.Ordinal).ToList();
        if (months.Count == 0)
        {
            throw new UserError("The exports hold no reading that could be accepted, so there is no month to run. The lines above say why; nothing was published.");
        }

        if (month is not null && !months.Contains(month))
        {
            throw new UserError($"There are no readings in month '{month}'. Months with readings (YYYY-MM): {string.Join(", ", months)}.");
        }

        return month ?? months[^1];
    }
}
