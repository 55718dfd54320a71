using System.Text.RegularExpressions;

namespace Revisit.Architecture.Tests;

/// <summary>What no text of the repository may hold. Forbidden words are put together here, so that this file does not hold them.</summary>
internal static partial class TextRules
{
    /// <summary>Longest source file, in lines.</summary>
    public const int MostLines = 400;

    private static readonly string[] Source = [".cs", ".sql", ".js", ".css", ".py", ".sh", ".yml", ".yaml", ".csproj", ".props", ".targets"];
    private static readonly string[] Code = [".cs", ".csx", ".ipynb"];

    private static readonly string[] Hosts =
    [
        "nuget" + ".org", "pypi" + ".org", "npm" + "js.org", "npm" + "js.com", "docker" + ".io", "ghcr" + ".io", "quay" + ".io",
        "mcr" + ".microsoft.com", "crates" + ".io", "proxy.golang" + ".org", "repo.maven" + ".apache.org", "pkgs" + ".dev.azure.com", "artifact" + "ory",
    ];

    private static readonly Regex Machine = new("""(?<![\w.:/-])/(""" + "work|home|root" + ")/", RegexOptions.CultureInvariant);

    /// <summary>Source files longer than allowed.</summary>
    public static IEnumerable<string> TooLong(IEnumerable<SourceText> texts) =>
        from t in texts
        where Source.Contains(t.Extension)
        let lines = t.Text.TrimEnd('\n').Count(c => c == '\n') + 1
        where lines > MostLines
        select $"{t.Path} has {lines} lines; split it ({MostLines} at most)";

    /// <summary>Paths of one machine.</summary>
    public static IEnumerable<string> MachinePaths(IEnumerable<SourceText> texts) => Lines(texts, Machine.IsMatch, "a path of one machine");

    /// <summary>Names of package registries.</summary>
    public static IEnumerable<string> RegistryHosts(IEnumerable<SourceText> texts) =>
        Lines(texts, l => Hosts.Any(h => l.Contains(h, StringComparison.OrdinalIgnoreCase)), "a registry host");

    /// <summary>The clock read in code.</summary>
    public static IEnumerable<string> Clocks(IEnumerable<SourceText> texts) =>
        Lines(texts.Where(t => Code.Contains(t.Extension)), Clock().IsMatch, "reads the clock of the machine");

    /// <summary>Sources with a carriage return.</summary>
    public static IEnumerable<string> CarriageReturns(IEnumerable<SourceText> texts) =>
        from t in texts
        where (Source.Contains(t.Extension) || t.Extension is ".md" or ".json" or ".sln" or ".ipynb") && t.Text.Contains('\r', StringComparison.Ordinal)
        select $"{t.Path} holds carriage returns; save it with LF";

    /// <summary>All texts but lock files, which a tool writes.</summary>
    public static IEnumerable<SourceText> Written(IEnumerable<SourceText> texts) => texts.Where(t => t.Name != "packages.lock.json");

    [GeneratedRegex(@"\bDateTime(Offset)?\.(Now|UtcNow|Today)\b", RegexOptions.CultureInvariant)]
    private static partial Regex Clock();

    private static IEnumerable<string> Lines(IEnumerable<SourceText> texts, Func<string, bool> bad, string what) =>
        from t in Written(texts)
        from l in t.Text.Split('\n').Select((text, i) => (Text: text, Number: i + 1))
        where bad(l.Text)
        select $"{t.Path}:{l.Number}: {what}: {l.Text.Trim()}";
}
