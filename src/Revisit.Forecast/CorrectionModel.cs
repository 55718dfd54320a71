using Microsoft.ML;
using Microsoft.ML.Data;
using Microsoft.ML.Trainers;
using Microsoft.ML.Trainers.FastTree;

namespace Revisit.Forecast;

/// <summary>What learns from the follow-ups, the simpler first.</summary>
public enum Learner
{
    /// <summary>Logistic regression on all features at once.</summary>
    Logistic,

    /// <summary>Gradient-boosted trees.</summary>
    BoostedTrees,
}

/// <summary>
/// A learner for one question, calibrated by <see cref="ChanceScale"/> on scores from folds that did not train them.
/// One thread and a fixed seed: the same rows give the same scores, bit for bit.
/// </summary>
public sealed class CorrectionModel
{
    private const int Folds = 5, FoldsOfMany = 2, Many = 100_000;
    private readonly MLContext ml;
    private readonly ITransformer model;
    private readonly ChanceScale scale;

    private CorrectionModel(Learner learner, MLContext ml, ITransformer model, ChanceScale scale, double[] heldOut, FeatureEncoder encoder, int trainedRows)
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

    /// <summary>The raw score of each training row by a fold that did not train on it, in the order of training.</summary>
    public double[] HeldOut { get; }

    /// <summary>How features become a vector.</summary>
    public FeatureEncoder Encoder { get; }

    /// <summary>Rows the trainer says it used.</summary>
    public int TrainedRows { get; }

    /// <summary>Trains on rows in order of time.</summary>
    /// <exception cref="ArgumentException">Both answers must occur.</exception>
    /// <exception cref="InvalidOperationException">The trainer did not use every row it was given.</exception>
    public static CorrectionModel Train(IReadOnlyList<LabelledInstall> rows, ForecastSettings settings, Learner learner)
    {
        var seed = settings.Seed;
        if (rows.All(r => r.Needed) || !rows.Any(r => r.Needed))
        {
            throw new ArgumentException("training needs both answers among its rows", nameof(rows));
        }

        var encoder = new FeatureEncoder([.. rows.Select(r => r.Install)]);
        var encoded = rows.Select(r => new Row { Label = r.Needed, Features = encoder.Encode(r.Install) }).ToList();
        var held = new double[rows.Count];
        var folds = rows.Count < Many ? Folds : FoldsOfMany; // half of many teaches as much as four fifths
        for (var fold = 0; fold < folds; fold++)
        {
            var part = Enumerable.Range(0, rows.Count).Where(i => i % folds == fold).ToList();
            var rest = encoded.Where((_, i) => i % folds != fold).ToList();
            var (foldMl, foldModel, _) = Fit(rest, encoder.Size, seed, learner);
            var scores = Raw(foldMl, foldModel, [.. part.Select(i => encoded[i])], encoder.Size);
            for (var i = 0; i < part.Count; i++)
            {
                held[part[i]] = scores[i];
            }
        }

        var scale = ChanceScale.Fit(held, rows, settings);
        var (ml, model, used) = Fit(encoded, encoder.Size, seed, learner);
        return new(learner, ml, model, scale, held, encoder, used);
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
