using System.CommandLine;
using Revisit.Diagnosis;

namespace Revisit.Cli.Commands;

/// <summary>revisit score-method: how the method does on made readings whose truth is known.</summary>
internal static class ScoreMethodCommand
{
    public static Command Make()
    {
        var readings = new Option<int>("--readings") { Description = "Readings for each fault and severity", DefaultValueFactory = _ => 1_000 };
        var seed = new Option<int>("--seed") { Description = "Seed of the made readings", DefaultValueFactory = _ => 1 };
        var command = new Command("score-method", """
            Score the diagnosis on made readings whose truth is known: perturbed units of the equipment model, each with its own
            coils, settings and instrument errors. False alarms on sound systems come first. What holds on them holds for them;
            it is no measurement of the field.

            Example:
              revisit score-method --readings 500
            """)
        { readings, seed };
        readings.Validators.Add(r =>
        {
            if (r.GetValueOrDefault<int>() is < 10 or > 100_000)
            {
                r.AddError("--readings: expected 10 to 100000");
            }
        });
        command.SetAction(result => Terminal.Guard(() =>
            Console.Write(MethodScore.Of(new PerturbedSample((ulong)(uint)result.GetValue(seed)), result.GetValue(readings), Terminal.Progress).ToText())));
        return command;
    }
}
