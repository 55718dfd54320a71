using Revisit.Records;
using Revisit.Report.Facts;
using Revisit.Report.Figures;

namespace Revisit.Report.Pages;

/// <summary>The owner's monthly page: one paragraph, then what it rests on.</summary>
internal sealed class OwnerPage(Texts texts, PageShell shell, OwnerFacts facts, CrewFacts crews, WorklistFacts worklist)
{
    /// <summary>Where the first printed sheet ends.</summary>
    private static readonly Html NextSheet = new("<div class=\"next-sheet\"></div>\n");

    private readonly FigureSet figures = new(texts);

    public string Write()
    {
        var drawn = new List<Figure>();
        var content = Html.Join(
        [
            .. new OwnerSummary(texts, facts, worklist).Sentences().Select(s => Html.Of($"<p class=\"lead\">{s}</p>\n")),
            Decide(),
            Counts(),
            From("counts"),
            Trend(drawn),
            From("trend"),
            Causes(drawn),
            From("causes"),
            Sizes(drawn),
            From("sizes"),
            Corrections(drawn),
            From("outcomes"),
            PastList(),
            From("payoff"),
            Crews(drawn),
            From("crews"),
            WorklistPart(),
            From("worklist"),
            Assumptions(),
        ]);
        var title = texts.Say("owner.title", texts.Month(facts.Month.First));
        return drawn.Count == 0 ? shell.Page(PageShell.Owner, title, content) : shell.Figures(PageShell.Owner, title, content);
    }

    private Html Heading(string key) => Html.Of($"<h2>{texts.Say(key)}</h2>\n");

    private Html From(string key) => Counted.Link(texts, key);

    private static Html Paragraph(string text) => Html.Of($"<p>{text}</p>\n");

    private Html Draw(List<Figure> drawn, Figure figure)
    {
        drawn.Add(figure);
        return figure.ToHtml(texts.Say("numbers"));
    }

    private Html Decide() => Html.Of(
        $"""
        {Heading("decide.title")}<ul>
        {new OwnerSummary(texts, facts, worklist).Decisions().Select(d => Html.Of($"<li>{d}</li>\n"))}</ul>

        """);

    private Html Counts()
    {
        var now = facts.Current;
        string Row(int count) => texts.ShareWithInterval(new(count, now.FollowUps));
        return Html.Join(
        [
            Heading("counts.title"),
            Html.Of(
                $"""
                <dl>
                <dt>{texts.Say("counts.started")}</dt><dd>{texts.Number(facts.Started)}</dd>
                <dt>{texts.Say("counts.installs")}</dt><dd>{texts.Number(facts.Installs)}</dd>
                <dt>{texts.Say("counts.waiting")}</dt><dd>{texts.Number(facts.NoFollowUpYet)}</dd>
                <dt>{texts.Say("counts.visits")}</dt><dd>{texts.Number(facts.Visits)}</dd>
                <dt>{texts.Say("counts.follow_ups")}</dt><dd>{texts.Number(now.FollowUps)}</dd>
                <dt>{texts.Say("counts.corrected")}</dt><dd>{Row(now.Corrections)}</dd>
                <dt>{texts.Say("counts.airflow")}</dt><dd>{Row(now.Airflow)}</dd>
                <dt>{texts.Say("counts.charge")}</dt><dd>{Row(now.Charge)}</dd>
                </dl>

                """),
        ]);
    }

    private Html Trend(List<Figure> drawn)
    {
        var head = Heading("trend.title");
        if (facts.YearCorrected.Of == 0) return Html.Join([head, Paragraph(texts.Say("trend.empty"))]);
        var caption = texts.Say("trend.caption", texts.ShareWithInterval(facts.YearCorrected));
        var kinds = Table.Of(
            [texts.Say("col.kind"), texts.Say("col.corrected"), texts.Say("col.follow_ups"), texts.Say("col.share"), texts.Say("col.interval")],
            facts.Kinds.Select(k => new[]
            {
                texts.Code("kind", k.Kind), texts.Number(k.Corrected.Count), texts.Number(k.Corrected.Of), texts.Percent(k.Corrected.Rate), texts.Interval(k.Corrected),
            }), 1);
        return Html.Join([head, Draw(drawn, figures.Trend(facts.Months, caption)), NextSheet, Paragraph(texts.Say("trend.population")), kinds]);
    }

