using System.CommandLine;
using Revisit.Report;
using Revisit.Storage;

namespace Revisit.Cli.Commands;

/// <summary>revisit report: the pages again, from the tables as they are.</summary>
internal static class ReportCommand
{
    public static Command Make()
    {
        var file = new Argument<string>("SETTINGS") { Description = "Settings of the monthly run, such as pipelines/monthly.yaml" };
        var month = new Option<string?>("--month") { Description = "Last month to write, YYYY-MM; the latest with readings when left out" };
        var months = new Option<int>("--months") { Description = "How many months, up to that one", DefaultValueFactory = _ => 1 };
        var anywhere = Options.Anywhere();
        var command = new Command("report", """
            Write the pages of one month or several again from the tables as they are; nothing is taken in or computed anew.

            Examples:
              revisit report pipelines/monthly.yaml
              revisit report pipelines/monthly.yaml --month 2026-08 --months 12
            """)
        { file, month, months, anywhere };
        months.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<int>() is < 1 or > 120) result.AddError("--months is 1 to 120.");
        });
        command.SetAction(result => Terminal.Guard(() =>
        {
            var settings = MonthlySettings.Read(result.GetValue(file)!, result.GetValue(anywhere));
            using var session = Lake.At(settings.Resolve(settings.Lake)).OpenSession();
            var last = Months.LastDay(result.GetValue(month), session.Catalog);
            foreach (var back in Enumerable.Range(0, result.GetValue(months)).Reverse())
            {
                Console.WriteLine(ReportStage.Run(session, settings.Resolve(settings.Pages), ReportMonth.Label(last.AddMonths(-back)), Terminal.Progress, settings.PageSettings)[0]);
            }
        }));
        return command;
    }
}
