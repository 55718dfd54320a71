using System.CommandLine;

namespace Revisit.Cli.Commands;

/// <summary>revisit score-forecast: how the forecast does on simulated fleets.</summary>
internal static class ScoreForecastCommand
{
    public static Command Make()
    {
        var installs = new Option<int>("--fleet") { Description = "Installs of each fleet", DefaultValueFactory = _ => 5_000 };
        var fleets = new Option<int>("--fleets") { Description = "How many fleets, each with the next seed", DefaultValueFactory = _ => 3 };
        var first = new Option<int>("--first-seed") { Description = "Seed of the first fleet", DefaultValueFactory = _ => 1 };
        var command = new Command("score-forecast", """
            Score the forecast on simulated fleets: what scores against chance, the crew's rate, the finding alone, logistic regression and
            boosted trees, on later follow-ups it had not seen; and its chances on installs nobody had gone back to against what the
            simulator knows. The fleets are invented: what holds on them is no measurement of the field.

            Example:
              revisit score-forecast --fleet 8000 --fleets 10
            """)
        { installs, fleets, first };
        installs.Validators.Add(r =>
        {
            if (r.GetValueOrDefault<int>() is < 100 or > 1_000_000)
            {
                r.AddError("--fleet: expected 100 to 1000000");
            }
        });
        fleets.Validators.Add(r =>
        {
            if (r.GetValueOrDefault<int>() is < 1 or > 100)
            {
                r.AddError("--fleets: expected 1 to 100");
            }
        });
        first.Validators.Add(r =>
        {
            if (r.GetValueOrDefault<int>() < 1)
            {
                r.AddError("--first-seed: expected 1 or more");
            }
        });
        command.SetAction(result => Terminal.Guard(() => Console.Write(ForecastScore.Of(result.GetValue(installs), result.GetValue(fleets), result.GetValue(first)).ToText())));
        return command;
    }
}