    private Html Causes(List<Figure> drawn)
    {
        var head = Heading("causes.title");
        var causes = facts.Causes.ToList();
        var sound = facts.Findings.Where(f => f.Finding == "in_line").Sum(f => f.Year);
        if (facts.YearJudged == 0) return Html.Join([head, Paragraph(texts.Say("causes.unjudged", facts.YearUnjudged))]);
        if (causes.Count == 0) return Html.Join([head, Paragraph(texts.Say("causes.sound", facts.YearJudged))]);
        var numbers = Table.Of(
            [texts.Say("col.cause"), texts.Say("col.year"), texts.Say("col.this_month"), texts.Say("col.share_judged"), texts.Say("col.interval"), texts.Say("col.loss"), texts.Say("col.extra"), texts.Say("col.quantified")],
            causes.Select(c => new[]
            {
                texts.Code("finding", c.Finding), texts.Number(c.Year), texts.Number(c.Month), texts.Percent(new Share(c.Year, facts.YearJudged).Rate), texts.Interval(new(c.Year, facts.YearJudged)),
                texts.Number(c.CapacityLossPct, 1), texts.Number(c.ExtraEnergyPct, 1), texts.Number(c.Quantified),
            }), 1);
        var figure = figures.Bars("figure-causes", texts.Say("causes.alt"), texts.Say("causes.caption", facts.YearJudged, texts.Number(sound), texts.Number(facts.YearUnjudged)), texts.Say("causes.x"), Palette.Blue,
            [.. causes.Select(c => (texts.Code("finding", c.Finding), c.Year, texts.Say("bar.label", texts.Number(c.Year), texts.Number(c.Month))))], numbers);
        return Html.Join([head, Draw(drawn, figure), Cost()]);
    }

    private Html Cost()
    {
        var cost = facts.Cost;
        string Quartiles(double low, double middle, double high) => texts.Say("quartiles", texts.Number(middle, 1), texts.Number(low, 1), texts.Number(high, 1));
        return Html.Join(
        [
            cost.LossOf == 0 ? Html.None : Paragraph(texts.Say("cost.loss", cost.LossOf, Quartiles(cost.LossLow, cost.LossMiddle, cost.LossHigh))),
            cost.ExtraOf == 0 ? Html.None : Paragraph(texts.Say("cost.extra", cost.ExtraOf, Quartiles(cost.ExtraLow, cost.ExtraMiddle, cost.ExtraHigh))),
        ]);
    }

    private Html Sizes(List<Figure> drawn) => Html.Join(
    [
        Heading("heat.title"),
        facts.SizeSeasons.Count == 0
            ? Paragraph(texts.Say("heat.empty"))
            : Draw(drawn, figures.SizesBySeasons(facts.SizeSeasons, texts.Say("heat.caption", facts.SizeSeasons.Sum(s => s.Corrected.Of)))),
        facts.SizeSeasonFindings.Count == 0 ? Html.None : Unfold("heat.findings", Table.Of(
            [texts.Say("col.size_tons"), texts.Say("col.season"), texts.Say("col.judged"), texts.Say("finding.in_line"), texts.Say("col.airflow"), texts.Say("col.charge"), texts.Say("col.other")],
            facts.SizeSeasonFindings.Select(f => new[]
            {
                texts.Give(f.Size, "tons", bare: true), texts.Code("season", f.Season), texts.Number(f.InLine.Of), Short(f.InLine), Short(f.Airflow), Short(f.Charge), Short(f.Other),
            }), 2, wide: true)),
    ]);

    private Html Unfold(string key, Html content) => Table.Folded(texts.Say(key), content);

    /// <summary>A count with its interval, where the number of cases stands in the same row.</summary>
    private string Short(Share share) => share.Of == 0 ? texts.Say("none") : texts.Say("share.short", texts.Number(share.Count), texts.Interval(share));

    private Html Corrections(List<Figure> drawn)
    {
        var head = Heading("outcomes.title");
        var total = facts.Outcomes.Sum(o => o.Year);
        if (total == 0) return Html.Join([head, Paragraph(texts.Say("outcomes.empty"))]);
        var known = Codes.Outcome.Select(o => (Name: o, Year: facts.OutcomeYear(o), Month: facts.OutcomeMonth(o))).ToList();
        var numbers = Table.Of(
            [texts.Say("col.outcome"), texts.Say("col.year"), texts.Say("col.this_month"), texts.Say("col.share"), texts.Say("col.interval")],
            known.Select(o => new[] { texts.Code("outcome", o.Name), texts.Number(o.Year), texts.Number(o.Month), texts.Percent(new Share(o.Year, total).Rate), texts.Interval(new(o.Year, total)) }), 1);
        var pairs = Table.Of(
            [texts.Say("col.as_found"), texts.Say("col.as_left"), texts.Say("col.visits")],
            facts.Changes.Select(c => new[] { texts.Code("finding", c.AsFound), texts.Code("finding", c.AsLeft), texts.Number(c.Count) }), 2);
        var judged = total - facts.OutcomeYear("cannot_judge");
        var caption = texts.Say("outcomes.caption", total, texts.ShareWithInterval(new(facts.OutcomeYear("cured") + facts.OutcomeYear("better"), judged)));
        var figure = figures.Bars("figure-outcomes", texts.Say("outcomes.alt"), caption, texts.Say("outcomes.x"), Palette.Green,
            [.. known.Select(o => (texts.Code("outcome", o.Name), o.Year, texts.Say("bar.label", texts.Number(o.Year), texts.Number(o.Month))))], numbers);
        var kinds = facts.KindOutcomes.Count == 0 ? Html.None : Unfold("outcomes.kinds", Table.Of(
            [
                texts.Say("col.kind_of_correction"), texts.Say("outcome.cured"), texts.Say("outcome.better"), texts.Say("outcome.no_change"), texts.Say("outcome.worse"), texts.Say("outcome.cannot_judge"), texts.Say("col.worked"),
            ],
            facts.KindOutcomes.Select(k => new[]
            {
                texts.Code("correction", k.Correction), texts.Number(k.Cured), texts.Number(k.Better), texts.Number(k.NoChange), texts.Number(k.Worse), texts.Number(k.CannotJudge), texts.ShareWithInterval(k.Worked),
            }), 1, wide: true));
        return Html.Join([head, Draw(drawn, figure), facts.Changes.Count == 0 ? Html.None : Unfold("outcomes.pairs", pairs), kinds]);
    }

