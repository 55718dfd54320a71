using System.Collections;
using Plotly.NET;

namespace Revisit.Report.Figures;

/// <summary>Traces, axes and layouts in plotly's own property names, so that every property used can be looked up in its reference.</summary>
internal static class Plot
{
    public static Trace Trace(string type, params (string Name, object Value)[] properties)
    {
        var trace = new Trace(type);
        foreach (var (name, value) in properties)
        {
            trace.SetProperty(name, value);
        }

        return trace;
    }

    public static Dictionary<string, object> Of(params (string Name, object Value)[] properties) => properties.ToDictionary(p => p.Name, p => p.Value);

    private const int LongestLabel = 48;

    /// <summary>
    /// Text for inside a figure, not too long to leave room for the figure. Plotly reads a little markup, so what comes from data is
    /// escaped; it takes quotes as they are and would show their entities.
    /// </summary>
    public static string Label(string text) => Html.Escape(text.Length > LongestLabel ? text[..LongestLabel] + "…" : text)
        .Replace("&quot;", "\"", StringComparison.Ordinal).Replace("&#39;", "'", StringComparison.Ordinal);

    public static Dictionary<string, object> Title(string text) => Of(("text", Label(text)));

    /// <summary>A chart with the house layout: no background, no legend, room for labels.</summary>
    public static GenericChart Chart(IEnumerable<Trace> traces, params (string Name, object Value)[] layout)
    {
        var house = new Layout();
        var all = Of(
            ("paper_bgcolor", "rgba(0,0,0,0)"), ("plot_bgcolor", "rgba(0,0,0,0)"), ("showlegend", false),
            ("margin", Of(("l", 56), ("r", 16), ("t", 12), ("b", 48))),
            ("font", Of(("family", "system-ui, sans-serif"), ("size", 13))));
        foreach (var (name, value) in layout)
        {
            all[name] = value;
        }

        foreach (DictionaryEntry entry in (IDictionary)all)
        {
            house.SetProperty((string)entry.Key, entry.Value);
        }

        var chart = GenericChart.ofTraceObjects(false, Microsoft.FSharp.Collections.ListModule.OfSeq(traces));
        return GenericChart.setLayout(house, chart);
    }
}
