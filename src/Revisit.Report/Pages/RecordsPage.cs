using Revisit.Report.Facts;

namespace Revisit.Report.Pages;

/// <summary>What became of every row read, what was set aside and why, and what to measure next time.</summary>
internal sealed class RecordsPage(Texts texts, PageShell shell, ReportMonth month, RecordFacts facts)
{
    /// <summary>What a reading can do without, or what another value stands in for.</summary>
    private static readonly string[] Optional =
    [
        "supply_wb_f", "return_rh_pct", "supply_rh_pct", "discharge_line_f", "return_static_inwc", "supply_static_inwc", "airflow_cfm", "airflow_method", "system_power_w", "blower_power_w",
    ];

    public string Write() => shell.Page(PageShell.Records, texts.Say("records.title", texts.Month(month.First)), Html.Join(
    [
        Html.Of($"<p class=\"lead\">{Lead()}</p>\n"),
        Part("sources", Sources()),
        Part("aside", SetAside()),
        Part("rejected", Rejected()),
        Part("judged", Judged()),
        Part("missing", Missing()),
        Part("crew_records", Crews()),
        Part("copies", new CopyPart(texts, month, facts.Copies).Write()),
    ]));

    /// <summary>A part that has anything to say, and where its counting is told.</summary>
    private Html Part(string key, Html part) => part == Html.None ? part : Html.Join([part, Counted.Link(texts, key)]);

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
            Html.Of($"<p>{texts.Say("aside.columns", string.Join(", ", facts.SetAsideColumns.Select(c => $"{texts.Code("column", c.Column)} ({texts.Number(c.Count)})")))}</p>\n"),
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
            $"<li><strong>{texts.Code(set, e.Reason)}</strong>: {(column ? texts.Code("column", e.Column) + " " : "")}<code>{e.Raw}</code> <span class=\"small\">{texts.Say("at", e.Source, e.Line)}</span> {texts.Said(e.Detail)} {(e.Suggestion.Length > 0 ? texts.Say("suggestion", texts.Said(e.Suggestion)) : "")}</li>\n"))}</ul>

        """);

    private Html Judged()
    {
        var head = Html.Of($"<h2>{texts.Say("judged.title")}</h2>\n");
        if (facts.MonthJudged.Of == 0) return Html.Join([head, Html.Of($"<p>{texts.Say("judged.empty", texts.Month(month.First))}</p>\n")]);
        return Html.Join(
        [
            head,
            Html.Of($"<p>{texts.Say("judged.share", texts.ShareWithInterval(facts.MonthJudged))}</p>\n"),
            Unjudged(),
            facts.JudgedBySource.Count < 2 ? Html.None : Table.Folded(texts.Say("judged.by_source"), JudgedTable([texts.Say("col.source"), texts.Say("col.profile")],
                facts.JudgedBySource.Take(RecordFacts.SourceLimit).Select(s => (new[] { s.Source, s.Profile }, s.Judged)))),
            facts.JudgedByMonth.Count < 2 ? Html.None : Table.Folded(texts.Say("judged.by_month"), JudgedTable([texts.Say("col.month")],
                facts.JudgedByMonth.Select(m => (new[] { texts.Month(m.Month) }, m.Judged)))),
        ]);
    }

    private Html Unjudged()
    {
        var reasons = facts.Doubts.Count > 0
            ? facts.Doubts.Select(d => (Reason: texts.Code("doubt", d.Reason), d.Count))
            : facts.Unjudged.Select(u => (Reason: u.Reason.Length > 0 ? texts.Said(u.Reason) : texts.Say("none"), u.Count));
        return reasons.Any() ? Table.Of([texts.Say("col.unjudged"), texts.Say("col.readings")], reasons.Select(r => new[] { r.Reason, texts.Number(r.Count) }), 1) : Html.None;
    }

    private Html JudgedTable(IReadOnlyList<string> heads, IEnumerable<(string[] Names, Share Judged)> rows) => Table.Of(
        [.. heads, texts.Say("col.judged_readings"), texts.Say("col.readings"), texts.Say("col.share"), texts.Say("col.interval")],
        rows.Select(r => (string[])[.. r.Names, .. JudgedCells(r.Judged)]), heads.Count);

    private string[] JudgedCells(Share judged) => [texts.Number(judged.Count), texts.Number(judged.Of), texts.Percent(judged.Rate), texts.Interval(judged)];

    private Html Missing()
    {
        var missing = facts.Missing.Where(m => m.Missing.Count > 0).ToList();
        if (missing.Count == 0) return Html.None;
        string Name(MissingRow row) => texts.Code("column", row.Column);
        var asked = missing.Where(m => !Optional.Contains(m.Column)).ToList();
        var rest = missing.Except(asked).ToList();
        return Html.Join(
        [
            Html.Of($"<h2>{texts.Say("missing.title")}</h2>\n<p>{texts.Say("missing.intro", texts.Number(missing.Max(m => m.Missing.Of)))}</p>\n"),
            asked.Count == 0 ? Html.None : Table.Of([texts.Say("col.value"), texts.Say("col.not_written"), texts.Say("col.set_aside"), texts.Say("col.share"), texts.Say("col.interval")],
                asked.Select(m => new[] { Name(m), texts.Number(m.NotWritten), texts.Number(m.SetAside), texts.Percent(m.Missing.Rate), texts.Interval(m.Missing) }), 1),
            rest.Count == 0 ? Html.None : Html.Of($"<p>{texts.Say("missing.optional", string.Join(", ", rest.Select(m => texts.Say("share.short", Name(m), texts.Percent(m.Missing.Rate)))))}</p>\n"),
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
            JudgedTable([texts.Say("col.crew")], enough.Select(c => (new[] { c.Crew }, c.Judged))),
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
                enough.Select(g => (string[])
                [
                    g.Crew, .. JudgedCells(g.Judged), texts.Number(g.NoWetBulb),
                    texts.Number(g.NoPressures), texts.Number(g.NoRunTime), texts.Number(g.TooEarly), texts.Number(g.SetAside),
                ]), 1, wide: true),
        ]);
    }
}
