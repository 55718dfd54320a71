using System.CommandLine;
using Revisit.Simulator;

namespace Revisit.Cli.Commands;

/// <summary>revisit demo: an invented fleet, the whole month, and where the pages are.</summary>
internal static class DemoCommand
{
    private const string Note = "Invented data: the contractor, its crews, installs and readings were made up by the fleet simulator. No figure here says anything about real systems or people.";

    public static Command Make()
    {
        var folder = new Option<string>("--folder") { Description = "Where to put data, lake and pages", DefaultValueFactory = _ => "revisit-demo" };
        var installs = new Option<int?>("--installs") { Description = "Number of invented installs" };
        var command = new Command("demo", """
            Make a small invented fleet, run its whole month and say where the pages are.

            Examples:
              revisit demo
              revisit demo --folder try --installs 300
            """)
        { folder, installs };
        command.SetAction(result => Terminal.Guard(() =>
        {
            var root = Path.GetFullPath(result.GetValue(folder)!);
            var settings = new SimulatorSettings();
            settings = (settings with { Installs = result.GetValue(installs) ?? settings.Installs }).Checked();
            Console.Error.WriteLine($"0/5 inventing a fleet of {settings.Installs} installs in {root}");
            SimulatorRun.WriteDemo(Path.Combine(root, "data"), settings, Terminal.Progress);
            var pages = MonthlyRun.Run(new MonthlySettings
            {
                Folder = root,
                Inputs = [new MonthlyInput { Files = "data/readings.csv" }],
                Note = Note,
            }, null, listBefore: true);
            Console.Error.WriteLine($"Done: {pages.Count} files. Open the first in a browser; the others are linked from it:");
            Console.WriteLine(pages[0]);

            Console.Error.WriteLine($"Ask the tables: revisit sql \"select finding, count(*) as readings from findings group by all order by 2 desc\" --lake {Path.Combine(root, "lake")}");
        }));
        return command;
    }
}
