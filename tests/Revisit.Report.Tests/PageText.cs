using System.Text.RegularExpressions;

namespace Revisit.Report.Tests;

/// <summary>Reading a page as a browser or a person would.</summary>
internal static partial class PageText
{
    /// <summary>What a reader sees: scripts, styles and tags taken away, white space made one.</summary>
    public static string Words(string page) =>
        System.Net.WebUtility.HtmlDecode(Spaces().Replace(Tags().Replace(Blocks().Replace(page, " "), " "), " "));

    /// <summary>What a browser would load for the markup, or a reader could follow.</summary>
    public static IEnumerable<string> Loads(string markup) => LoadsPattern().Matches(markup).Select(m => m.Groups[1].Value);

    [GeneratedRegex("<(script|style)\\b.*?</\\1>", RegexOptions.Singleline)]
    private static partial Regex Blocks();

    [GeneratedRegex("<[^>]*>")]
    private static partial Regex Tags();

    [GeneratedRegex("\\s+")]
    private static partial Regex Spaces();

    [GeneratedRegex("(?:\\b(?:src|href|action|data|poster|srcset)\\s*=\\s*[\"']?|@import\\s+[\"']?|url\\(\\s*[\"']?)([^\"'\\s>)]+)", RegexOptions.IgnoreCase)]
    private static partial Regex LoadsPattern();
}
