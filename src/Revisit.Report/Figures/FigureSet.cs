using System.Globalization;
using Revisit.Records;
using Revisit.Report.Facts;

namespace Revisit.Report.Figures;

/// <summary>The figures of the owner's page.</summary>
internal sealed class FigureSet(Texts texts)
{
    /// <summary>Share of first follow-ups corrected, by month, with its interval and counts.</summary>
    public Figure Trend(IReadOnlyList<MonthRow> months, string caption)
    {
        var shown = months.Where(m => m.FollowUps > 0).Select(m => (Row: m, Share: new Share(m.Corrections, m.FollowUps))).ToList();
        var labels = months.Select(m => texts.ShortMonth(m.Month)).ToList();
        var years = months.Select((m, i) => i == 0 || m.Month.Month == 1 ? m.Month.ToString("yyyy", CultureInfo.InvariantCulture) : "").ToList();
        var positions = shown.Select(s => Position(months, s.Row)).ToArray();
        var wide = months.Select((m, i) => $"{labels[i]}<br>{m.Corrections}/{m.FollowUps}{(years[i].Length > 0 ? "<br>" + years[i] : "")}").ToArray();
        var narrow = months.Select((m, i) => $"{(i % 2 == 1 ? labels[i] + "<br>" + $"{m.Corrections}/{m.FollowUps}" : "")}").ToArray();
        var trace = Plot.Trace("scatter",
            ("mode", "lines+markers"), ("x", positions), ("y", shown.Select(s => Percent(s.Share.Rate)).ToArray()),
            ("line", Plot.Of(("color", Palette.Blue), ("width", 2))), ("marker", Plot.Of(("color", Palette.Blue), ("size", 8), ("symbol", "circle"))),
            ("error_y", Plot.Of(("type", "data"), ("symmetric", false), ("color", Palette.SkyBlue), ("thickness", 2), ("width", 5),
                ("array", shown.Select(s => Percent(s.Share.High - s.Share.Rate)).ToArray()),
                ("arrayminus", shown.Select(s => Percent(s.Share.Rate - s.Share.Low)).ToArray()))));
        var chart = Plot.Chart([trace],
            ("xaxis", Plot.Of(("tickmode", "array"), ("tickvals", Enumerable.Range(0, months.Count).ToArray()), ("ticktext", wide), ("tickangle", 0),
                ("range", new[] { -0.5, months.Count - 0.5 }), ("showgrid", false), ("zeroline", false), ("title", Plot.Title(texts.Say("trend.x"))))),
            ("yaxis", Plot.Of(("range", new[] { 0, 103 }), ("ticksuffix", " %"), ("zeroline", true), ("title", Plot.Title(texts.Say("trend.y"))))),
            ("margin", Plot.Of(("l", 64), ("r", 12), ("t", 12), ("b", 88))));
        var numbers = Table.Of(
            [texts.Say("col.month"), texts.Say("col.corrected"), texts.Say("col.follow_ups"), texts.Say("col.share"), texts.Say("col.interval"), texts.Say("col.airflow"), texts.Say("col.charge")],
            months.Select(m =>
            {
                var share = new Share(m.Corrections, m.FollowUps);
                return new[]
                {
                    texts.Month(m.Month), texts.Number(m.Corrections), texts.Number(m.FollowUps), texts.Percent(share.Rate), Interval(share), texts.Number(m.Airflow), texts.Number(m.Charge),
                };
            }), 1);
        return new("figure-trend", texts.Say("trend.alt"), caption, 360, chart, Plot.Of(("layout.xaxis.ticktext", narrow), ("layout.xaxis.title.text", Plot.Label(texts.Say("trend.x_narrow"))), ("layout.font.size", 12)),
            Plot.Of(("data.0.line.color", Palette.SkyBlue), ("data.0.marker.color", Palette.SkyBlue)), numbers);
    }

    /// <summary>Horizontal bars with their labels beside them, first row on top.</summary>
    public Figure Bars(string id, string alt, string caption, string axis, string color, IReadOnlyList<(string Name, int Value, string Label)> bars, Html numbers)
    {
        var most = Math.Max(1, bars.Max(b => b.Value));
        var names = bars.Select(b => Plot.Label(b.Name)).Reverse().ToArray();
        var trace = Plot.Trace("bar",
            ("orientation", "h"), ("x", bars.Select(b => b.Value).Reverse().ToArray()), ("y", names),
            ("text", bars.Select(b => Plot.Label(b.Label)).Reverse().ToArray()), ("textposition", "outside"), ("cliponaxis", false), ("marker", Plot.Of(("color", color))));
        var chart = Plot.Chart([trace],
            ("xaxis", Plot.Of(("range", new[] { 0, 1.45 * most }), ("title", Plot.Title(axis)), ("zeroline", true), ("showgrid", false), ("nticks", 6))),
            ("yaxis", Plot.Of(("automargin", true), ("showgrid", false), ("ticksuffix", "  "))),
            ("bargap", 0.35),
            ("margin", Plot.Of(("l", 16), ("r", 16), ("t", 8), ("b", 48))));
        var narrow = Plot.Of(("layout.font.size", 12), ("layout.xaxis.range", new[] { 0, 2.2 * most }), ("layout.xaxis.nticks", 4));
        return new(id, alt, caption, 90 + 34 * bars.Count, chart, narrow, Plot.Of(), numbers);
    }

