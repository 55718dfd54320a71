using System.Globalization;
using Revisit.Report.Facts;

namespace Revisit.Report.Pages;

/// <summary>The ranked installs to go back to, with cautions first, for a desk, a phone or a print.</summary>
internal sealed class WorklistPage(Texts texts, PageShell shell, ReportMonth month, WorklistFacts facts)
{
    /// <summary>Refrigerants of safety group A2L, mildly flammable (ASHRAE Standard 34; from memory).</summary>
    private static readonly string[] MildlyFlammable = ["R-32", "R-454B"];

    /// <summary>Rows a long list shows before it is asked for all, as report.css says as well: the others lie in a template, which costs no layout. A print holds every row.</summary>
    private const int RowsAtFirst = 200;

    /// <summary>Planned visits from which the days are folded away.</summary>
    private const int DaysFolded = 200;

    private static readonly (string Key, bool Number)[] Heads =
    [
        ("rank", true), ("install", false), ("crew", false), ("size_tons", true), ("refrigerant", false), ("metering", false),
        ("correction", false), ("p_airflow", true), ("p_charge", true), ("benefit", true),
    ];

    public string Write()
    {
        var stale = facts.IsStale(month);
        var any = facts.Rows.Rows > 0 && !stale;
        var content = Html.Join(
        [
            Intro(),
            any ? Cautions(texts) : Html.None,
            any ? Html.Join([Days(), List(), Counted.Link(texts, "worklist")]) : Html.None,
            stale ? Html.None : Needs(),
            stale || facts.Abstained.Count == 0 ? Html.None : Html.Join([Abstained(), Counted.Link(texts, "worklist")]),
            Html.Of($"<h2>{texts.Say("assumptions.title")}</h2>\n<ul>\n{texts.List("work.assumptions").Select(a => Html.Of($"<li>{a}</li>\n"))}</ul>\n"),
            stale || facts.ModelVersions.Count == 0 ? Html.None : Html.Of($"<p class=\"small\">{texts.Say("work.model", string.Join("; ", facts.ModelVersions))}</p>\n"),
        ]);
        return shell.Page(PageShell.Worklist, texts.Say("work.page", texts.Month(month.First)), content, any ? [Resources.Get("worklist.js")] : []);
    }

    private Html Intro()
    {
        if (facts.IsStale(month)) return Html.Of($"<p class=\"lead\">{texts.Say("work.stale", texts.Day(facts.ScoredOn), texts.Month(month.First))}</p>\n");
        if (facts.Rows.Rows == 0)
        {
            return Html.Of($"<p class=\"lead\">{texts.Say("work.empty")} {(facts.Scored > 0 ? texts.Say("work.scored", facts.Scored) : "")}</p>\n");
        }

        return Html.Of($"<p class=\"lead\">{texts.Say("work.intro", facts.Rows.Rows, texts.Day(facts.ScoredOn))}</p>\n");
    }

    /// <summary>What to mind before any work, for every page that is taken to a job.</summary>
    public static Html Cautions(Texts texts) => Html.Of(
        $"""
        <section class="caution" aria-labelledby="cautions">
        <h2 id="cautions">{texts.Say("caution.title")}</h2>
        <ul>
        {texts.List("caution").Select(c => Html.Of($"<li>{c}</li>\n"))}</ul>
        </section>

        """);

