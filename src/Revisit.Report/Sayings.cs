using System.Collections.Concurrent;
using System.Text;
using System.Text.RegularExpressions;

namespace Revisit.Report;

/// <summary>
/// Words that come from the tables, which hold English and the tables' units, in the language and units of the pages. The texts said.KEY are
/// patterns: the English one finds, the language's own one replaces. In them # is a number, [# °F] a number with its unit, [# °F-] one whose
/// unit is not written, {t} words that are looked up themselves, @set a code of said_SET. What fits no pattern stays as it is.
/// </summary>
internal sealed partial class Sayings
{
    private const string Number = @"(-?\d+(?:\.\d+)?|…)";

    private readonly Texts texts;
    private readonly List<(Regex Finds, string[] Parts)> patterns;
    private readonly Regex any;
    private readonly ConcurrentDictionary<string, string> told = new(StringComparer.Ordinal);

    /// <param name="texts">The language that is written.</param>
    /// <param name="english">The patterns that find: key to English text.</param>
    public Sayings(Texts texts, IReadOnlyDictionary<string, string> english)
    {
        this.texts = texts;
        var sets = english.Keys.Where(k => k.StartsWith("said_", StringComparison.Ordinal)).Select(k => k[5..].Split('.', 2))
            .ToLookup(p => p[0], p => Regex.Escape(p[1]).Replace("_", "[_ ]", StringComparison.Ordinal));
        string Finds(string part) => Token().Match(part) is not { Success: true } token || token.Length != part.Length ? Regex.Escape(part)
            : part == "#" ? Number
            : part == "{t}" ? "([a-zA-Z -]+?)"
            : part[0] == '@' ? $"({string.Join('|', sets[part[1..]].OrderByDescending(c => c.Length))})"
            : (token.Groups["n"].Value == "#" ? Number : Regex.Escape(token.Groups["n"].Value)) + (token.Groups["bare"].Success ? "" : Regex.Escape(" " + Quantities.Written(token.Groups["k"].Value)));
        var keys = english.Keys.Where(k => k.StartsWith("said.", StringComparison.Ordinal)).OrderByDescending(k => english[k].Length).ThenBy(k => k, StringComparer.Ordinal).ToList();
        var found = keys.Select(k => string.Concat(Split(english[k]).Select(Finds))).ToList();
        patterns = [.. keys.Select((k, i) => (new Regex($"^{found[i]}$", RegexOptions.CultureInvariant), Split(texts.Raw(k)).ToArray()))];
        any = new($@"(?<![\w-])(?:{string.Join('|', found)})(?![\w-])", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture | RegexOptions.Compiled);
    }

    /// <summary>A text of the tables as the pages say it.</summary>
    public string Tell(string? text) => string.IsNullOrEmpty(text) ? "" : told.GetOrAdd(text, t => any.Replace(Plain(t), Replace));

    private string Replace(Match match)
    {
        foreach (var (finds, parts) in patterns)
        {
            if (finds.Match(match.Value) is not { Success: true } found) continue;
            var (result, next) = (new StringBuilder(), 1);
            foreach (var part in parts)
            {
                if (Token().Match(part) is not { Success: true } token || token.Length != part.Length)
                {
                    result.Append(part);
                    continue;
                }

                var (n, k) = (token.Groups["n"].Value, token.Groups["k"].Value);
                result.Append(part switch
                {
                    "#" => found.Groups[next++].Value,
                    "{t}" => Tell(found.Groups[next++].Value),
                    _ when part[0] == '@' => texts.Raw($"said_{part[1..]}.{found.Groups[next++].Value.Replace(' ', '_')}"),
                    _ => texts.Give(n == "#" ? found.Groups[next++].Value : n, k, token.Groups["bare"].Success),
                });
            }

            return result.ToString();
        }

        return match.Value;
    }

    /// <summary>Units as the source profiles write them (UCUM) as the pages write them.</summary>
    private static string Plain(string text) => !text.Contains('[', StringComparison.Ordinal) ? text : text
        .Replace("[degF]", "°F", StringComparison.Ordinal).Replace("[psi]", "psig", StringComparison.Ordinal).Replace("[in_i'H2O]", "in. w.c.", StringComparison.Ordinal)
        .Replace("[cft_i]/min", "cfm", StringComparison.Ordinal).Replace("[ft_i]", "ft", StringComparison.Ordinal).Replace("[ton_refrig]", "tons", StringComparison.Ordinal).Replace("[oz_av]", "oz", StringComparison.Ordinal);

    private static IEnumerable<string> Split(string pattern)
    {
        var at = 0;
        foreach (Match token in Token().Matches(pattern))
        {
            if (token.Index > at) yield return pattern[at..token.Index];
            yield return token.Value;
            at = token.Index + token.Length;
        }

        if (at < pattern.Length) yield return pattern[at..];
    }

    /// <summary>A quantity in brackets, a bare number, words, or a code.</summary>
    [GeneratedRegex(@"\[(?:(?<n>#|-?\d+(?:\.\d+)?) )(?<k>°F|Δ°F|psig|in\. w\.c\.|cfm a ton|cfm|tons|ft|mph|kWh a ton)(?<bare>-)?\]|#|\{t\}|@[a-z]+")]
    private static partial Regex Token();
}
