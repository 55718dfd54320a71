using Newtonsoft.Json;
using Plotly.NET;

namespace Revisit.Report.Figures;

/// <summary>
/// One figure of a page. Its data stand in the page as JSON, which no browser runs; the page's own script hands them to plotly.js.
/// The id is given, not drawn at random, so the same data give the same bytes.
/// </summary>
/// <param name="Id">Id of the element, unique on the page.</param>
/// <param name="Alt">What the figure shows, for who cannot see it.</param>
/// <param name="Caption">The sentence under it.</param>
/// <param name="Height">Height in CSS pixels.</param>
/// <param name="Chart">Traces and layout.</param>
/// <param name="Narrow">Entries that replace others on a narrow screen, by dotted path from the figure's root.</param>
/// <param name="Dark">Entries that replace others on a dark page.</param>
/// <param name="Numbers">The same numbers as a table; none where the page shows that beside the figure.</param>
internal sealed record Figure(string Id, string Alt, string Caption, int Height, GenericChart Chart, IReadOnlyDictionary<string, object> Narrow, IReadOnlyDictionary<string, object> Dark, Html Numbers)
{
    /// <summary>The figure element.</summary>
    /// <param name="numbersLabel">Label of the part that unfolds the numbers.</param>
    public Html ToHtml(string numbersLabel) => Html.Of(
        $"""
        <figure>
        <div class="plot" id="{Id}" role="img" aria-label="{Alt}" data-height="{Height}" style="height:{Height}px"></div>
        <script type="application/json" data-figure="{Id}">{new Html(Json())}</script>
        <figcaption>{Caption}</figcaption>
        {(Numbers == Html.None ? Html.None : Html.Of($"<details><summary>{numbersLabel}</summary>{Numbers}</details>"))}
        </figure>

        """);

    /// <summary>Data and layout; no character in it can end the element it stands in.</summary>
    private string Json()
    {
        var settings = new JsonSerializerSettings
        {
            StringEscapeHandling = StringEscapeHandling.EscapeHtml,
            Culture = System.Globalization.CultureInfo.InvariantCulture,
            ReferenceLoopHandling = ReferenceLoopHandling.Serialize,
        };
        return JsonConvert.SerializeObject(
            new { data = GenericChart.getTraces(Chart), layout = GenericChart.getLayout(Chart), narrow = Narrow, dark = Dark }, settings);
    }
}
