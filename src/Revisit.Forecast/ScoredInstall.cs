namespace Revisit.Forecast;

/// <summary>An install with its chances, or why there are none.</summary>
/// <param name="Install">The install.</param>
/// <param name="Airflow">Chance of an airflow correction; NaN when abstaining.</param>
/// <param name="Charge">Chance of a charge correction; NaN when abstaining.</param>
/// <param name="Because">What moved the chances; null when abstaining.</param>
/// <param name="AbstainsBecause">Why no score is given; null when one is.</param>
public sealed record ScoredInstall(InstallFeatures Install, double Airflow, double Charge, string? Because, string? AbstainsBecause)
{
    /// <summary>Scores installs by both questions; order is kept.</summary>
    public static List<ScoredInstall> Score(IReadOnlyList<InstallFeatures> installs, QuestionModel airflow, QuestionModel charge, double margin)
    {
        var why = installs.Select(i => Question.UnreadableBecause(i)
            ?? airflow.Model?.Encoder.OutsideBecause(i, margin) ?? charge.Model?.Encoder.OutsideBecause(i, margin)).ToArray();
        var scored = installs.Where((_, i) => why[i] is null).ToList();
        var (a, c) = (airflow.Score(scored), charge.Score(scored));
        string[] aWords = [], cWords = [];
        Parallel.Invoke(() => aWords = ScoreReasons.Of(airflow, scored, a), () => cWords = ScoreReasons.Of(charge, scored, c));
        var next = 0;
        var result = new List<ScoredInstall>();
        for (var i = 0; i < installs.Count; i++)
        {
            if (why[i] is { } because)
            {
                result.Add(new(installs[i], double.NaN, double.NaN, null, because));
                continue;
            }

            result.Add(new(installs[i], a[next], c[next], $"{aWords[next]}; {cWords[next]}", null));
            next++;
        }

        return result;
    }
}
