using System.Globalization;
using System.Reflection;
using System.Security.Cryptography;
using System.Text;
using Microsoft.ML;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Forecast;

/// <summary>
/// Scores recent installs that had no follow-up yet. Reads follow_ups, installs, readings, metrics and findings as they stood on the day;
/// writes scores, keeps them by month, looks back on earlier ones, and writes the model card and the models. <see cref="Visits.WorklistStage"/> makes the worklist of the scores.
/// </summary>
public static class ForecastStage
{
    /// <summary>Where the model of each question is kept as a file.</summary>
    public const string ModelArea = "models";

    /// <summary>Runs the stage. The same lake, settings and day give the same bytes.</summary>
    /// <param name="publication">The change of the lake it writes into; the caller commits.</param>
    /// <param name="settings">Settings.</param>
    /// <param name="asOf">The day the scores speak for; nothing later is read.</param>
    /// <param name="progress">Takes messages.</param>
    /// <exception cref="UserError">A setting is out of range.</exception>
    /// <exception cref="InvalidOperationException">A feature looks ahead, or the trainer did not use every row.</exception>
    public static void Run(Publication publication, ForecastSettings settings, DateOnly asOf, IProgress<string>? progress = null)
    {
        using var session = publication.OpenSession();
        var learned = Learn(session, settings, asOf, progress);
        var version = string.Create(CultureInfo.InvariantCulture, $"airflow {learned.Airflow.Card.Kind}, charge {learned.Charge.Card.Kind}, data {learned.Card.DataHash}, seed {settings.Seed}")
            + (learned.Card.Drift.Count == 0 ? "" : $"; of late other than learned from: {string.Join(", ", learned.Card.Drift.Select(d => d.Feature))}");
        var open = learned.Open.Where(f => f.InstalledOn >= asOf.AddDays(-settings.LookBackDays)).ToList();
        var scored = ScoredInstall.Score(open, learned.Airflow, learned.Charge, settings.RangeMargin);
        var scores = Scores(scored, asOf, version);
        publication.Put(Tables.Scores, scores);
        LookBack.Keep(publication, scores, asOf);
        var back = LookBack.Of(publication, learned.Labels, asOf);
        publication.Put(Tables.LookBack, back);
        if (LookBack.Words(back) is { } words)
        {
            progress?.Report(words);
        }

        Put(publication, learned);
        progress?.Report(string.Create(CultureInfo.InvariantCulture,
            $"{scored.Count(s => s.AbstainsBecause is null)} installs scored, {scored.Count(s => s.AbstainsBecause is not null)} without a score"));
    }

    /// <summary>Learns and tests only: writes the model card, leaves the scores as they are.</summary>
    /// <returns>The card.</returns>
    /// <inheritdoc cref="Run"/>
    public static ModelCard Train(Publication publication, ForecastSettings settings, DateOnly asOf, IProgress<string>? progress = null)
    {
        using var session = publication.OpenSession();
        var learned = Learn(session, settings, asOf, progress);
        Put(publication, learned);
        return learned.Card;
    }

    private static Learned Learn(LakeSession session, ForecastSettings settings, DateOnly asOf, IProgress<string>? progress)
    {
        settings.Validate();
        var features = FeatureReader.Features(session, asOf, settings.CrewPriorFollowUps);
        LeakGuard.Require(session, FeatureQuery.Sql(settings.CrewPriorFollowUps), asOf, LeakGuard.Sample(features, settings.GuardDays));
        var labels = FeatureReader.Labels(session, asOf);
        var followedUp = FeatureReader.FollowedUp(session, asOf);

        var weights = Selection.Weights(session, features, asOf);
        QuestionModel Build(Question question) => QuestionModel.Build(question, Join(question, features, labels, weights), settings);
        var other = Task.Run(() => Build(Question.Charge));
        var airflow = Build(Question.Airflow);
        var charge = other.GetAwaiter().GetResult();
        foreach (var card in new[] { airflow.Card, charge.Card })
        {
            progress?.Report(card.NoModelBecause is { } because
                ? $"{card.Question}: {because}; the finding's own probability stands in"
                : string.Create(CultureInfo.InvariantCulture, $"{card.Question}: {card.Kind}, trained on {card.TrainedRows} follow-ups, tested on {card.TestRows - card.TestAbstained} from {card.TestFrom}"));
        }

        var dayless = CountWithoutInstallDay(session);
        if (dayless > 0)
        {
            progress?.Report(string.Create(CultureInfo.InvariantCulture, $"{dayless} installs have no install day: nothing can be said to be known then, so they are neither learned from nor scored"));
        }

        var open = features.Where(f => !followedUp.Contains(f.InstallId)).ToList();
        var drift = Drift.Of([.. features.Where(f => followedUp.Contains(f.InstallId))], features, asOf);
        foreach (var drifted in drift)
        {
            progress?.Report(string.Create(CultureInfo.InvariantCulture, $"{drifted.Feature} of the latest start-ups is other than among those learned from (stability index {drifted.Index:0.00}, limit {drifted.Limit:0.00}): take the chances with care"));
        }

        return new(airflow, charge, labels, open, CardOf(settings, asOf, HashOf(features, labels), (open.Count, dayless), [airflow.Card, charge.Card]) with { Drift = drift });
    }

