using System.CommandLine;
using System.Globalization;
using Revisit.Forecast;
using Revisit.Storage;

namespace Revisit.Cli.Commands;

/// <summary>revisit train and revisit forecast: what follow-ups teach, and the chances of recent installs.</summary>
internal static class ForecastCommand
{
    public static Command Train() => Make("train", """
        Learn from the follow-ups and test what was learned on later ones; scores stay as they are. Prints how each contender did, keeps the
        model card in the lake.

        Examples:
          revisit train --lake lake
          revisit train --month 2026-06
        """, (publication, asOf) => Console.Write(Text(ForecastStage.Train(publication, new ForecastSettings(), asOf, Terminal.Progress))), "revisit forecast");

    public static Command Make() => Make("forecast", """
        Give every recent install without a follow-up the chances that its first one will need an airflow or a charge correction, or say
        why it gets none. Learns anew from the lake, as known at the end of the month.

        Examples:
          revisit forecast --lake lake
          revisit forecast --month 2026-06
        """, (publication, asOf) => ForecastStage.Run(publication, new ForecastSettings(), asOf, Terminal.Progress), "revisit worklist");

    private static Command Make(string name, string words, Action<Publication, DateOnly> run, string next)
    {
        var lake = Options.Lake();
        var month = new Option<string?>("--month") { Description = "As it was known at the end of a month, YYYY-MM; the latest with readings when left out" };
        var command = new Command(name, words) { lake, month };
        command.SetAction(result => Terminal.Guard(() =>
        {
            var opened = Lake.At(result.GetValue(lake)!);
            opened.MustExist(); // says so when there is no lake, before one is made
            using var publication = opened.BeginPublication();
            run(publication, Months.LastDay(result.GetValue(month), publication.Pending));
            publication.Commit();
            Console.Error.WriteLine($"Next: {next} --lake {result.GetValue(lake)}");
        }));
        return command;
    }

    private static string Text(ModelCard card)
    {
        var lines = new List<string> { $"as of {card.AsOf}, data {card.DataHash}, seed {card.Seed}, {card.Censored} installs without a follow-up" };
        foreach (var question in card.Questions)
        {
            lines.Add($"{question.Question}: {question.Kind}, {question.Labels} follow-ups, {question.Positives} corrections{(question.NoModelBecause is { } because ? $" ({because})" : "")}");
            foreach (var (contender, measures) in question.Results.Take(1).SelectMany(r => r.Contenders))
            {
                string Of(string measure) => measures[measure] is { Value: { } value } m ? string.Create(CultureInfo.InvariantCulture, $"{value:0.000} ({m.Low:0.000}-{m.High:0.000})") : "unknown";
                lines.Add($"  {contender,-15} PR-AUC {Of("pr_auc"),-21} Brier {Of("brier"),-21} calibration error {Of("calibration_error")}");
            }
        }

        return string.Join('\n', lines) + "\n";
    }
}
