namespace Revisit.Report;

/// <summary>Tables of a page; a wide one scrolls in its own box.</summary>
internal static class Table
{
    /// <summary>A table whose first <paramref name="words"/> columns are text and the rest numbers, set to the right.</summary>
    public static Html Of(IReadOnlyList<string> heads, IEnumerable<string[]> rows, int words) => Html.Of(
        $"""
        <div class="scroll" tabindex="0" role="region" aria-label="{heads[0]}"><table>
        <thead><tr>{heads.Select((h, i) => i < words ? Html.Of($"<th scope=\"col\">{h}</th>") : Html.Of($"<th scope=\"col\" class=\"n\">{h}</th>"))}</tr></thead>
        <tbody>
        {rows.Select(r => Html.Of($"<tr>{r.Select((c, i) => i < words ? Html.Of($"<td>{c}</td>") : Html.Of($"<td class=\"n\">{c}</td>"))}</tr>\n"))}</tbody>
        </table></div>

        """);
}
