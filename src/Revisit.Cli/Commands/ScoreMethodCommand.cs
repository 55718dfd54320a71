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
        var fleet = new Option<int?>("--fleet") { Description = "Score a simulated fleet of so many installs instead, through ingest and diagnosis" };
        var command = new Command("score-method", """
            Score the diagnosis on made readings whose truth is known: perturbed units of the equipment model, each with its own
            coils, settings and instrument errors. False alarms on sound systems come first. What holds on them holds for them;
            it is no measurement of the field.

            With --fleet, a simulated fleet is taken in and judged as a contractor's records are, and what was found is held against what
            the simulator knows. Only steady, complete readings count, and each row holds faults of its severity up to the next; of
            several faults, naming any one is right. Its faults were planted: its rates are no rates of the field either.

            Examples:
              revisit score-method --readings 500
              revisit score-method --fleet 5000
            """)
        { readings, seed, fleet };
        readings.Validators.Add(r =>
        {
            if (r.GetValueOrDefault<int>() is < 10 or > 100_000)
            {
                r.AddError("--readings: expected 10 to 100000");
            }
        });
        fleet.Validators.Add(r =>
        {
            if (r.GetValueOrDefault<int?>() is < 100 or > 1_000_000)
            {
                r.AddError("--fleet: expected 100 to 1000000");
            }
        });
        command.SetAction(result => Terminal.Guard(() =>
        {
            var from = (ulong)(uint)result.GetValue(seed);
            var score = result.GetValue(fleet) is { } installs
                ? FleetScore.Of(installs, from)
                : MethodScore.Of(new PerturbedSample(from), result.GetValue(readings), Terminal.Progress);
            Console.Write(score.ToText());
        }));
        return command;
    }
}
