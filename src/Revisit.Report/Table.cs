namespace Revisit.Report;

/// <summary>Tables of a page; a wide one scrolls in its own box.</summary>
internal static class Table
{
    /// <summary>A text of so many characters, such as a day or an id, is not broken over lines.</summary>
    private const int ShortText = 14;

    /// <summary>A table whose first <paramref name="words"/> columns are text and the rest numbers, set to the right; a wide one may leave the text column on a wide screen.</summary>
    /// <param name="heads">Heads of the columns.</param>
    /// <param name="rows">Rows, a text a column.</param>
    /// <param name="words">Columns that are text.</param>
    /// <param name="wide">Whether it may be wider than the text.</param>
    /// <param name="linked">Column whose texts lead to a page; none when negative.</param>
    /// <param name="page">The page of a row, by its place; null for none.</param>
    public static Html Of(IReadOnlyList<string> heads, IEnumerable<string[]> rows, int words, bool wide = false, int linked = -1, Func<int, string?>? page = null) => Html.Of(
        $"""
        <div class="scroll{new Html(wide ? " wide" : "")}" tabindex="0" role="region" aria-label="{string.Join(", ", heads)}"><table>
        <thead><tr>{heads.Select((h, i) => i < words ? Html.Of($"<th scope=\"col\">{h}</th>") : Html.Of($"<th scope=\"col\" class=\"n\">{h}</th>"))}</tr></thead>
        <tbody>
        {rows.Select((r, at) => Html.Of($"<tr>{r.Select((c, i) => i == linked && page?.Invoke(at) is { } to ? Html.Of($"<td class=\"k\"><a href=\"{to}\">{c}</a></td>") : i < words ? Html.Of($"<td{new Html(c?.Length <= ShortText ? " class=\"k\"" : "")}>{c}</td>") : Html.Of($"<td class=\"n\">{c}</td>"))}</tr>\n"))}</tbody>
        </table></div>

        """);

    /// <summary>Content that stays folded away under a line that says what it is.</summary>
    public static Html Folded(string summary, Html content) => Html.Of($"<details><summary>{summary}</summary>\n{content}</details>\n");
}