    /// <summary>Share corrected by size and season; every cell says its count.</summary>
    public Figure SizesBySeasons(IReadOnlyList<SizeSeasonRow> rows, string caption)
    {
        var sizes = rows.Select(r => r.Tons).Distinct().Order().ToArray();
        var seasons = Codes.Season.ToArray();
        var cells = rows.ToDictionary(r => (r.Tons, r.Season), r => r.Corrected);
        var shades = sizes.Select(s => seasons.Select(q => cells.TryGetValue((s, q), out var c) ? (double?)Percent(c.Rate) : null).ToArray()).ToArray();
        var words = sizes.Select(s => seasons.Select(q => cells.TryGetValue((s, q), out var c) ? $"{texts.Percent(c.Rate)}<br>{texts.Say("cell", c.Count, c.Of)}" : "").ToArray()).ToArray();
        var sizeNames = sizes.Select(s => texts.Give(s, "tons")).ToArray();
        var trace = Plot.Trace("heatmap",
            ("x", seasons.Select(s => Plot.Label(texts.Code("season", s))).ToArray()), ("y", sizeNames), ("z", shades), ("text", words), ("texttemplate", "%{text}"), ("textfont", Plot.Of(("color", "#000000"))),
            ("zmin", 0), ("zmax", 100), ("xgap", 3), ("ygap", 3), ("showscale", false), ("hoverongaps", false),
            ("colorscale", new object[] { new object[] { 0, "#f3f8fb" }, new object[] { 1, Palette.SkyBlue } }));
        var chart = Plot.Chart([trace],
            ("xaxis", Plot.Of(("side", "top"), ("showgrid", false), ("title", Plot.Title(texts.Say("heat.x"))))),
            ("yaxis", Plot.Of(("automargin", true), ("showgrid", false), ("autorange", "reversed"), ("type", "category"), ("title", Plot.Title(texts.Say("heat.y"))))),
            ("margin", Plot.Of(("l", 16), ("r", 8), ("t", 56), ("b", 8))));
        var numbers = Table.Of(
            [texts.Say("col.size"), texts.Say("col.season"), texts.Say("col.corrected"), texts.Say("col.follow_ups"), texts.Say("col.share"), texts.Say("col.interval")],
            rows.OrderBy(r => r.Tons).ThenBy(r => Array.IndexOf(seasons, r.Season)).Select(r => new[]
            {
                texts.Give(r.Tons, "tons"), texts.Code("season", r.Season), texts.Number(r.Corrected.Count), texts.Number(r.Corrected.Of), texts.Percent(r.Corrected.Rate), Interval(r.Corrected),
            }), 2);
        return new("figure-sizes", texts.Say("heat.alt"), caption, 80 + 46 * sizes.Length, chart, Plot.Of(("layout.font.size", 12), ("layout.yaxis.title.text", "")), Plot.Of(), numbers);
    }

    /// <summary>Crews up to which each point of a funnel bears its name; of more only those beyond what chance explains.</summary>
    public const int MostNames = 25;

    /// <summary>Crews by how much their work lets expect: seen over expected, with the limits that 95 of 100 like crews keep to. A crew beyond what chance explains is a diamond.</summary>
    public Figure Funnel(string id, string alt, string caption, IReadOnlyList<StandingRow> crews, Html numbers)
    {
        var along = crews.OrderBy(c => c.Expected).ToList();
        var most = Math.Max(2, 1.1 * crews.Max(c => Math.Max(c.Ratio, c.FunnelHigh)));
        Plotly.NET.Trace Limit(Func<StandingRow, double> limit) => Plot.Trace("scatter",
            ("mode", "lines"), ("x", along.Select(c => Rounded(c.Expected)).ToArray()), ("y", along.Select(c => Rounded(limit(c))).ToArray()), ("line", Plot.Of(("color", Palette.SkyBlue), ("width", 1.5), ("dash", "dot"))));
        var points = Plot.Trace("scatter",
            ("mode", "markers+text"), ("x", along.Select(c => Rounded(c.Expected)).ToArray()), ("y", along.Select(c => Rounded(c.Ratio)).ToArray()), ("text", along.Select(c => along.Count <= MostNames || c.Standing is "more" or "fewer" ? Plot.Label(c.Crew) : "").ToArray()),
            ("textposition", "top center"), ("cliponaxis", false),
            ("marker", Plot.Of(("color", Palette.Blue), ("size", along.Count <= MostNames ? 9 : 6), ("symbol", along.Select(c => c.Standing is "more" or "fewer" ? "diamond" : "circle").ToArray()))));
        var chart = Plot.Chart([Limit(c => c.FunnelLow), Limit(c => c.FunnelHigh), points],
            ("xaxis", Plot.Of(("title", Plot.Title(texts.Say("funnel.x"))), ("showgrid", false), ("rangemode", "tozero"), ("zeroline", false))),
            ("yaxis", Plot.Of(("title", Plot.Title(texts.Say("funnel.y"))), ("range", new[] { 0, Rounded(most) }), ("zeroline", true))),
            ("shapes", new[] { Plot.Of(("type", "line"), ("xref", "paper"), ("x0", 0), ("x1", 1), ("y0", 1), ("y1", 1), ("line", Plot.Of(("color", Palette.Green), ("width", 1)))) }));
        return new(id, alt, caption, 320, chart, Plot.Of(("layout.font.size", 12)), Plot.Of(("data.2.marker.color", Palette.SkyBlue)), numbers);
    }

