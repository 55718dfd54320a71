using Microsoft.ML;
using Microsoft.ML.Data;

namespace Revisit.Forecast.Tests;

public sealed class CorrectionModelTests
{
    private static readonly ForecastSettings Settings = new() { Seed = 1 };

    private static List<LabelledInstall> Rows(int count)
    {
        using var fleet = new TestFleet(count, followedUpShare: 1);
        using var session = fleet.Lake.OpenSession();
        return ForecastStage.Join(Question.Airflow, FeatureReader.Features(session, TestFleet.AsOf, 20), FeatureReader.Labels(session, TestFleet.AsOf));
    }

    [Theory]
    [InlineData(Learner.Logistic)]
    [InlineData(Learner.BoostedTrees)]
    public void Every_row_trains_although_many_hold_gaps(Learner learner)
    {
        var rows = Rows(500);
        Assert.Contains(rows, r => r.Install.Numbers.Any(double.IsNaN));
        Assert.Equal(rows.Count, CorrectionModel.Train(rows, Settings, learner).TrainedRows);
    }

    [Fact]
    public void The_count_of_trained_rows_sees_rows_with_gaps_being_skipped()
    {
        // The twin of the test above: fed a gap, the trainer drops the row and the count shows it.
        var ml = new MLContext(1);
        var log = new TrainerLog();
        ml.Log += log.Listen;
        var data = Enumerable.Range(0, 200).Select(i => new Gap { Label = i % 2 == 0, Features = [i, i % 20 == 0 ? float.NaN : 1] });
        ml.BinaryClassification.Trainers.FastTree(nameof(Gap.Label), nameof(Gap.Features)).Fit(ml.Data.LoadFromEnumerable(data));
        Assert.Equal(190, log.Used(200));

        log = new TrainerLog();
        ml.Log += log.Listen;
        ml.BinaryClassification.Trainers.LbfgsLogisticRegression(nameof(Gap.Label), nameof(Gap.Features)).Fit(ml.Data.LoadFromEnumerable(data));
        Assert.Equal(10, log.LeftOut);
    }

    [Fact]
    public void Both_learners_give_the_same_bits_again_and_chances_near_the_rate()
    {
        var rows = Rows(800);
        foreach (var learner in Enum.GetValues<Learner>())
        {
            var (a, b) = (CorrectionModel.Train(rows, Settings, learner), CorrectionModel.Train(rows, Settings, learner));
            List<InstallFeatures> installs = [.. rows.Select(r => r.Install)];
            Assert.Equal(a.Score(installs).Select(BitConverter.DoubleToInt64Bits), b.Score(installs).Select(BitConverter.DoubleToInt64Bits));
            Assert.Equal(a.ToBytes(), b.ToBytes());
            var kept = CorrectionModel.Read(new MemoryStream(a.ToBytes()));
            Assert.Equal(a.Score(installs), kept.Score(installs));
            Assert.Equal(rows.Average(r => r.Needed ? 1.0 : 0), a.Score(installs).Average(), 0.02);
        }
    }

    [Fact]
    public void Of_very_many_rows_four_fifths_teach_and_a_fifth_calibrates()
    {
        var few = Rows(500);
        List<LabelledInstall> rows = [.. Enumerable.Range(0, 50_000).Select(i => few[i % few.Count])];
        var model = CorrectionModel.Train(rows, Settings, Learner.Logistic);
        Assert.Equal(40_000, model.TrainedRows);
        Assert.Equal(10_000, model.HeldOut.Count);
        Assert.Equal(rows.Average(r => r.Needed ? 1.0 : 0), model.Score([.. rows.Take(10_000).Select(r => r.Install)]).Average(), 0.02);
    }

    [Fact]
    public void Encoded_rows_hold_no_gap_and_mark_what_was_missing()
    {
        var rows = Rows(300);
        var encoder = new FeatureEncoder([.. rows.Select(r => r.Install)]);
        var at = InstallFeatures.Position("external_static_inwc");
        foreach (var row in rows)
        {
            var vector = encoder.Encode(row.Install);
            Assert.Equal(encoder.Size, vector.Length);
            Assert.All(vector, v => Assert.True(float.IsFinite(v)));
            Assert.Equal(double.IsNaN(row.Install.Numbers[at]) ? 1 : 0, vector[2 * at + 1]);
        }
    }

    [Fact]
    public void Training_needs_both_answers() =>
        Assert.Throws<ArgumentException>(() => CorrectionModel.Train([.. Rows(100).Where(r => !r.Needed)], Settings, Learner.Logistic));

    [Theory]
    [InlineData("Low", 0)]
    [InlineData("med-high", 0.75)]
    [InlineData("T5", 1)]
    [InlineData("tap 3", 0.5)]
    [InlineData("blue wire", double.NaN)]
    [InlineData(null, double.NaN)]
    public void Taps_written_in_words_or_numbers_stand_on_one_scale(string? written, double expected) => Assert.Equal(expected, TapLevel.Of(written));

    private sealed class Gap
    {
        public bool Label { get; set; }

        [VectorType(2)]
        public float[] Features { get; set; } = [];
    }
}
