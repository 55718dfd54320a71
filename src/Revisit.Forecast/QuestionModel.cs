using System.Globalization;

namespace Revisit.Forecast;

/// <summary>The answer machine of one question: a trained model, or the finding-only rule where follow-ups are too few.</summary>
public sealed class QuestionModel
{
    private QuestionModel(Question question, CorrectionModel? model, QuestionCard card)
    {
        Question = question;
        Model = model;
        Card = card;
    }

    public Question Question { get; }

    /// <summary>The trained model; null when the finding-only rule stands in.</summary>
    public CorrectionModel? Model { get; }

    public QuestionCard Card { get; }

    /// <summary>Trains where there are enough labels and tests on the latest of them.</summary>
    public static QuestionModel Build(Question question, IReadOnlyList<LabelledInstall> labels, ForecastSettings settings)
    {
        var positives = labels.Count(l => l.Needed);
        QuestionModel Without(string because) => new(question, null, new QuestionCard
        {
            Question = question.Name,
            Kind = "finding_only",
            NoModelBecause = because,
            Labels = labels.Count,
            Positives = positives,
        });
        if (labels.Count < settings.FewestLabels || positives < settings.FewestPositives)
        {
            return Without(string.Create(CultureInfo.InvariantCulture,
                $"too few follow-ups to learn from: {labels.Count} answers of {settings.FewestLabels} needed, {positives} corrections of {settings.FewestPositives} needed"));
        }

        var split = TimeSplit.Of(labels, settings.TestShare);
        var early = split.Train.Count(l => l.Needed);
        if (early < settings.FewestPositives / 2 || split.Train.Count - early < settings.FewestPositives / 2)
        {
            return Without(string.Create(CultureInfo.InvariantCulture, $"too few follow-ups to learn from before the test part: {early} corrections in {split.Train.Count} answers"));
        }

        var model = CorrectionModel.Train(split.Train, settings.Seed);
        var scorable = split.Test.Where(l => Question.UnreadableBecause(l.Install) is null && model.Encoder.OutsideBecause(l.Install, settings.RangeMargin) is null).ToList();
        var trainRate = (double)early / split.Train.Count;
        return new(question, model, new QuestionCard
        {
            Question = question.Name,
            Kind = "boosted_trees",
            Labels = labels.Count,
            Positives = positives,
            TestFrom = split.TestFrom.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
            TrainRows = split.Train.Count,
            TrainedRows = model.TrainedRows,
            TestRows = split.Test.Count,
            TestAbstained = split.Test.Count - scorable.Count,
            Results =
            [
                Test("all follow-ups", question, model, scorable, trainRate, settings),
                Test("planned quality checks only", question, model, [.. scorable.Where(l => l.Kind == "quality_check")], trainRate, settings),
            ],
            Ranges = [.. model.Encoder.Ranges.Select(r => new TrainingRange(r.Name, Finite(r.Low), Finite(r.High)))],
        });
    }

    /// <summary>Chances in the order given [0–1].</summary>
    public double[] Score(IReadOnlyList<InstallFeatures> installs) => Model?.Score(installs) ?? [.. installs.Select(Question.FindingChance)];

    private static TestResult Test(string population, Question question, CorrectionModel model, IReadOnlyList<LabelledInstall> rows, double trainRate, ForecastSettings settings)
    {
        var installs = rows.Select(r => r.Install).ToList();
        var needed = rows.Select(r => r.Needed).ToArray();
        SortedDictionary<string, Measured> Of(double[] values) => Measures.Of(values, needed, settings.BootstrapResamples, settings.Seed);
        var scores = model.Score(installs);
        double[] findings = [.. installs.Select(question.FindingChance)];
        var gain = Measures.PrecisionGain(scores, findings, needed, settings.BootstrapResamples, settings.Seed);
        return new(population, rows.Count, needed.Count(n => n), gain, new(StringComparer.Ordinal)
        {
            ["model"] = Of(scores),
            ["finding_only"] = Of(findings),
            // A crew whose fleet had no follow-up yet has no rate; it stands at the end.
            ["crew_rate"] = Of([.. installs.Select(i => double.IsNaN(i[question.CrewRate]) ? 0 : i[question.CrewRate])]),
            // Equal scores are a random order on average, exactly; the chance is the rate of the training part.
            ["random"] = Of([.. installs.Select(_ => trainRate)]),
        });
    }

    private static double? Finite(double value) => double.IsFinite(value) ? Math.Round(value, 6) : null;
}