    /// <summary>Keeps the card and, where a model scores, its file; one that scores no longer is taken away.</summary>
    private static void Put(Publication publication, Learned learned)
    {
        void PutBytes(string area, string partition, string extension, byte[] bytes) => publication.PutFile(area, partition, extension, stream =>
        {
            stream.Write(bytes);
            return 1;
        });
        PutBytes("model_card", "all", ".json", learned.Card.ToBytes());
        foreach (var question in new[] { learned.Airflow, learned.Charge })
        {
            if (question.Model is { } model)
            {
                PutBytes(ModelArea, question.Question.Name, ".zip", model.ToBytes());
            }
            else
            {
                publication.Remove(ModelArea, question.Question.Name);
            }
        }
    }

    private sealed record Learned(QuestionModel Airflow, QuestionModel Charge, List<FollowUpLabel> Labels, List<InstallFeatures> Open, ModelCard Card);

    /// <summary>Installs with a known answer to a question. A censored install has none and is not among them, nor is one that would get no score for want of a reading that can be judged.</summary>
    public static List<LabelledInstall> Join(Question question, IEnumerable<InstallFeatures> features, IEnumerable<FollowUpLabel> labels, IReadOnlyDictionary<string, double>? weights = null)
    {
        var byInstall = features.ToDictionary(f => f.InstallId, StringComparer.Ordinal);
        return [.. labels
            .Where(l => question.AnswerOf(l) is not null && byInstall.TryGetValue(l.InstallId, out var f) && Question.UnreadableBecause(f) is null)
            .Select(l => new LabelledInstall(byInstall[l.InstallId], l.FollowedUpOn, l.Kind, question.AnswerOf(l)!.Value, weights?.GetValueOrDefault(l.InstallId) ?? 0))];
    }

    private static Batch Scores(List<ScoredInstall> scored, DateOnly asOf, string version)
    {
        var batch = new Batch(Tables.Scores, scored.Count);
        for (var r = 0; r < scored.Count; r++)
        {
            batch.Text("install_id")[r] = scored[r].Install.InstallId;
            batch.Day("scored_on")[r] = asOf;
            batch.Number("p_airflow_correction")[r] = scored[r].Airflow;
            batch.Number("p_charge_correction")[r] = scored[r].Charge;
            batch.Text("score_because")[r] = scored[r].Because;
            batch.Text("abstains_because")[r] = scored[r].AbstainsBecause;
            batch.Text("model_version")[r] = version;
        }

        return batch;
    }

    private static int CountWithoutInstallDay(LakeSession session)
    {
        using var reader = session.Query("SELECT count(*) FROM follow_ups WHERE installed_on IS NULL");
        reader.Read();
        return checked((int)reader.GetInt64(0));
    }

    private static string HashOf(List<InstallFeatures> features, List<FollowUpLabel> labels)
    {
        var byInstall = features.ToDictionary(f => f.InstallId, StringComparer.Ordinal);
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (var l in labels.Where(l => byInstall.ContainsKey(l.InstallId)))
        {
            var f = byInstall[l.InstallId];
            var numbers = string.Join(',', f.Numbers.Select(n => n.ToString("R", CultureInfo.InvariantCulture)));
            hash.AppendData(Encoding.UTF8.GetBytes(string.Create(CultureInfo.InvariantCulture,
                $"{l.InstallId}|{l.FollowedUpOn:yyyy-MM-dd}|{l.Airflow}|{l.Charge}|{numbers}|{string.Join(',', f.Categories)}\n")));
        }

        return Convert.ToHexStringLower(hash.GetHashAndReset())[..12];
    }

    private static ModelCard CardOf(ForecastSettings settings, DateOnly asOf, string hash, (int Censored, int Dayless) left, IReadOnlyList<QuestionCard> questions) => new()
    {
        AsOf = asOf.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
        Seed = settings.Seed,
        DataHash = hash,
        Library = "Microsoft.ML " + (typeof(MLContext).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion.Split('+')[0] ?? "unknown"),
        Censored = left.Censored,
        WithoutInstallDay = left.Dayless,
        Features = [.. FeatureQuery.Numbers, .. FeatureQuery.Categories],
        Remarks =
        [
            "Follow-ups are not a random sample of installs: complaints bring visits. The measures speak for the follow-ups they were taken on, not for all installs.",
            "Chances speak for the installs they were calibrated on (calibrated_on): weighted to all installs they are lower than what follow-ups show.",
            "Installs without a follow-up are censored and were not used in training.",
            "Measures are of the model that scores; it was trained only on follow-ups before test_from. Test rows without a score are left out and counted.",
            "Intervals are 95 % bootstrap percentiles over test installs, moved by the mean error of the resamples.",
        ],
        Questions = questions,
    };
}