    /// <summary>The planned visits, a day and crew at a time, in the order they are driven to.</summary>
    private Html Days()
    {
        var r = facts.Rows;
        var planned = Enumerable.Range(0, r.Rows).Where(i => r.Day("visit_on")[i] is not null)
            .GroupBy(i => (Day: r.Day("visit_on")[i], Region: r.Text("region")[i] ?? "", Crew: r.Whole("visiting_crew")[i]))
            .OrderBy(g => g.Key.Day).ThenBy(g => g.Key.Region, StringComparer.Ordinal).ThenBy(g => g.Key.Crew).ToList();
        var driven = planned.SelectMany(g => g.OrderBy(i => r.Whole("visit_order")[i])).ToList();
        var visits = driven.Count;
        var table = Table.Of([texts.Say("col.day"), texts.Say("col.region"), texts.Say("col.visiting_crew"), texts.Say("col.starts"), texts.Say("col.install"), texts.Say("col.correction"), texts.Say("col.travel")],
                driven.Select(i => new[]
                {
                    texts.Day(r.Day("visit_on")[i]), r.Text("region")[i] ?? "", texts.Number(r.Whole("visiting_crew")[i] ?? double.NaN), r.Text("starts_at")[i] ?? texts.Say("none"), r.Text("install_id")[i] ?? "",
                    texts.Said(texts.Code("correction", r.Text("likely_correction")[i])).Split(';', ',')[0], texts.Number(r.Whole("travel_minutes")[i] ?? double.NaN),
                }), 6, wide: true, linked: 4, page: at => BriefOf(r.Whole("rank")[driven[at]]));
        return visits == 0 ? Html.None : Html.Join(
        [
            Html.Of($"<h2>{texts.Say("days.title")}</h2>\n<p>{texts.Say("days.intro", visits)}</p>\n"),
            visits > DaysFolded ? Table.Folded(texts.Say("days.all"), table) : table,
            Counted.Link(texts, "worklist"),
        ]);
    }

    /// <summary>What is to be done about the installs that are not on the list, and which settings change the list.</summary>
    private Html Needs() => facts.Needs.Count == 0 ? Html.None : Html.Join(
    [
        Html.Of($"<h2>{texts.Say("needs.title")}</h2>\n"),
        Table.Of([texts.Say("col.need"), texts.Say("col.installs")], facts.Needs.Select(n => new[] { texts.Code("need", n.Need), texts.Number(n.Count) }), 1),
        facts.Sensitivity.Count == 0 ? Html.None : Table.Folded(texts.Say("needs.settings"), Table.Of(
            [texts.Say("col.setting"), texts.Say("col.used"), texts.Say("col.tried"), texts.Say("col.chosen"), texts.Say("col.kept")],
            facts.Sensitivity.Select(x => new[] { texts.Code("setting", x.Setting), Setting(x.Setting, x.Used), Setting(x.Setting, x.Value), texts.Number(x.Chosen), texts.Number(x.Kept) }), 1)),
        Counted.Link(texts, "needs"),
    ]);

    private string Setting(string name, double value) =>
        name.EndsWith("_mph", StringComparison.Ordinal) ? texts.Value(value, "mph", 2) : name.EndsWith("_kwh_ton", StringComparison.Ordinal) ? texts.Value(value, "kWh a ton", 2) : texts.Number(value, 2);

    private Html List()
    {
        var (all, title) = (facts.Rows.Rows, texts.Say("work.list"));
        var rest = all <= RowsAtFirst ? Html.None : Html.Of(
            $"""
            <noscript><p>{texts.Say("work.no_script", RowsAtFirst)}</p></noscript>
            <template id="rest">{Enumerable.Range(RowsAtFirst, all - RowsAtFirst).Select(Row)}</template>

            """);
        return Html.Of(
            $"""
            <h2>{title}</h2>
            <p class="filter" hidden><label for="filter">{texts.Say("work.filter")}</label> <input id="filter" type="search" autocomplete="off"> <span id="shown" role="status" data-template="{texts.Say("work.shown")}"></span> <button type="button" id="all" hidden>{texts.Say("work.all")}</button></p>
            <div class="scroll wide" tabindex="0" role="region" aria-label="{title}"><table id="worklist" class="cards{new Html(all > RowsAtFirst ? " short" : "")}" data-most="{RowsAtFirst}" data-all="{all}">
            <thead><tr>{Heads.Select((h, i) => Html.Of($"<th scope=\"col\" aria-sort=\"{(i == 0 ? "ascending" : "none")}\"{new Html(h.Number ? " class=\"n\"" : "")}><button type=\"button\">{texts.Say("col." + h.Key)}</button></th>"))}<th scope="col">{texts.Say("col.why")}</th></tr></thead>
            <tbody>
            {Enumerable.Range(0, Math.Min(all, RowsAtFirst)).Select(Row)}</tbody>
            </table></div>
            {rest}
            """);
    }