    /// <summary>What the visits since found where last month's list said to go, beside where it did not.</summary>
    private Html PastList()
    {
        var past = facts.PastList;
        if (past.ScoredOn is not { } day) return Html.Join([Heading("payoff.title"), Paragraph(texts.Say("payoff.no_list"))]);
        var (hit, others) = (past.Listed.Corrected, past.Others.Corrected);
        string[] Cells(string key, SinceRow row) =>
            [texts.Say(key), texts.Number(row.Installs), texts.Number(row.Visited), texts.Number(row.Corrected.Of), texts.Number(row.Corrected.Count), texts.Percent(row.Corrected.Rate), texts.Interval(row.Corrected)];
        return Html.Join(
        [
            Heading("payoff.title"),
            Paragraph(texts.Say("payoff.visited", past.Listed.Installs, texts.Day(day), texts.Number(past.Listed.Visited), texts.Number(hit.Of))),
            Paragraph(!past.Enough ? texts.Say("payoff.too_few", PastListFacts.FewestToCompare) : texts.Say("payoff." + hit.ComparedWith(others) switch { > 0 => "more", < 0 => "fewer", _ => "same" }, texts.ShareWithInterval(hit), texts.ShareWithInterval(others))),
            Table.Of([texts.Say("col.waiting"), texts.Say("col.installs"), texts.Say("col.visited"), texts.Say("col.follow_ups"), texts.Say("col.corrected"), texts.Say("col.share"), texts.Say("col.interval")],
                [Cells("payoff.listed", past.Listed), Cells("payoff.others", past.Others)], 1),
            Paragraph(texts.Say("payoff.note")),
        ]);
    }

    private Html Crews(List<Figure> drawn)
    {
        var rows = crews.Compared("airflow");
        return Html.Join(
        [
            Heading("crews.title"),
            rows.Count == 0
                ? Paragraph(texts.Say("crews.empty", OwnerFacts.CrewMinimum))
                : Html.Join([Paragraph(texts.Say("crews.owner")), Draw(drawn, CrewsPage.Funnel(texts, "airflow", rows))]),
            Html.Of($"<p><a href=\"{PageShell.Crews}\">{texts.Say("crews.link")}</a></p>\n"),
        ]);
    }

    private Html WorklistPart()
    {
        var rows = worklist.Rows;
        if (worklist.IsStale(facts.Month)) return Html.Join([Heading("work.title"), Paragraph(texts.Say("work.stale", texts.Day(worklist.ScoredOn), texts.Month(facts.Month.First)))]);
        if (rows.Rows == 0) return Html.Join([Heading("work.title"), Paragraph(texts.Say("work.empty"))]);
        var top = Enumerable.Range(0, Math.Min(5, rows.Rows)).Select(i => new[]
        {
            texts.Number(rows.Whole("rank")[i] ?? i + 1), rows.Text("install_id")[i] ?? "", rows.Text("crew_id")[i] ?? "", texts.Said(texts.Code("correction", rows.Text("likely_correction")[i])),
            texts.Percent(rows.Number("p_airflow_correction")[i]), texts.Percent(rows.Number("p_charge_correction")[i]),
        });
        return Html.Join(
        [
            Heading("work.title"),
            Paragraph(texts.Say("work.top", Math.Min(5, rows.Rows), texts.Number(rows.Rows), texts.Day(worklist.ScoredOn))),
            Table.Of([texts.Say("col.rank"), texts.Say("col.install"), texts.Say("col.crew"), texts.Say("col.correction"), texts.Say("col.p_airflow"), texts.Say("col.p_charge")], top, 4, linked: 1, page: i => WorklistPage.BriefOf(rows.Whole("rank")[i])),
            Html.Of($"<p><a href=\"{PageShell.Worklist}\">{texts.Say("work.link")}</a></p>\n"),
        ]);
    }

    private Html Assumptions() => Html.Of(
        $"""
        {Heading("assumptions.title")}<ul>
        {texts.List("assumptions").Select(a => Html.Of($"<li>{a}</li>\n"))}</ul>

        """);
}
