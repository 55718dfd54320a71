using System.Diagnostics;
using System.Globalization;
using System.Runtime.InteropServices;
using Microsoft.ML;
using Microsoft.ML.Data;
using Microsoft.ML.Trainers.FastTree;
using Revisit.Forecast;

namespace Benchmarks;

/// <summary>
/// Learning from many follow-ups and scoring many installs, against one fit and one pass of Microsoft.ML's FastTree over the same vectors,
/// already made: what the folds for calibration, the choice between learners and the tests cost on top.
/// </summary>
internal static class ForecastBenchmark
{
    public static int Run(int train, int score, bool record)
    {
        var random = new Random(20_261_101);
        var rows = Enumerable.Range(0, train).Select(i => Labelled(random, i)).ToList();
        var installs = Enumerable.Range(0, score).Select(i => Labelled(random, i).Install).ToList();
        var settings = new ForecastSettings();
        var encoder = new FeatureEncoder([.. rows.Select(r => r.Install)]);
        var (fit, pass) = Yardstick(rows, installs, encoder, settings.Seed);

        CorrectionModel? trees = null;
        var train1 = Seconds(() => trees = CorrectionModel.Train(rows, settings, Learner.BoostedTrees));
        var train2 = Seconds(() => CorrectionModel.Train(rows, settings, Learner.Logistic));
        var both = Seconds(() => Parallel.ForEach(Question.All, q => QuestionModel.Build(q, rows, settings)));
        var score1 = Seconds(() => trees!.Score(installs));
        FormattableString text = $"""
            # The forecast: training on {train:N0} follow-ups, scoring {score:N0} installs

            Machine: {Environment.ProcessorCount} cores, {RuntimeInformation.OSArchitecture}, {RuntimeInformation.FrameworkDescription}, {RuntimeInformation.OSDescription}.
            One run of each in this order, drawn values. Yardstick: one fit, and one pass of the scorer, of Microsoft.ML's FastTree over vectors already made, {encoder.Size} long.

            | | seconds | over the yardstick |
            |---|---|---|
            | yardstick: one fit | {fit:0.0} | 1 |
            | boosted trees: encoding, {(train < 50_000 ? "5 folds, calibration, the fit" : "one fit on four fifths, calibration on the rest")} | {train1:0.0} | {train1 / fit:0.0} |
            | logistic regression: the same | {train2:0.0} | {train2 / fit:0.0} |
            | all that `revisit train` learns: both questions at once, both learners, choice and tests with {settings.BootstrapResamples} resamples | {both:0.0} | {both / fit:0.0} |
            | yardstick: one pass | {pass:0.0} | 1 |
            | boosted trees: encoding, scoring, calibration | {score1:0.0} | {score1 / pass:0.0} |

            """;
        var report = text.ToString(CultureInfo.InvariantCulture);
        Console.Write(report);
        if (record)
        {
            File.WriteAllText(Path.Combine("tests", "Benchmarks", "results", $"forecast-{Environment.ProcessorCount}-cores.md"), report.ReplaceLineEndings("\n"));
        }

        return 0;
    }

    private static (double Fit, double Pass) Yardstick(List<LabelledInstall> rows, List<InstallFeatures> installs, FeatureEncoder encoder, int seed)
    {
        var ml = new MLContext(seed);
        var schema = SchemaDefinition.Create(typeof(Row));
        schema[nameof(Row.Features)].ColumnType = new VectorDataViewType(NumberDataViewType.Single, encoder.Size);
        var vectors = rows.Select(r => new Row { Label = r.Needed, Features = encoder.Encode(r.Install) }).ToList();
        ITransformer? model = null;
        var fit = Seconds(() => model = ml.BinaryClassification.Trainers.FastTree(new FastTreeBinaryTrainer.Options
        {
            LabelColumnName = nameof(Row.Label),
            FeatureColumnName = nameof(Row.Features),
            NumberOfTrees = 60,
            NumberOfLeaves = 8,
            NumberOfThreads = 1,
        }).Fit(ml.Data.LoadFromEnumerable(vectors, schema)));
        vectors = [.. installs.Select(i => new Row { Features = encoder.Encode(i) })];
        return (fit, Seconds(() => model!.Transform(ml.Data.LoadFromEnumerable(vectors, schema)).GetColumn<float>("Score").Count()));
    }

    private static LabelledInstall Labelled(Random random, int i)
    {
        var numbers = new double[FeatureQuery.Numbers.Count];
        for (var f = 0; f < numbers.Length; f++)
        {
            // Only installs with a finding's probabilities are learned from and scored.
            numbers[f] = FeatureQuery.Numbers[f].StartsWith("p_", StringComparison.Ordinal) ? random.NextDouble() / 9
                : random.Next(20) == 0 ? double.NaN : random.NextDouble() * 10 - 5;
        }

        string?[] words = ["txv", random.Next(2) == 0 ? "R-410A" : "R-454B", random.Next(2) == 0 ? "attic" : "basement", "psc", "summer"];
        var install = new InstallFeatures($"I{i:0000000}", $"C{i % 40}", "north", new DateOnly(2025, 1, 1).AddDays(i % 500), numbers, words, "high", "in_line", null);
        return new(install, install.InstalledOn.AddDays(30), "quality_check", random.NextDouble() < (numbers[0] + numbers[2] > 4 ? 0.7 : 0.2));
    }

    private static double Seconds(Action work)
    {
        var watch = Stopwatch.StartNew();
        work();
        return watch.Elapsed.TotalSeconds;
    }

    private sealed class Row
    {
        public bool Label { get; set; }

        public float[] Features { get; set; } = [];
    }
}