    private Html Row(int i)
    {
        var r = facts.Rows;
        var refrigerant = r.Text("refrigerant")[i] ?? "";
        var flammable = MildlyFlammable.Contains(refrigerant) ? texts.Say("work.flammable") : "";
        var checks = Lines(texts, r.Text("first_checks")[i]);
        var cautions = Lines(texts, r.Text("cautions")[i]).ToList();
        if (flammable.Length > 0 && !cautions.Any(c => c.Contains("A2L", StringComparison.Ordinal))) cautions.Add(texts.Say("work.flammable_do"));
        var details = Html.Of(
            $"""
            {Lines(texts, r.Text("score_because")[i]).Select(l => Html.Of($"<div>{l}</div>"))}{Finding(r.Text("finding")[i])}
            <details><summary>{(checks.Count > 0 ? texts.Say("work.first", checks[0]) : texts.Say("work.no_checks"))}</summary>
            {Items("work.checks", checks)}{Items("work.cautions", cautions)}</details>
            """);
        return Html.Of(
            $"""
            <tr>{Number("rank", r.Whole("rank")[i] ?? double.NaN, 0)}{Install(r.Text("install_id")[i], r.Whole("rank")[i])}{Text("crew", r.Text("crew_id")[i])}{Sortable("size_tons", r.Number("nominal_tons")[i], double.IsFinite(r.Number("nominal_tons")[i]) ? texts.Value(r.Number("nominal_tons")[i], "tons") : texts.Say("none"))}{Text("refrigerant", refrigerant + flammable)}{Text("metering", texts.Code("metering", r.Text("metering")[i]))}{Text("correction", texts.Said(texts.Code("correction", r.Text("likely_correction")[i])))}{Chance("p_airflow", r.Number("p_airflow_correction")[i])}{Chance("p_charge", r.Number("p_charge_correction")[i])}{Number("benefit", r.Number("benefit_usd")[i], 0)}<td class="why" data-label="{texts.Say("col.why")}">{details}</td></tr>

            """);
    }

    private Html Finding(string? finding) => string.IsNullOrEmpty(finding) ? Html.None : Html.Of($"<div>{texts.Say("work.finding", texts.Code("finding", finding))}</div>");

    private Html Text(string key, string? value) => Html.Of($"<td data-label=\"{texts.Say("col." + key)}\">{value}</td>");

    /// <summary>The brief of a rank, where it has one.</summary>
    public static string? BriefOf(int? rank) => rank is { } place and <= BriefFacts.Most ? PageShell.Brief(place) : null;

    /// <summary>The install, with a link to its brief where it has one.</summary>
    private Html Install(string? id, int? rank)
    {
        var name = BriefOf(rank) is { } brief ? Html.Of($"<a href=\"{brief}\">{id}</a>") : Html.Of($"{id}");
        return Html.Of($"<th scope=\"row\"{new Html(id?.Length <= 20 ? " class=\"k\"" : "")} data-label=\"{texts.Say("col.install")}\">{name}</th>");
    }

    private Html Number(string key, double value, int decimals) => Sortable(key, value, texts.Number(value, decimals));

    private Html Chance(string key, double value) => Sortable(key, value, texts.Percent(value));

    private Html Sortable(string key, double value, string words) =>
        Html.Of($"<td class=\"n\" data-label=\"{texts.Say("col." + key)}\" data-value=\"{(double.IsFinite(value) ? value.ToString("R", CultureInfo.InvariantCulture) : "")}\">{words}</td>");

    private Html Items(string key, IReadOnlyList<string> items) => items.Count == 0
        ? Html.None
        : Html.Of($"<p>{texts.Say(key)}</p><ul>{items.Select(t => Html.Of($"<li>{t}</li>"))}</ul>\n");

    /// <summary>The items of a text, which stand apart by "; " or a new line, in the words of the pages.</summary>
    public static IReadOnlyList<string> Lines(Texts texts, string? text) =>
        [.. (text ?? "").Split(['\n', ';'], StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries).Select(texts.Said)];

    private Html Abstained() => Html.Join(
    [
        Html.Of($"<h2>{texts.Say("abstained.title")}</h2>\n<p>{texts.Say("abstained.intro", facts.Abstained.Sum(a => a.Count))}</p>\n"),
        Table.Of([texts.Say("col.reason"), texts.Say("col.installs")], facts.Abstained.Select(a => new[] { texts.Said(a.Reason), texts.Number(a.Count) }), 1),
    ]);
}
