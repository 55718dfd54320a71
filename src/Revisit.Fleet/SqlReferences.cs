using System.Text.RegularExpressions;

namespace Revisit.Fleet;

/// <summary>Finds what a query reads: every name after FROM or JOIN that is not one of its own steps.</summary>
public static partial class SqlReferences
{
    /// <summary>The names a query reads, each once, in ordinal order.</summary>
    public static IReadOnlyList<string> Of(string sql)
    {
        var bare = Noise().Replace(sql, " ");
        var steps = Step().Matches(bare).Select(m => m.Groups[1].Value.ToLowerInvariant()).ToHashSet(StringComparer.Ordinal);
        return [.. Read().Matches(bare).Select(m => m.Groups[1].Value.ToLowerInvariant()).Where(n => !steps.Contains(n)).Distinct().Order(StringComparer.Ordinal)];
    }

    // Comments and string literals.
    [GeneratedRegex(@"--[^\n]*|/\*.*?\*/|'(?:[^']|'')*'", RegexOptions.Singleline)]
    private static partial Regex Noise();

    // A step: "name as (" after WITH or a comma.
    [GeneratedRegex(@"(?:\bwith|,)\s+(\w+)\s+as\s+(?:(?:not\s+)?materialized\s+)?\(", RegexOptions.IgnoreCase)]
    private static partial Regex Step();

    // "is distinct from x" compares, "from f(" calls a function; neither reads a table.
    [GeneratedRegex(@"(?<!\bdistinct\s+)\b(?:from|join)\s+([a-z_]\w*)\b(?!\s*\()", RegexOptions.IgnoreCase)]
    private static partial Regex Read();
}
