using System.Globalization;

namespace Revisit.Forecast;

/// <summary>
/// Turns features into a vector without gaps, as learned from the training part: the median for a missing number with a mark that it was
/// missing, one place for each category seen, and the log odds of what the finding says of each question. The trainers silently skip rows that hold a NaN, so none may remain.
/// </summary>
public sealed class FeatureEncoder
{
    private readonly double[] medians;
    private readonly double[] low;
    private readonly double[] high;
    private readonly string[][] categories;
    private readonly string?[] usual;

    /// <summary>Learns from the training part.</summary>
    /// <exception cref="ArgumentException">There are no rows.</exception>
    public FeatureEncoder(IReadOnlyList<InstallFeatures> training) : this(Learned(training))
    {
    }

    /// <summary>As learned before.</summary>
    internal FeatureEncoder(FeatureEncoding learned)
    {
        Encoding = learned;
        (medians, low, high, categories, usual) = (learned.Medians, learned.Low, learned.High, learned.Categories, learned.Usual);
    }

    /// <summary>What was learned.</summary>
    internal FeatureEncoding Encoding { get; }

    private static FeatureEncoding Learned(IReadOnlyList<InstallFeatures> training)
    {
        if (training.Count == 0)
        {
            throw new ArgumentException("nothing to learn from", nameof(training));
        }

        var numbers = Enumerable.Range(0, FeatureQuery.Numbers.Count).Select(f => Sorted(training, f)).ToList();
        var groups = Enumerable.Range(0, FeatureQuery.Categories.Count)
            .Select(c => training.Select(i => i.Categories[c]).OfType<string>().GroupBy(v => v, StringComparer.Ordinal).ToList()).ToList();
        return new(
            [.. numbers.Select(v => v.Length == 0 ? 0 : v[v.Length / 2])],
            [.. numbers.Select(v => v.Length == 0 ? double.NaN : v[0])],
            [.. numbers.Select(v => v.Length == 0 ? double.NaN : v[^1])],
            [.. groups.Select(g => g.Select(v => v.Key).Order(StringComparer.Ordinal).ToArray())],
            [.. groups.Select(g => g.OrderByDescending(v => v.Count()).ThenBy(v => v.Key, StringComparer.Ordinal).FirstOrDefault()?.Key)]);
    }

    private static double[] Sorted(IReadOnlyList<InstallFeatures> training, int feature)
    {
        double[] values = [.. training.Select(i => i.Numbers[feature]).Where(double.IsFinite)];
        Array.Sort(values);
        return values;
    }

    /// <summary>Length of the vector.</summary>
    public int Size => 2 * medians.Length + categories.Sum(c => c.Length) + Question.All.Count;

    /// <summary>Ranges seen in training: name, lowest and highest value; NaN where a number was never there.</summary>
    public IEnumerable<(string Name, double Low, double High)> Ranges => FeatureQuery.Numbers.Select((n, f) => (n, low[f], high[f]));

    /// <summary>The vector of an install; every entry is finite.</summary>
    public float[] Encode(InstallFeatures install)
    {
        var vector = new float[Size];
        for (var f = 0; f < medians.Length; f++)
        {
            var missing = !double.IsFinite(install.Numbers[f]);
            vector[2 * f] = (float)(missing ? medians[f] : install.Numbers[f]);
            vector[2 * f + 1] = missing ? 1 : 0;
        }

        var start = 2 * medians.Length;
        for (var c = 0; c < categories.Length; c++)
        {
            var at = Array.IndexOf(categories[c], install.Categories[c]);
            if (at >= 0)
            {
                vector[start + at] = 1;
            }

            start += categories[c].Length;
        }

        for (var q = 0; q < Question.All.Count; q++)
        {
            vector[start + q] = Question.All[q].FindingLogOdds(install) is var odds && double.IsNaN(odds) ? 0 : (float)odds;
        }

        return vector;
    }

    /// <summary>Whether some numbers and categories of an install are what is usual in training.</summary>
    public bool IsUsual(InstallFeatures install, IReadOnlyList<int> numbers, IReadOnlyList<int> categoryPositions) =>
        numbers.All(f => install.Numbers[f] == medians[f]) && categoryPositions.All(c => install.Categories[c] == usual[c]);

    /// <summary>The install with some numbers and categories at what is usual in training.</summary>
    public InstallFeatures WithUsual(InstallFeatures install, IReadOnlyList<int> numbers, IReadOnlyList<int> categoryPositions)
    {
        var changed = (double[])install.Numbers.Clone();
        var words = (string?[])install.Categories.Clone();
        foreach (var f in numbers)
        {
            changed[f] = medians[f];
        }

        foreach (var c in categoryPositions)
        {
            words[c] = usual[c];
        }

        return install with { Numbers = changed, Categories = words };
    }

    /// <summary>Why an install lies outside what training saw; null when it does not. A missing value is no reason.</summary>
    /// <param name="install">The install.</param>
    /// <param name="margin">Allowed distance outside, as a share of the range.</param>
    public string? OutsideBecause(InstallFeatures install, double margin)
    {
        for (var f = 0; f < medians.Length; f++)
        {
            var name = FeatureQuery.Numbers[f];
            var value = install.Numbers[f];
            if (!double.IsFinite(value) || name.StartsWith("p_", StringComparison.Ordinal) || name is "cannot_judge" or "crew_airflow_rate" or "crew_charge_rate")
            {
                continue;
            }

            if (double.IsNaN(low[f]))
            {
                return $"{name} was never there in training";
            }

            var room = margin * (high[f] - low[f]);
            if (value < low[f] - room || value > high[f] + room)
            {
                return string.Create(CultureInfo.InvariantCulture, $"{name} {value:0.##} lies outside what training saw ({low[f]:0.##} to {high[f]:0.##})");
            }
        }

        for (var c = 0; c < categories.Length; c++)
        {
            if (install.Categories[c] is { } word && !categories[c].Contains(word))
            {
                return $"{FeatureQuery.Categories[c]} {word} was never seen in training";
            }
        }

        return null;
    }
}

/// <summary>What an encoder learned, in the order of <see cref="FeatureQuery.Numbers"/> and <see cref="FeatureQuery.Categories"/>.</summary>
/// <param name="Medians">Median of each number; 0 where it was never there.</param>
/// <param name="Low">Lowest of each number; NaN where it was never there.</param>
/// <param name="High">Highest of each number; NaN where it was never there.</param>
/// <param name="Categories">Words of each category.</param>
/// <param name="Usual">The most frequent word of each category; null where there was none.</param>
internal sealed record FeatureEncoding(double[] Medians, double[] Low, double[] High, string[][] Categories, string?[] Usual);
