using System.CommandLine;
using Revisit.Diagnosis;
using Revisit.Storage;

namespace Revisit.Cli.Commands;

/// <summary>revisit diagnose: metrics, findings, outcomes and follow-ups for what changed.</summary>
internal static class DiagnoseCommand
{
    public static Command Make()
    {
        var lake = Options.Lake();
        var command = new Command("diagnose", """
            Work out metrics, findings, visit outcomes and follow-ups for the months that changed.

            Example:
              revisit diagnose --lake lake
            """)
        { lake };
        command.SetAction(result => Terminal.Guard(() =>
        {
            var opened = Lake.At(result.GetValue(lake)!);
            opened.MustExist(); // says so when there is no lake, before one is made
            using var publication = opened.BeginPublication();
            DiagnosisStage.Run(publication, Terminal.Progress);
            publication.Commit();
            Console.Error.WriteLine($"Next: revisit sql \"select finding, count(*) as readings from findings group by all order by 2 desc\" --lake {result.GetValue(lake)}");
        }));
        return command;
    }
}
