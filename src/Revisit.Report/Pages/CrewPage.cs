using Revisit.Report.Facts;
using Revisit.Report.Figures;

namespace Revisit.Report.Pages;

/// <summary>One crew's sheet to talk over with it: what goes well first, then what to change, then whether the last change showed.</summary>
internal sealed class CrewPage(Texts texts, PageShell shell, string file, CrewSheetFacts crew)
{
    private static readonly string[] Followed = ["airflow", "charge"];

    public string Write()
    {
        var title = texts.Say("crew.page", crew.Crew);
        if (!crew.Enough)
        {
            return shell.Page(file, title, Html.Of($"<p class=\"lead\">{texts.Say("crew.too_few", crew.Judged, OwnerFacts.CrewMinimum)}</p>\n"));
        }

        return shell.Figures(file, title, Html.Join(
        [
            Html.Of($"<p class=\"lead\">{texts.Say("crew.lead", texts.Number(crew.Judged))}</p>\n"),
            GoesWell(),
            Counted.Link(texts, "crews"),
            ToChange(),
            Counted.Link(texts, "habits"),
            Changes(),
            Counted.Link(texts, "changes"),
            Html.Of($"<h2>{texts.Say("crew.quarters")}</h2>\n"),
            .. Followed.Select(Quarters),
            Counted.Link(texts, "quarters"),
            Table.Folded(texts.Say("crew.all"), Html.Join([Standings(crew.Rates), Standings(crew.Habits)])),
            Html.Of($"<p class=\"small\">{texts.Say("crews.adjusted")} {texts.Say("crew.as_known")}</p>\n"),
        ]));
    }

    private string What(StandingRow row) => texts.Say("crews.where", texts.Code("compared", row.Compared), texts.Code("where", row.Compared));

    private Html GoesWell() => Html.Of(
        $"""
        <h2>{texts.Say("crew.well")}</h2>
        {(crew.GoesWell.Count == 0 ? Html.Of($"<p>{texts.Say("crew.nothing_below")}</p>\n") : Html.Of($"<ul>\n{crew.GoesWell.Select(g => Html.Of(
            $"<li>{texts.Say(g.Standing == "fewer" ? "crew.fewer" : "crew.maybe_fewer", What(g), texts.Number(g.Seen.Count), texts.Number(g.Seen.Of), texts.Number(g.Expected, 1))}</li>\n"))}</ul>\n"))}
        """);

    private Html ToChange() => Html.Of(
        $"""
        <h2>{texts.Say("crew.change")}</h2>
        {(crew.ToChange.Count == 0 ? Html.Of($"<p>{texts.Say("crew.no_habit")}</p>\n") : Html.Of($"<ol>\n{crew.ToChange.Select(Habit)}</ol>\n"))}
        """);

    private Html Habit(StandingRow habit) => Html.Of(
        $"""
        <li><strong>{What(habit)}</strong>: {texts.Say("crew.evidence", texts.Number(habit.Seen.Count), texts.Number(habit.Seen.Of), texts.Percent(habit.Seen.Rate), texts.Percent(habit.PeerRate))}
        {texts.Say("crew.times", texts.Number(habit.Ratio, 1), texts.Number(habit.Low, 1), texts.Number(habit.High, 1))}
        <br>{texts.Say("crew.instead", texts.Code("change", habit.Compared))}
        <br><span class="small">{texts.Say("crew.latest", string.Join(", ", crew.Behind(habit.Compared).Select(i => texts.Say("share.short", i.Install, texts.Day(i.Day)))))}</span></li>

        """);

    private Html Changes() => Html.Join(
    [
        Html.Of($"<h2>{texts.Say("crew.changes")}</h2>\n<p>{texts.Say("crew.changes_how")}</p>\n"),
        crew.Changes.Count == 0
            ? Html.Of($"<p>{texts.Say("crew.changes_few")}</p>\n")
            : Table.Of(
                [texts.Say("col.compared"), texts.Say("col.looked_for"), texts.Say("col.signal"), texts.Say("col.installs"), texts.Say("col.seen"), texts.Say("col.as_before"), texts.Say("col.if_changed"), texts.Say("col.by_chance")],
                crew.Changes.Select(c => new[]
                {
                    texts.Code("compared", c.Compared), texts.Code("direction", c.Direction), c.SignalledOn is { } day ? texts.Say("crew.signal", texts.Day(day)) : texts.Say("crew.no_signal"),
                    texts.Number(c.Installs), texts.Number(c.Seen), texts.Number(c.Expected, 1), texts.Percent(c.IfChanged), texts.Percent(c.ByChance),
                }), 3, wide: true),
    ]);

    private Html Quarters(string compared)
    {
        var quarters = crew.Quarters.Where(q => q.Compared == compared).ToList();
        if (quarters.Count == 0) return Html.None;
        var what = texts.Say("compared." + compared);
        var numbers = Table.Of([texts.Say("col.quarter"), texts.Say("col.seen"), texts.Say("col.judged_installs"), texts.Say("col.share"), texts.Say("col.expected_share"), texts.Say("col.limits")],
            quarters.Select(q => new[]
            {
                q.Quarter, texts.Number(q.Seen.Count), texts.Number(q.Seen.Of), texts.Percent(q.Seen.Rate), texts.Percent(q.Expected), texts.Say("interval", texts.Number(100 * q.Low), texts.Number(100 * q.High)),
            }), 1);
        return new FigureSet(texts).Quarters("figure-quarters-" + compared, texts.Say("quarters.alt", what), texts.Say("quarters.caption", what), quarters, numbers).ToHtml(texts.Say("numbers"));
    }

    private Html Standings(IReadOnlyList<StandingRow> rows) => rows.Count == 0 ? Html.None
        : Table.Of([texts.Say("col.compared"), .. texts.StandingHeads()], rows.Select(r => (string[])[What(r), .. texts.StandingCells(r)]), 1, wide: true);
}
