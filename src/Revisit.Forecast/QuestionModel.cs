using System.Globalization;

namespace Revisit.Forecast;

/// <summary>
/// The answer machine of one question: the simplest of the finding's own probability scaled to what follow-ups showed, logistic regression
/// and boosted trees that nothing more complex beats beyond noise. Where follow-ups are too few the probability stands as it is.
/// </summary>
public sealed class QuestionModel
{
    private const string FindingOnly = "finding_only", FindingScaled = "finding_scaled";
    private readonly ChanceScale? scale;

    private QuestionModel(Question question, CorrectionModel? model, ChanceScale? scale, QuestionCard card)
    {
        Question = question;
        Model = model;
        this.scale = scale;
        Card = card;
    }

    public Question Question { get; }

    /// <summary>The model that scores; null when the finding's own probability does.</summary>
    public CorrectionModel? Model { get; }

    public QuestionCard Card { get; }

    /// <summary>Trains where there are enough labels and tests on the latest of them.</summary>
    public static QuestionModel Build(Question question, IReadOnlyList<LabelledInstall> labels, ForecastSettings settings)
    {
        var positives = labels.Count(l => l.Needed);
        QuestionModel Without(string because) => new(question, null, null, new QuestionCard
        {
            Question = question.Name,
            Kind = FindingOnly,
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

        var learned = CorrectionModel.Train(split.Train, settings, Enum.GetValues<Learner>());
        var held = learned[0].HeldOut;
        var scale = ChanceScale.Fit([.. split.Train.Select(l => new HeldOut(l, question.FindingLogOdds(l.Install)))], settings);
        var (model, choice) = Choose(question, learned, settings);
        var encoder = learned[0].Encoder;
        var scorable = split.Test.Where(l => encoder.OutsideBecause(l.Install, settings.RangeMargin) is null).ToList();
        var contenders = new Contenders(question, model, scale, learned, (double)early / split.Train.Count);
        return new(question, model, scale, new QuestionCard
        {
            Question = question.Name,
            Kind = NameOf(model),
            NoModelBecause = model is null ? "what was learned from follow-ups is not better beyond noise" : null,
            Labels = labels.Count,
            Positives = positives,
            TestFrom = split.TestFrom.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
            TrainRows = split.Train.Count,
            TrainedRows = learned.Min(m => m.TrainedRows),
            CalibratedOn = ChanceScale.EnoughPlanned(held.Select(h => h.Row), settings)
                ? string.Create(CultureInfo.InvariantCulture, $"{held.Count(h => h.Row.Weight > 0)} follow-ups of installs that had a planned check, weighted to all installs")
                : "all follow-ups alike: chances are those of follow-ups, not of installs",
            TestRows = split.Test.Count,
            TestAbstained = split.Test.Count - scorable.Count,
            Choice = choice,
            Results =
            [
                Test("all follow-ups", contenders, scorable, settings),
                Test("planned quality checks only", contenders, [.. scorable.Where(l => l.Kind == "quality_check")], settings),
            ],
            Ranges = [.. encoder.Ranges.Select(r => new TrainingRange(r.Name, Finite(r.Low), Finite(r.High)))],
        });
    }

    private static string NameOf(CorrectionModel? model) => model?.Learner switch
    {
        null => FindingScaled,
        Learner.Logistic => "logistic",
        _ => "boosted_trees",
    };

    /// <summary>Chooses on the training rows alone, so that the test part stays unseen.</summary>
    private static (CorrectionModel? Model, List<Comparison> Choice) Choose(Question question, IReadOnlyList<CorrectionModel> learned, ForecastSettings settings)
    {
        var held = learned[0].HeldOut;
        bool[] needed = [.. held.Select(h => h.Row.Needed)];
        // Each as chances of follow-ups, for those are the answers there are.
        double[] AsFollowUpsCome(IEnumerable<double> logOdds)
        {
            double[] all = [.. logOdds];
            var scale = ChanceScale.Fit(all, needed);
            return [.. all.Select(scale.Of)];
        }

        CorrectionModel? best = null;
        var chances = AsFollowUpsCome(held.Select(h => question.FindingLogOdds(h.Row.Install)));
        var choice = new List<Comparison>();
        foreach (var candidate in learned)
        {
            var others = AsFollowUpsCome(candidate.HeldOut.Select(h => h.Score));
            var gain = Measures.LogScoreGain(others, chances, needed, settings.BootstrapResamples, settings.Seed);
            choice.Add(new(NameOf(candidate), NameOf(best), gain, gain.Low > 0));
            if (gain.Low > 0)
            {
                (best, chances) = (candidate, others);
            }
        }

        return (best, choice);
    }

    /// <summary>Chances in the order given [0–1].</summary>
    public double[] Score(IReadOnlyList<InstallFeatures> installs) => Model?.Score(installs)
        ?? [.. installs.Select(i => scale?.Of(Question.FindingLogOdds(i)) ?? Question.FindingChance(i))];

    private static TestResult Test(string population, Contenders contenders, IReadOnlyList<LabelledInstall> rows, ForecastSettings settings)
    {
        var needed = rows.Select(r => r.Needed).ToArray();
        var scores = contenders.Score([.. rows.Select(r => r.Install)]);
        var result = new TestResult(population, rows.Count, needed.Count(n => n), new(StringComparer.Ordinal), new(StringComparer.Ordinal), new(StringComparer.Ordinal));
        foreach (var (name, values) in scores)
        {
            result.Contenders[name] = Measures.Of(values, needed, settings.BootstrapResamples, settings.Seed);
            if (name != contenders.Chosen)
            {
                result.PrAucGainOver[name] = Measures.PrecisionGain(scores[contenders.Chosen], values, needed, settings.BootstrapResamples, settings.Seed);
                result.LogScoreGainOver[name] = Measures.LogScoreGain(scores[contenders.Chosen], values, needed, settings.BootstrapResamples, settings.Seed);
            }
        }

        return result;
    }

    /// <summary>What scores, and what it is held against.</summary>
    private sealed record Contenders(Question Question, CorrectionModel? Model, ChanceScale Scale, IReadOnlyList<CorrectionModel> Learned, double TrainRate)
    {
        /// <summary>Name of what scores.</summary>
        public string Chosen => NameOf(Model);

        /// <summary>Scores of each on some installs.</summary>
        public Dictionary<string, double[]> Score(IReadOnlyList<InstallFeatures> installs)
        {
            var scores = Learned.ToDictionary(NameOf, m => m.Score(installs));
            scores[FindingOnly] = [.. installs.Select(Question.FindingChance)];
            scores[FindingScaled] = [.. installs.Select(i => Scale.Of(Question.FindingLogOdds(i)))];

            // A crew whose fleet had no follow-up yet has no rate; it stands at the end.
            scores["crew_rate"] = [.. installs.Select(i => double.IsNaN(i[Question.CrewRate]) ? 0 : i[Question.CrewRate])];

            // Equal scores are a random order on average, exactly; the chance is the rate of the training part.
            scores["random"] = [.. installs.Select(_ => TrainRate)];
            return scores;
        }
    }

    private static double? Finite(double value) => double.IsFinite(value) ? Math.Round(value, 6) : null;
}