    /// <summary>The quarters of one crew: share seen, what its work lets expect, and the limits around that.</summary>
    public Figure Quarters(string id, string alt, string caption, IReadOnlyList<CrewQuarterRow> quarters, Html numbers)
    {
        var names = quarters.Select(q => Plot.Label(q.Quarter)).ToArray();
        Plotly.NET.Trace Line(Func<CrewQuarterRow, double> value, string color, string dash) => Plot.Trace("scatter",
            ("mode", "lines"), ("x", names), ("y", quarters.Select(q => Percent(value(q))).ToArray()), ("line", Plot.Of(("color", color), ("width", 1.5), ("dash", dash), ("shape", "hvh"))));
        var seen = Plot.Trace("scatter",
            ("mode", "markers+text"), ("x", names), ("y", quarters.Select(q => Percent(q.Seen.Rate)).ToArray()), ("text", quarters.Select(q => Plot.Label(texts.Say("cell", q.Seen.Count, q.Seen.Of))).ToArray()),
            ("textposition", "top center"), ("cliponaxis", false), ("marker", Plot.Of(("color", Palette.Blue), ("size", 8))));
        var chart = Plot.Chart([Line(q => q.Low, Palette.SkyBlue, "dot"), Line(q => q.High, Palette.SkyBlue, "dot"), Line(q => q.Expected, Palette.Green, "solid"), seen],
            ("xaxis", Plot.Of(("title", Plot.Title(texts.Say("quarters.x"))), ("showgrid", false), ("type", "category"))),
            ("yaxis", Plot.Of(("range", new[] { 0, 112 }), ("ticksuffix", " %"), ("zeroline", true), ("title", Plot.Title(texts.Say("quarters.y"))))));
        return new(id, alt, caption, 280, chart, Plot.Of(("layout.font.size", 11)), Plot.Of(("data.3.marker.color", Palette.SkyBlue)), numbers);
    }

    /// <summary>Differences of temperature from what is expected, °F, with twice their standard uncertainty.</summary>
    public Figure Differences(string id, string alt, string caption, IReadOnlyList<(string Name, double Value, double Spread)> rows, Html numbers)
    {
        double Shown(double difference) => Rounded(texts.Converted(difference, "Δ°F"));
        var reach = Shown(Math.Max(5, 1.15 * rows.Max(r => Math.Abs(r.Value) + r.Spread)));
        var trace = Plot.Trace("scatter",
            ("mode", "markers"), ("x", rows.Select(r => Shown(r.Value)).Reverse().ToArray()), ("y", rows.Select(r => Plot.Label(r.Name)).Reverse().ToArray()), ("marker", Plot.Of(("color", Palette.Blue), ("size", 10))),
            ("error_x", Plot.Of(("type", "data"), ("array", rows.Select(r => Shown(r.Spread)).Reverse().ToArray()), ("color", Palette.SkyBlue), ("thickness", 3), ("width", 6))));
        var chart = Plot.Chart([trace],
            ("xaxis", Plot.Of(("range", new[] { -reach, reach }), ("title", Plot.Title(texts.Say("differences.x"))), ("zeroline", true), ("zerolinewidth", 2))),
            ("yaxis", Plot.Of(("automargin", true), ("showgrid", false), ("ticksuffix", "  "))),
            ("margin", Plot.Of(("l", 16), ("r", 16), ("t", 8), ("b", 48))));
        return new(id, alt, caption, 90 + 40 * rows.Count, chart, Plot.Of(("layout.font.size", 12)), Plot.Of(("data.0.marker.color", Palette.SkyBlue)), numbers);
    }

    private static double Rounded(double value) => Math.Round(value, 3);

    private string Interval(Share share) => share.Of == 0 ? texts.Say("none") : texts.Say("interval", texts.Number(100 * share.Low), texts.Number(100 * share.High));

    private static double Percent(double share) => Math.Round(100 * share, 2);

    private static int Position(IReadOnlyList<MonthRow> months, MonthRow row) => months.TakeWhile(m => m.Month != row.Month).Count();
}
