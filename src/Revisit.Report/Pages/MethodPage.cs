using Revisit.Report.Facts;

namespace Revisit.Report.Pages;

/// <summary>How every part of the pages is counted and from which columns, how a reading becomes a finding, what scores the worklist, and the sources.</summary>
internal sealed class MethodPage(Texts texts, PageShell shell, ModelCardFacts? card)
{
    public string Write() => shell.Page(PageShell.Method, texts.Say("method.title"), Html.Join(
    [
        Html.Of($"<p class=\"lead\">{texts.Say("method.lead")}</p>\n"),
        Section("method.finding"),
        Section("method.tested"),
        Card(),
        Html.Of($"<h2>{texts.Say("method.counted")}</h2>\n<p>{texts.Say("method.counted_how")}</p>\n"),
        .. Counted.Columns.Select(c => Html.Of(
            $"""
            <h3 id="counted-{c.Key}">{texts.Say($"counted.{c.Key}.title")}</h3>
            <p>{texts.Say($"counted.{c.Key}.text")}</p>
            <p class="small">{c.Value.Select((column, i) => Html.Of($"{(i > 0 ? ", " : "")}<code>{column}</code>"))}</p>

            """)),
        Section("method.sources"),
    ]));

    private Html Section(string key) => Html.Of($"<h2>{texts.Say(key)}</h2>\n<ul>\n{texts.List(key).Select(t => Html.Of($"<li>{t}</li>\n"))}</ul>\n");

    private Html Card()
    {
        var head = Html.Of($"<h2 id=\"model\">{texts.Say("model.title")}</h2>\n");
        if (card is null) return Html.Join([head, Html.Of($"<p>{texts.Say("model.none")}</p>\n")]);
        return Html.Join(
        [
            head,
            Html.Of($"<p>{texts.Say("model.lead", card.AsOf, card.Library, texts.Number(card.Censored))}</p>\n"),
            .. card.Questions.Select(Question),
            Html.Of($"<ul>\n{card.Remarks.Select(r => Html.Of($"<li>{texts.Said(r)}</li>\n"))}</ul>\n"),
        ]);
    }

    private Html Question(QuestionRow q) => Html.Join(
    [
        Html.Of($"<h3>{texts.Code("question", q.Question)}</h3>\n<p>{texts.Say("model.question", texts.Code("contender", q.Kind), texts.Number(q.Labels), texts.Number(q.Positives), texts.Number(q.Trained), texts.Number(q.Tested), q.TestFrom ?? texts.Say("none"))} {Because(q.NoModelBecause)}</p>\n"),
        q.Contenders.Count == 0 ? Html.None : Table.Of([texts.Say("col.contender"), texts.Say("col.ranking"), texts.Say("col.caught"), texts.Say("col.brier"), texts.Say("col.calibration")],
            q.Contenders.Select(c => new[] { texts.Code("contender", c.Contender), Measure(c.Ranking), Measure(c.Caught), Measure(c.Brier), Measure(c.Calibration) }), 1, wide: true),
    ]);

    private string Because(string? because) => string.IsNullOrEmpty(because) ? "" : texts.Say("model.because", texts.Said(because));

    private string Measure(MeasureRow m) => double.IsFinite(m.Value) ? texts.Say("measure", texts.Number(m.Value, 2), texts.Number(m.Low, 2), texts.Number(m.High, 2)) : texts.Say("none");
}
