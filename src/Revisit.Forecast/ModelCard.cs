using System.Text.Json;

namespace Revisit.Forecast;

/// <summary>What a scoring run used and how it did on follow-ups it had not seen.</summary>
public sealed record ModelCard
{
    private static readonly JsonSerializerOptions Json = new() { WriteIndented = true, NewLine = "\n", PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower };

    public required string AsOf { get; init; }

    public required int Seed { get; init; }

    /// <summary>First 12 hex digits of the SHA-256 of the labelled rows.</summary>
    public required string DataHash { get; init; }

    public required string Library { get; init; }

    /// <summary>Installs without a follow-up: censored, neither healthy nor faulty, and never trained on.</summary>
    public required int Censored { get; init; }

    /// <summary>Installs whose install day is not recorded; neither learned from nor scored.</summary>
    public required int WithoutInstallDay { get; init; }

    public required IReadOnlyList<string> Features { get; init; }

    public required IReadOnlyList<string> Remarks { get; init; }

    public required IReadOnlyList<QuestionCard> Questions { get; init; }

    /// <summary>Features of the latest start-ups that lie otherwise than among those learned from.</summary>
    public IReadOnlyList<Drifted> Drift { get; init; } = [];

    /// <summary>Reads a card back.</summary>
    /// <exception cref="JsonException">It is not a card.</exception>
    public static ModelCard Parse(ReadOnlySpan<byte> utf8) => JsonSerializer.Deserialize<ModelCard>(utf8, Json) ?? throw new JsonException("empty model card");

    /// <summary>The card as indented JSON.</summary>
    public byte[] ToBytes() => JsonSerializer.SerializeToUtf8Bytes(this, Json);
}

/// <summary>One question on a card.</summary>
public sealed record QuestionCard
{
    public required string Question { get; init; }

    /// <summary>logistic or boosted_trees; finding_scaled where neither was better than that beyond noise; finding_only where nothing was trained.</summary>
    public required string Kind { get; init; }

    /// <summary>Why no model scores.</summary>
    public string? NoModelBecause { get; init; }

    public required int Labels { get; init; }

    public required int Positives { get; init; }

    public string? TestFrom { get; init; }

    public int TrainRows { get; init; }

    /// <summary>Rows the trainer says it used; equal to <see cref="TrainRows"/> or the run stops.</summary>
    public int TrainedRows { get; init; }

    /// <summary>Which rows chances were calibrated on, and so which installs they speak for.</summary>
    public string? CalibratedOn { get; init; }

    public int TestRows { get; init; }

    /// <summary>Test rows for which no score would have been given; they are not in the measures.</summary>
    public int TestAbstained { get; init; }

    /// <summary>How the kind was chosen, the simpler first.</summary>
    public IReadOnlyList<Comparison> Choice { get; init; } = [];

    public IReadOnlyList<TestResult> Results { get; init; } = [];

    public IReadOnlyList<TrainingRange> Ranges { get; init; } = [];
}

/// <summary>
/// One step of the choice, on training rows scored by folds that did not train on them: a more complex kind is taken only where its chances
/// make the answers more likely than those of the simpler one beyond noise (the paired bootstrap interval of the gain in logarithmic score lies above 0).
/// </summary>
public sealed record Comparison(string Kind, string Against, Measured LogScoreGain, bool Taken);

/// <summary>
/// Measures of every contender on one population of test follow-ups, and by how much what scores is better than each other in PR-AUC and in
/// logarithmic score [nats an answer] (paired bootstrap): an interval that holds 0 means it has not been shown to be better.
/// </summary>
public sealed record TestResult(
    string Population, int Rows, int Positives, SortedDictionary<string, Measured> PrAucGainOver, SortedDictionary<string, Measured> LogScoreGainOver, SortedDictionary<string, SortedDictionary<string, Measured>> Contenders);

/// <summary>Lowest and highest value of a feature in training.</summary>
public sealed record TrainingRange(string Feature, double? Low, double? High);
