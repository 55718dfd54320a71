using Microsoft.ML;
using Microsoft.ML.Data;
using Microsoft.ML.Trainers;
using Microsoft.ML.Trainers.FastTree;

namespace Revisit.Forecast;

/// <summary>A row and the raw score of a fit it took no part in.</summary>
/// <param name="Row">The row.</param>
/// <param name="Score">Its raw score.</param>
public readonly record struct HeldOut(LabelledInstall Row, double Score);

/// <summary>What learns from the follow-ups, the simpler first.</summary>
public enum Learner
{
    /// <summary>Logistic regression on all features at once.</summary>
    Logistic,

    /// <summary>Gradient-boosted trees.</summary>
    BoostedTrees,
}

/// <summary>
/// A learner for one question, calibrated by <see cref="ChanceScale"/> on scores of rows that did not train what scored them.
/// One thread and a fixed seed: the same rows give the same scores, bit for bit.
/// </summary>
public sealed class CorrectionModel
{
    private const int Folds = 5, Many = 50_000;
    private readonly MLContext ml;
    private readonly ITransformer model;
    private readonly ChanceScale scale;

    private CorrectionModel(Learner learner, MLContext ml, ITransformer model, ChanceScale scale, IReadOnlyList<HeldOut> heldOut, FeatureEncoder encoder, int trainedRows)
    {
        this.ml = ml;
        this.model = model;
        this.scale = scale;
        Learner = learner;
        HeldOut = heldOut;
        Encoder = encoder;
        TrainedRows = trainedRows;
    }

    /// <summary>What learned.</summary>
    public Learner Learner { get; }

    /// <summary>Rows scored by what did not train on them, the same of every learner: all rows, or every fifth of very many.</summary>
    public IReadOnlyList<HeldOut> HeldOut { get; }

    /// <summary>How features become a vector.</summary>
    public FeatureEncoder Encoder { get; }

    /// <summary>Rows the trainer says it used.</summary>
    public int TrainedRows { get; }

    /// <summary>Trains on rows in order of time.</summary>
    /// <exception cref="ArgumentException">Both answers must occur.</exception>
    /// <exception cref="InvalidOperationException">The trainer did not use every row it was given.</exception>
    public static CorrectionModel Train(IReadOnlyList<LabelledInstall> rows, ForecastSettings settings, Learner learner) => Train(rows, settings, [learner])[0];

    /// <summary>Trains several on the same rows in order of time.</summary>
    /// <exception cref="ArgumentException">Both answers must occur.</exception>
    /// <exception cref="InvalidOperationException">A trainer did not use every row it was given.</exception>
    public static IReadOnlyList<CorrectionModel> Train(IReadOnlyList<LabelledInstall> rows, ForecastSettings settings, IReadOnlyList<Learner> learners)
    {
        if (rows.All(r => r.Needed) || !rows.Any(r => r.Needed))
        {
            throw new ArgumentException("training needs both answers among its rows", nameof(rows));
        }

        var encoder = new FeatureEncoder([.. rows.Select(r => r.Install)]);
        var encoded = rows.Select(r => new Row { Label = r.Needed, Features = encoder.Encode(r.Install) }).ToList();
        return [.. learners.Select(l => Train(rows, encoded, encoder, settings, l))];
    }

    private static CorrectionModel Train(IReadOnlyList<LabelledInstall> rows, List<Row> encoded, FeatureEncoder encoder, ForecastSettings settings, Learner learner)
    {
        var scores = new SortedDictionary<int, double>();
        (MLContext Ml, ITransformer Model, int Used) OnRest(int fold)
        {
            var part = Enumerable.Range(0, rows.Count).Where(i => i % Folds == fold).ToList();
            var fitted = Fit([.. encoded.Where((_, i) => i % Folds != fold)], encoder.Size, settings.Seed, learner);
            foreach (var (i, score) in part.Zip(Raw(fitted.Ml, fitted.Model, [.. part.Select(i => encoded[i])], encoder.Size)))
            {
                scores[i] = score;
            }

            return fitted;
        }

        // Of very many rows four fifths teach as much as all, and a fifth is enough to calibrate on: one fit serves.
        var kept = OnRest(0);
        if (rows.Count < Many)
        {
            for (var fold = 1; fold < Folds; fold++)
            {
                OnRest(fold);
            }

            kept = Fit(encoded, encoder.Size, settings.Seed, learner);
        }

        List<HeldOut> held = [.. scores.Select(s => new HeldOut(rows[s.Key], s.Value))];
        return new(learner, kept.Ml, kept.Model, ChanceScale.Fit(held, settings), held, encoder, kept.Used);
    }

