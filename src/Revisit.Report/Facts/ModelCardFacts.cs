using System.Text.Json;
using Revisit.Storage;

namespace Revisit.Report.Facts;

/// <summary>A measure with its 95 % interval.</summary>
internal sealed record MeasureRow(double Value, double Low, double High);

/// <summary>How one contender did on follow-ups it had not seen.</summary>
/// <param name="Contender">Code of the contender.</param>
/// <param name="Ranking">Area under the precision-recall curve.</param>
/// <param name="Brier">Mean squared error of the chance.</param>
/// <param name="Calibration">Mean distance of stated from seen shares.</param>
/// <param name="Caught">Share of the needed corrections among the fifth ranked first.</param>
internal sealed record ContenderRow(string Contender, MeasureRow Ranking, MeasureRow Brier, MeasureRow Calibration, MeasureRow Caught);

/// <summary>One question the forecast answers: what scores, on what it was trained and tested.</summary>
internal sealed record QuestionRow(string Question, string Kind, string? NoModelBecause, int Labels, int Positives, string? TestFrom, int Trained, int Tested, IReadOnlyList<ContenderRow> Contenders);

/// <summary>The card of the model that scored the worklist.</summary>
internal sealed record ModelCardFacts(string AsOf, string Library, int Censored, IReadOnlyList<string> Remarks, IReadOnlyList<QuestionRow> Questions)
{
    /// <summary>The card in the lake, null where there is none.</summary>
    public static ModelCardFacts? Read(LakeSession session)
    {
        if (session.Catalog.Of("model_card").FirstOrDefault() is not { } entry) return null;
        using var card = JsonDocument.Parse(session.Bytes(entry));
        var root = card.RootElement;
        return new(Text(root, "as_of") ?? "", Text(root, "library") ?? "", Whole(root, "censored"), [.. root.GetProperty("remarks").EnumerateArray().Select(r => r.GetString()!)],
            [.. root.GetProperty("questions").EnumerateArray().Select(Question)]);
    }

    private static QuestionRow Question(JsonElement q)
    {
        // The first population is all follow-ups.
        var result = q.TryGetProperty("results", out var results) && results.ValueKind == JsonValueKind.Array ? results.EnumerateArray().FirstOrDefault() : default;
        return new(Text(q, "question") ?? "", Text(q, "kind") ?? "", Text(q, "no_model_because"), Whole(q, "labels"), Whole(q, "positives"), Text(q, "test_from"), Whole(q, "trained_rows"),
            result.ValueKind == JsonValueKind.Object ? Whole(result, "rows") : 0,
            result.ValueKind != JsonValueKind.Object ? [] :
            [
                .. result.GetProperty("contenders").EnumerateObject().Select(c => new ContenderRow(c.Name,
                    Measure(c.Value, "pr_auc"), Measure(c.Value, "brier"), Measure(c.Value, "calibration_error"), Measure(c.Value, "caught_top_20_pct"))),
            ]);
    }

    private static MeasureRow Measure(JsonElement of, string name) => of.TryGetProperty(name, out var m) && m.ValueKind == JsonValueKind.Object
        ? new(Real(m, "value"), Real(m, "low"), Real(m, "high"))
        : new(double.NaN, double.NaN, double.NaN);

    private static double Real(JsonElement of, string name) => of.TryGetProperty(name, out var v) && v.ValueKind == JsonValueKind.Number ? v.GetDouble() : double.NaN;

    private static int Whole(JsonElement of, string name) => of.TryGetProperty(name, out var v) && v.ValueKind == JsonValueKind.Number ? v.GetInt32() : 0;

    private static string? Text(JsonElement of, string name) => of.TryGetProperty(name, out var v) && v.ValueKind == JsonValueKind.String ? v.GetString() : null;
}
