using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using Revisit.Records;

namespace Revisit.Report;

/// <summary>
/// Every word of the pages in one language, from one JSON file: a text, or forms <c>one</c>, <c>other</c> and, where wanted, <c>zero</c>
/// chosen by the first argument. Another language is one more file. A quantity that stands in a text is written in brackets in the tables'
/// unit, [55 °F], a unit alone as [°F]; <see cref="Quantities"/> turns both into the units of the pages.
/// </summary>
public sealed partial class Texts
{
    /// <summary>Languages there are texts for.</summary>
    public static readonly IReadOnlyList<string> Languages = ["en", "es"];

    private readonly Dictionary<string, JsonElement> entries;
    private readonly Dictionary<string, string> written = [];
    private readonly NumberFormatInfo numbers;
    private readonly Quantities quantities;
    private readonly Lazy<Sayings> sayings;

    private Texts(Dictionary<string, JsonElement> entries, string units)
    {
        this.entries = entries;
        Language = entries["language"].GetString()!;
        quantities = new(units);
        // The signs come from the file, not from the system's tables of cultures: the same bytes on every machine.
        numbers = (NumberFormatInfo)CultureInfo.InvariantCulture.NumberFormat.Clone();
        (numbers.NumberDecimalSeparator, numbers.NumberGroupSeparator) = (Raw("decimal"), Raw("group"));
        sayings = new(() => new(this, Read("en").Where(e => e.Value.ValueKind == JsonValueKind.String).ToDictionary(e => e.Key, e => e.Value.GetString()!)));
    }

    /// <summary>Language tag of the pages.</summary>
    public string Language { get; }

    /// <summary>The texts of a language that is built in.</summary>
    /// <param name="language">Its tag.</param>
    /// <param name="units">Units of the pages, "ip" or "si".</param>
    /// <exception cref="UserError">There is no such language or there are no such units.</exception>
    public static Texts Load(string language, string units = "ip") => new(Read(language), units);

    private static Dictionary<string, JsonElement> Read(string language) => JsonSerializer.Deserialize<Dictionary<string, JsonElement>>(
        (Languages.Contains(language) ? Resources.Find(language + ".json") : null) ?? throw new UserError($"There are no page texts in '{language}'. Built in: {string.Join(", ", Languages)}."))!;

    /// <summary>Whether a text of this key exists.</summary>
    public bool Has(string key) => entries.ContainsKey(key);

    /// <summary>A text as the file has it.</summary>
    internal string Raw(string key) => entries[key].GetString()!;

    /// <summary>A text with its arguments filled in as {0}, {1}, ….</summary>
    /// <exception cref="KeyNotFoundException">The key is missing in the language's file.</exception>
    public string Say(string key, params object?[] arguments)
    {
        if (!entries.TryGetValue(key, out var entry)) throw new KeyNotFoundException($"the page texts have no '{key}'");
        var template = Units(entry.ValueKind == JsonValueKind.Object ? Form(entry, arguments) : entry.GetString()!);
        return arguments.Length == 0 ? template : string.Format(CultureInfo.InvariantCulture, template, arguments);
    }

    private static string Form(JsonElement forms, object?[] arguments) =>
        (arguments is [0, ..] && forms.TryGetProperty("zero", out var zero) ? zero : forms.GetProperty(arguments is [1, ..] ? "one" : "other")).GetString()!;

    /// <summary>The quantities of a text in the units of the pages.</summary>
    private string Units(string template)
    {
        if (!template.Contains('[', StringComparison.Ordinal)) return template;
        if (!written.TryGetValue(template, out var done))
        {
            done = written[template] = Quantity().Replace(template, q => q.Groups["n"] is { Success: true } n ? Give(n.Value, q.Groups["k"].Value) : Label(q.Groups["k"].Value));
        }

        return done;
    }

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

    /// <summary>Words that come from the tables, as far as there are words for them.</summary>
    public string Said(string? text) => sayings.Value.Tell(text);

    /// <summary>A number with a fixed number of decimals.</summary>
    public string Number(double value, int decimals = 0) =>
        double.IsFinite(value) ? value.ToString("N" + decimals.ToString(CultureInfo.InvariantCulture), numbers) : Say("none");

    /// <summary>A quantity without its unit, in the unit of the pages.</summary>
    /// <param name="value">In the unit of the tables.</param>
    /// <param name="kind">The quantity, as <see cref="Quantities"/> names it.</param>
    /// <param name="decimals">Decimals in the unit of the tables.</param>
    internal string Value(double value, string kind, int decimals = 1)
    {
        var (converted, shown) = quantities.Of(value, kind, decimals);
        return Number(converted, shown);
    }

    /// <summary>A quantity with its unit.</summary>
    internal string Give(double value, string kind, int decimals = 1) => double.IsFinite(value) ? $"{Value(value, kind, decimals)} {Label(kind)}" : Say("none");

    /// <summary>A quantity as it is written in a text.</summary>
    internal string Give(string number, string kind, bool bare = false)
    {
        if (!double.TryParse(number, CultureInfo.InvariantCulture, out var value)) return bare ? number : $"{number} {Label(kind)}";
        var decimals = number.Contains('.', StringComparison.Ordinal) ? number.Length - number.IndexOf('.', StringComparison.Ordinal) - 1 : 0;
        return bare ? Value(value, kind, decimals) : Give(value, kind, decimals);
    }

    private string Label(string kind) => Code("unit", quantities.Label(kind));

    /// <summary>A value for a figure, in the unit of the pages.</summary>
    internal double Converted(double value, string kind) => quantities.Of(value, kind, 0).Value;

    /// <summary>A share of 1 as a whole percentage.</summary>
    public string Percent(double share) => double.IsFinite(share) ? Say("percent", Number(100 * share)) : Say("none");

    /// <summary>A month in words.</summary>
    public string Month(DateOnly day) => Say("month.year", Say(Numbered("month", day.Month)), Year(day));

    /// <summary>A month in short, without its year.</summary>
    public string ShortMonth(DateOnly day) => Say(Numbered("month.short", day.Month));

    /// <summary>A day in words.</summary>
    public string Day(DateOnly? day) => day is { } d ? Say("day.month.year", d.Day, ShortMonth(d), Year(d)) : Say("day.unknown");

    private static string Year(DateOnly day) => day.Year.ToString(CultureInfo.InvariantCulture);

    private static string Numbered(string key, int i) => string.Create(CultureInfo.InvariantCulture, $"{key}.{i}");

    [GeneratedRegex(@"\[(?:(?<n>-?\d+(?:\.\d+)?) )?(?<k>°F|Δ°F|psig|in\. w\.c\.|cfm a ton|cfm|tons|ft|mph|kWh a ton)\]")]
    private static partial Regex Quantity();
}