    /// <summary>The model as a file; the same rows and settings give the same bytes.</summary>
    public byte[] ToBytes() =>
        ModelFile.Of(ml, model, ml.Data.LoadFromEnumerable<Row>([], Schema(Encoder.Size)).Schema, new(Learner, TrainedRows, scale, Encoder.Encoding));

    /// <summary>Reads a model back from its file; what it held back in training is not in it.</summary>
    /// <exception cref="InvalidDataException">It is no such file.</exception>
    public static CorrectionModel Read(Stream stream)
    {
        var ml = new MLContext(0);
        var (model, frame) = ModelFile.Read(ml, stream);
        return new(frame.Learner, ml, model, frame.Scale, [], new(frame.Encoding), frame.TrainedRows);
    }

    /// <summary>Calibrated chances, in the order given.</summary>
    public double[] Score(IReadOnlyList<InstallFeatures> installs) =>
        installs.Count == 0 ? [] : [.. Raw(ml, model, [.. installs.Select(i => new Row { Features = Encoder.Encode(i) })], Encoder.Size).Select(s => scale.Of(s))];

    private static (MLContext Ml, ITransformer Model, int Used) Fit(List<Row> rows, int size, int seed, Learner learner)
    {
        var ml = new MLContext(seed);
        var log = new TrainerLog();
        ml.Log += log.Listen;
        var model = Trainer(ml, seed, learner).Fit(ml.Data.LoadFromEnumerable(rows, Schema(size)));
        var used = learner == Learner.BoostedTrees ? log.Used(rows.Count) : rows.Count - log.LeftOut;
        return used == rows.Count ? (ml, model, used) : throw new InvalidOperationException($"the trainer used {used} of {rows.Count} rows");
    }

    private static IEstimator<ITransformer> Trainer(MLContext ml, int seed, Learner learner) => learner switch
    {
        Learner.Logistic => ml.Transforms.NormalizeMeanVariance(nameof(Row.Features), fixZero: false)
            .AppendCacheCheckpoint(ml)
            .Append(ml.BinaryClassification.Trainers.LbfgsLogisticRegression(new LbfgsLogisticRegressionBinaryTrainer.Options
            {
                LabelColumnName = nameof(Row.Label),
                FeatureColumnName = nameof(Row.Features),
                L1Regularization = 0,
                L2Regularization = 1,
                NumberOfThreads = 1,
            })),
        _ => ml.BinaryClassification.Trainers.FastTree(new FastTreeBinaryTrainer.Options
        {
            LabelColumnName = nameof(Row.Label),
            FeatureColumnName = nameof(Row.Features),
            // Many small steps on part of the rows and features: of seven ways tried on simulated fleets the one whose chances came nearest to the truth.
            NumberOfTrees = 100,
            NumberOfLeaves = 5,
            MinimumExampleCountPerLeaf = 25,
            LearningRate = 0.05,
            FeatureFraction = 0.5,
            BaggingSize = 1,
            BaggingExampleFraction = 0.6,
            NumberOfThreads = 1,
            Seed = seed,
            FeatureSelectionSeed = seed,
        }),
    };

    private static double[] Raw(MLContext ml, ITransformer model, List<Row> rows, int size) =>
        [.. model.Transform(ml.Data.LoadFromEnumerable(rows, Schema(size))).GetColumn<float>("Score").Select(s => (double)s)];

    private static SchemaDefinition Schema(int size)
    {
        var schema = SchemaDefinition.Create(typeof(Row));
        schema[nameof(Row.Features)].ColumnType = new VectorDataViewType(NumberDataViewType.Single, size);
        return schema;
    }

    private sealed class Row
    {
        public bool Label { get; set; }

        public float[] Features { get; set; } = [];
    }
}
