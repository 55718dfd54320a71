using Revisit.Report.Facts;

namespace Revisit.Report.Pages;

/// <summary>What became of every row read, what was set aside and why, and what to measure next time.</summary>
internal sealed class RecordsPage(Texts texts, PageShell shell, ReportMonth month, RecordFacts facts)
{
    public string Write() => shell.Page(PageShell.Records, texts.Say("records.title", texts.Month(month.First)), Html.Join(
    [
        Html.Of($"<p class=\"lead\">{Lead()}</p>\n"),
        Sources(),
        SetAside(),
        Rejected(),
        Judged(),
        Crews(),
    ]));

    private string Lead()
    {
        if (facts.SourceCount == 0) return texts.Say("records.nothing");
        var t = facts.Total;
        return texts.Say("records.lead", facts.SourceCount, texts.Number(t.Read), texts.Number(t.Accepted), texts.Number(t.Duplicate), texts.Number(t.Superseded), texts.Number(t.Rejected))
            + " " + (facts.NotAddingUp == 0 ? texts.Say("records.adds_up") : texts.Say("records.not_adding_up", facts.NotAddingUp))
            + " " + texts.Say("records.set_aside", t.SetAside);
    }

    private Html Sources()
    {
        if (facts.SourceCount == 0) return Html.None;
        string[] Cells(string name, string profile, SourceRow s) =>
        [
            name, profile, texts.Number(s.Read), texts.Number(s.Accepted), texts.Number(s.Duplicate), texts.Number(s.Superseded), texts.Number(s.Rejected), texts.Number(s.SetAside),
            s.AddsUp ? texts.Say("yes") : texts.Say("no"),
        ];
        return Html.Join(
        [
            Html.Of($"<h2>{texts.Say("sources.title")}</h2>\n"),
            facts.SourceCount > facts.Sources.Count ? Html.Of($"<p>{texts.Say("sources.some", facts.Sources.Count, texts.Number(facts.SourceCount))}</p>\n") : Html.None,
            Table.Of(
                [texts.Say("col.source"), texts.Say("col.profile"), texts.Say("col.read"), texts.Say("col.accepted"), texts.Say("col.duplicate"), texts.Say("col.superseded"), texts.Say("col.rejected"), texts.Say("col.set_aside"), texts.Say("col.adds_up")],
                [.. facts.Sources.Select(s => Cells(s.Name, s.Profile, s)), Cells(texts.Say("total"), "", facts.Total)], 2, wide: true),
        ]);
    }

    private Html SetAside()
    {
        if (facts.SetAside.Count == 0) return Html.None;
        return Html.Join(
        [
            Html.Of($"<h2>{texts.Say("aside.title")}</h2>\n<p>{texts.Say("aside.intro")}</p>\n"),
            Table.Of([texts.Say("col.reason"), texts.Say("col.all"), texts.Say("col.this_month")],
                facts.SetAside.Select(s => new[] { texts.Code("aside", s.Reason), texts.Number(s.All), texts.Number(s.Month) }), 1),
            Html.Of($"<p>{texts.Say("aside.columns", string.Join(", ", facts.SetAsideColumns.Select(c => $"{c.Column} ({texts.Number(c.Count)})")))}</p>\n"),
            Html.Of($"<h3>{texts.Say("examples")}</h3>\n"),
            Examples(facts.SetAsideExamples, "aside", true),
        ]);
    }

    private Html Rejected()
    {
        if (facts.Rejected.Count == 0) return Html.None;
        return Html.Join(
        [
            Html.Of($"<h2>{texts.Say("rejected.title")}</h2>\n<p>{texts.Say("rejected.intro")}</p>\n"),
            Table.Of([texts.Say("col.reason"), texts.Say("col.rows")], facts.Rejected.Select(s => new[] { texts.Code("rejected", s.Reason), texts.Number(s.Count) }), 1),
            Html.Of($"<h3>{texts.Say("examples")}</h3>\n"),
            Examples(facts.RejectedExamples, "rejected", false),
        ]);
    }

    private Html Examples(IReadOnlyList<ExampleRow> rows, string set, bool column) => Html.Of(
        $"""
        <ul class="examples">
        {rows.Select(e => Html.Of(
            $"<li><strong>{texts.Code(set, e.Reason)}</strong>: {(column ? e.Column + " " : "")}<code>{e.Raw}</code> <span class=\"small\">{texts.Say("at", e.Source, e.Line)}</span> {e.Detail} {(e.Suggestion.Length > 0 ? texts.Say("suggestion", e.Suggestion) : "")}</li>\n"))}</ul>

        """);

    private Html Judged()
    {
        var head = Html.Of($"<h2>{texts.Say("judged.title")}</h2>\n");
        if (facts.MonthJudged.Of == 0) return Html.Join([head, Html.Of($"<p>{texts.Say("judged.empty", texts.Month(month.First))}</p>\n")]);
        return Html.Join(
        [
            head,
            Html.Of($"<p>{texts.Say("judged.share", texts.ShareWithInterval(facts.MonthJudged))}</p>\n"),
            facts.Unjudged.Count == 0
                ? Html.None
                : Table.Of([texts.Say("col.unjudged"), texts.Say("col.readings")], facts.Unjudged.Select(u => new[] { u.Reason.Length > 0 ? u.Reason : texts.Say("none"), texts.Number(u.Count) }), 1),
        ]);
    }

    private Html Crews()
    {
        if (facts.Gaps.Count > 0) return Gaps();
        var enough = facts.Crews.Where(c => c.Judged.Of >= OwnerFacts.CrewMinimum).ToList();
        if (enough.Count == 0) return Html.None;
        return Html.Join(
        [
            Html.Of($"<h2>{texts.Say("crew_records.title")}</h2>\n<p>{texts.Say("crew_records.intro", OwnerFacts.CrewMinimum)}</p>\n"),
            Table.Of([texts.Say("col.crew"), texts.Say("col.judged_readings"), texts.Say("col.readings"), texts.Say("col.share"), texts.Say("col.interval")],
                enough.Select(c => new[] { c.Crew, texts.Number(c.Judged.Count), texts.Number(c.Judged.Of), texts.Percent(c.Judged.Rate), texts.Interval(c.Judged) }), 1),
        ]);
    }

    private Html Gaps()
    {
        var enough = facts.Gaps.Where(g => g.Judged.Of >= OwnerFacts.CrewMinimum).ToList();
        if (enough.Count == 0) return Html.None;
        return Html.Join(
        [
            Html.Of($"<h2>{texts.Say("crew_records.title")}</h2>\n<p>{texts.Say("crew_records.intro", OwnerFacts.CrewMinimum)}</p>\n"),
            Table.Of(
                [
                    texts.Say("col.crew"), texts.Say("col.judged_readings"), texts.Say("col.readings"), texts.Say("col.share"), texts.Say("col.interval"), texts.Say("col.no_wet_bulb"),
                    texts.Say("col.no_pressures"), texts.Say("col.no_run_time"), texts.Say("col.too_early"), texts.Say("col.set_aside"),
                ],
                enough.Select(g => new[]
                {
                    g.Crew, texts.Number(g.Judged.Count), texts.Number(g.Judged.Of), texts.Percent(g.Judged.Rate), texts.Interval(g.Judged), texts.Number(g.NoWetBulb),
                    texts.Number(g.NoPressures), texts.Number(g.NoRunTime), texts.Number(g.TooEarly), texts.Number(g.SetAside),
                }), 1, wide: true),
        ]);
    }
}
