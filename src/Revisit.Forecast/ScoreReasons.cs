using System.Globalization;

namespace Revisit.Forecast;

/// <summary>
/// Says which readings moved a score: each is put at what is usual in training, alone, and the fall of the log odds is what it adds. It is named
/// only where leaving it out lowers the chance as well. Where the finding's own probability stands in, only the finding moves the score: what was
/// read then is told beside it. These parts need not add up to the score; they name what matters, no more.
/// </summary>
public static class ScoreReasons
{
    private const double Noticeable = 0.15; // log odds; assumption
    private const int AtMost = 3;

    /// <summary>Words for each install, in the order given.</summary>
    public static string[] Of(QuestionModel model, IReadOnlyList<InstallFeatures> installs, double[] chances)
    {
        var found = installs.Select(_ => new List<(double Push, string Words)>()).ToList();
        if (model.Model is { } trained)
        {
            foreach (var (name, numbers, categories) in ReadingWords.Groups)
            {
                int[] other = [.. Enumerable.Range(0, installs.Count).Where(i => !trained.Encoder.IsUsual(installs[i], numbers, categories) && ReadingWords.Of(name, installs[i]) is not null)];
                var usual = trained.Score([.. other.Select(i => trained.Encoder.WithUsual(installs[i], numbers, categories))]);
                var pushed = other.Zip(usual, (i, chance) => (At: i, Push: Push(chances[i], chance))).Where(p => p.Push >= Noticeable).ToList();
                var without = trained.Score([.. pushed.Select(p => installs[p.At].Without(numbers, categories))]);
                foreach (var ((i, push), _) in pushed.Zip(without).Where(p => p.Second < chances[p.First.At]))
                {
                    found[i].Add((push, ReadingWords.Of(name, installs[i])!));
                }
            }
        }

        return [.. installs.Select((install, i) => Sentence(model, install, chances[i], found[i]))];
    }

    private static string Sentence(QuestionModel model, InstallFeatures install, double chance, List<(double Push, string Words)> found)
    {
        var head = string.Create(CultureInfo.InvariantCulture, $"{model.Question.Name} {100 * chance:0} %: ");
        if (model.Model is null)
        {
            var finding = model.Question.Causes.Contains(install.Finding!) ? ReadingWords.Of("finding", install) : "the start-up finding does not point to it";
            var readings = new[] { "split_error_f", "subcooling_error_f", "superheat_error_f", "tap_level" }.Select(g => ReadingWords.Of(g, install)).OfType<string>();
            var source = model.Card.TrainRows > 0 ? "scaled to what follow-ups showed" : "not learned from follow-ups";
            return $"{head}{finding}; the finding's own probability, {source} ({model.Card.NoModelBecause}); read then: {string.Join(", ", readings)}";
        }

        var words = found.OrderByDescending(f => f.Push).ThenBy(f => f.Words, StringComparer.Ordinal).Take(AtMost).Select(f => f.Words).ToList();
        return head + (words.Count == 0 ? "nothing stands out" : string.Join(", ", words));
    }

    private static double Push(double chance, double usual) => LogOdds(chance) - LogOdds(usual);

    private static double LogOdds(double p) => Math.Log(Math.Clamp(p, 1e-9, 1 - 1e-9) / (1 - Math.Clamp(p, 1e-9, 1 - 1e-9)));
}
