using System.Globalization;
using System.Text.Json;
using Revisit.Records;

namespace Revisit.Report;

/// <summary>
/// Every word of the pages in one language, from one JSON file: a text, or forms <c>one</c>, <c>other</c> and, where wanted, <c>zero</c>
/// chosen by the first argument. Another language is one more file.
/// </summary>
public sealed class Texts
{
    private readonly Dictionary<string, JsonElement> entries;

    private Texts(Dictionary<string, JsonElement> entries)
    {
        this.entries = entries;
        Language = entries["language"].GetString()!;
        Culture = CultureInfo.GetCultureInfo(entries["culture"].GetString()!);
    }

    /// <summary>Language tag of the pages.</summary>
    public string Language { get; }

    /// <summary>How numbers and months are written.</summary>
    public CultureInfo Culture { get; }

    /// <summary>The texts of a language that is built in.</summary>
    /// <exception cref="UserError">There is no such language.</exception>
    public static Texts Load(string language) => new(
        JsonSerializer.Deserialize<Dictionary<string, JsonElement>>(Resources.Find(language + ".json")
            ?? throw new UserError($"There are no page texts in '{language}'. Built in: en."))!);

    /// <summary>Whether a text of this key exists.</summary>
    public bool Has(string key) => entries.ContainsKey(key);

    /// <summary>A text with its arguments filled in as {0}, {1}, ….</summary>
    /// <exception cref="KeyNotFoundException">The key is missing in the language's file.</exception>
    public string Say(string key, params object?[] arguments)
    {
        if (!entries.TryGetValue(key, out var entry)) throw new KeyNotFoundException($"the page texts have no '{key}'");
        var template = entry.ValueKind == JsonValueKind.Object
            ? Form(entry, arguments)
            : entry.GetString()!;
        return arguments.Length == 0 ? template : string.Format(Culture, template, arguments);
    }

    private static string Form(JsonElement forms, object?[] arguments) =>
        (arguments is [0, ..] && forms.TryGetProperty("zero", out var zero) ? zero : forms.GetProperty(arguments is [1, ..] ? "one" : "other")).GetString()!;

    /// <summary>The texts of a list: key.1, key.2, … until one is missing.</summary>
    public IEnumerable<string> List(string key)
    {
        for (var i = 1; entries.ContainsKey(Numbered(key, i)); i++)
        {
            yield return Say(Numbered(key, i));
        }
    }

    /// <summary>The words of a code; a text that is no code of the set stays as it is.</summary>
    public string Code(string set, string? code) =>
        string.IsNullOrEmpty(code) ? Say("none") : entries.ContainsKey($"{set}.{code}") ? Say($"{set}.{code}") : code;

    /// <summary>A number with a fixed number of decimals.</summary>
    public string Number(double value, int decimals = 0) =>
        double.IsFinite(value) ? value.ToString("N" + decimals.ToString(CultureInfo.InvariantCulture), Culture) : Say("none");

    /// <summary>A share of 1 as a whole percentage.</summary>
    public string Percent(double share) => double.IsFinite(share) ? Say("percent", Number(100 * share)) : Say("none");

    /// <summary>A month in words.</summary>
    public string Month(DateOnly day) => day.ToString("MMMM yyyy", Culture);

    /// <summary>A day in words.</summary>
    public string Day(DateOnly? day) => day?.ToString("d MMM yyyy", Culture) ?? Say("day.unknown");

    private static string Numbered(string key, int i) => string.Create(CultureInfo.InvariantCulture, $"{key}.{i}");
}
