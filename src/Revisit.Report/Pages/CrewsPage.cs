using Revisit.Report.Facts;
using Revisit.Report.Figures;

namespace Revisit.Report.Pages;

/// <summary>All crews after adjusting for the work they were given, in order of name, with a link to each crew's own sheet.</summary>
internal sealed class CrewsPage(Texts texts, PageShell shell, ReportMonth month, CrewFacts facts)
{
    /// <summary>What is compared on the page.</summary>
    private static readonly string[] Shown = ["airflow", "charge"];

    public string Write()
    {
        var title = texts.Say("crews.page", texts.Month(month.First));
        var enough = facts.Crews.Where(c => c.Enough).ToList();
        if (enough.Count == 0)
        {
            return shell.Page(PageShell.Crews, title, Html.Join([Html.Of($"<p class=\"lead\">{texts.Say("crews.empty", OwnerFacts.CrewMinimum)}</p>\n"), Sheets()]));
        }

        return shell.Figures(PageShell.Crews, title, Html.Join(
        [
            Html.Of($"<p class=\"lead\">{texts.Say("crews.lead", enough.Count)} {Outside(enough)}</p>\n<p>{texts.Say("crews.adjusted")}</p>\n"),
            .. Shown.Select(Compared),
            Sheets(),
            Counted.Link(texts, "habits"),
        ]));
    }

    private string Outside(List<CrewSheetFacts> enough)
    {
        var named = enough.Where(c => c.ToChange.Count > 0).Select(c => c.Crew).ToList();
        return named.Count == 0 ? texts.Say("crews.no_habit") : texts.Say("crews.habits", named.Count, string.Join(", ", named));
    }

    private Html Compared(string compared)
    {
        var rows = facts.Compared(compared);
        return rows.Count == 0 ? Html.None : Html.Join(
        [
            Html.Of($"<h2>{texts.Say("crews.compared", texts.Say("compared." + compared))}</h2>\n"),
            Funnel(texts, compared, rows).ToHtml(texts.Say("numbers")),
            Counted.Link(texts, "crews"),
        ]);
    }

    /// <summary>The funnel of one comparison with its numbers.</summary>
    public static Figure Funnel(Texts texts, string compared, IReadOnlyList<StandingRow> rows) => new FigureSet(texts).Funnel(
        "figure-funnel-" + compared, texts.Say("funnel.alt", texts.Say("compared." + compared)), texts.Say("funnel.caption", rows.Count, texts.Say("compared." + compared)) + (rows.Count > FigureSet.MostNames ? " " + texts.Say("funnel.names") : ""), rows,
        Table.Of([texts.Say("col.crew"), .. texts.StandingHeads()], rows.Select(r => (string[])[r.Crew, .. texts.StandingCells(r)]), 1, wide: true));

    private Html Sheets() => facts.Crews.Count == 0 ? Html.None : Html.Of(
        $"""
        <h2>{texts.Say("crews.sheets")}</h2>
        <ul>
        {facts.Crews.Select((c, i) => Html.Of($"<li><a href=\"{PageShell.Crew(i)}\">{texts.Say("crews.name", c.Crew)}</a>: {Line(c)}</li>\n"))}</ul>

        """);

    private string Line(CrewSheetFacts crew) => !crew.Enough ? texts.Say("crews.too_few", crew.Judged)
        : crew.ToChange.Count == 0 ? texts.Say("crews.nothing", crew.Judged)
        : texts.Say("crews.to_change", crew.Judged, string.Join("; ", crew.ToChange.Select(h => texts.Say("crews.where", texts.Code("compared", h.Compared), texts.Code("where", h.Compared)))));
}
