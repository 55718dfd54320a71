using System.CommandLine;

namespace Revisit.Cli.Commands;

/// <summary>revisit run: the whole month.</summary>
internal static class RunCommand
{
    public static Command Make()
    {
        var file = new Argument<string>("SETTINGS") { Description = "Settings of the monthly run, such as pipelines/monthly.yaml" };
        var month = new Option<string?>("--month") { Description = "Month of the pages, YYYY-MM; the latest with readings when left out" };
        var mend = new Option<bool>("--mend") { Description = "Make damaged files of the lake again from what they were made from" };
        var anywhere = Options.Anywhere();
        var command = new Command("run", """
            Run the whole month: take in the exports, diagnose, count, forecast, write the pages.

            Examples:
              revisit run pipelines/monthly.yaml
              revisit run pipelines/monthly.yaml --month 2026-08
              revisit run pipelines/monthly.yaml --mend
            """)
        { file, month, mend, anywhere };
        command.SetAction(result => Terminal.Guard(() =>
        {
            Console.WriteLine(MonthlyRun.Run(MonthlySettings.Read(result.GetValue(file)!, result.GetValue(anywhere)), result.GetValue(month), mend: result.GetValue(mend))[0]);
        }));
        return command;
    }
}
