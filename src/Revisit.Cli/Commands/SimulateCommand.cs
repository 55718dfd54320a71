using System.CommandLine;
using System.Globalization;
using Revisit.Records;
using Revisit.Simulator;
using Revisit.Simulator.Exports;

namespace Revisit.Cli.Commands;

/// <summary>revisit simulate: an invented fleet as files, with its truth apart.</summary>
internal static class SimulateCommand
{
    public static Command Make()
    {
        var settings = new Argument<string?>("SETTINGS") { Description = "Settings of the fleet, such as synthetic-data/fleet.json; the documented defaults when left out", DefaultValueFactory = _ => null };
        var shape = new Option<string>("--shape") { Description = "plain: one file of plain rows, without dirt, and the truth beside it; dirty: plain rows with dirt and its key; branches: an export a branch, each in a shape of its own, with dirt and its keys", DefaultValueFactory = _ => "plain" }
            .AcceptOnlyFromAmong("plain", "dirty", "branches");
        var folder = new Option<string>("--folder") { Description = "Where to put the files", DefaultValueFactory = _ => "fleet" };
        var command = new Command("simulate", """
            Write an invented fleet of any size. What is true of it stands apart from what its records show.

            Examples:
              revisit simulate --folder fleet
              revisit simulate synthetic-data/fleet.json --shape branches --folder exports
            """)
        { settings, shape, folder };
        command.SetAction(result => Terminal.Guard(() =>
        {
            var (file, at) = (result.GetValue(settings), Path.GetFullPath(result.GetValue(folder)!));
            if (file is not null && !File.Exists(file))
            {
                throw new UserError($"There is no settings file {Path.GetFullPath(file)}. Name one, such as synthetic-data/fleet.json, or leave it out.");
            }

            var fleet = file is null ? new SimulatorSettings() : SimulatorSettings.Load(file);
            var readings = result.GetValue(shape) switch
            {
                "branches" => BranchExports.WriteFleet(at, fleet),
                "dirty" => BranchExports.WritePlainFleet(at, fleet),
                _ => SimulatorRun.WriteDemo(at, fleet, Terminal.Progress),
            };
            Console.Error.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{readings} readings of {fleet.Installs} installs, all invented"));
            Console.WriteLine(at);
        }));
        return command;
    }
}
