using Revisit.Records;
using Revisit.Report.Facts;
using Revisit.Report.Figures;

namespace Revisit.Report.Pages;

/// <summary>The brief to take along to one install of the worklist: cautions, checks in order, what to bring, its readings against what is expected, its history.</summary>
/// <param name="texts">The texts.</param>
/// <param name="shell">What is around every page.</param>
/// <param name="work">The worklist.</param>
/// <param name="at">The install's place in it, from 0.</param>
/// <param name="facts">What is known of the install.</param>
internal sealed class BriefPage(Texts texts, PageShell shell, Batch work, int at, BriefFacts facts)
{
    private const string Difference = "Δ°F";

    public string Write()
    {
        var title = texts.Say("brief.page", work.Text("install_id")[at]);
        var shown = facts.Readings.LastOrDefault(r => r.Values.Any(v => double.IsFinite(v.Error)));
        var content = Html.Join(
        [
            Html.Of($"<p class=\"lead\">{texts.Say("brief.lead", texts.Number(facts.Rank), Equipment())}</p>\n"),
            Html.Of($"<p>{texts.Say("brief.likely", texts.Said(texts.Code("correction", work.Text("likely_correction")[at])), texts.Percent(work.Number("p_airflow_correction")[at]), texts.Percent(work.Number("p_charge_correction")[at]))}</p>\n"),
            work.Day("visit_on")[at] is { } day ? Html.Of($"<p>{texts.Say("brief.planned", texts.Day(day), work.Text("starts_at")[at], texts.Number(work.Whole("visiting_crew")[at] ?? double.NaN), texts.Number(work.Whole("visit_minutes")[at] ?? double.NaN))}</p>\n") : Html.None,
            WorklistPage.Cautions(texts),
            Caution.Of(work.Text("refrigerant")[at]) is { } flammable ? Html.Of($"<p class=\"note\"><strong>{texts.Said(flammable)}</strong></p>\n") : Html.None,
            Html.Of($"<h2>{texts.Say("brief.checks")}</h2>\n<ol>\n{WorklistPage.Lines(texts, work.Text("first_checks")[at]).Select(c => Html.Of($"<li>{c}</li>\n"))}</ol>\n"),
            Html.Of($"<h2>{texts.Say("brief.bring")}</h2>\n{Items(WorklistPage.Lines(texts, work.Text("bring")[at]) is { Count: > 0 } bring ? bring : texts.List("brief.bring").Append(texts.Say("brief.refrigerant", work.Text("refrigerant")[at] ?? texts.Say("none"))))}<p class=\"small\">{texts.Say("brief.practice")}</p>\n"),
            Html.Of($"<h2>{texts.Say("brief.readings")}</h2>\n"),
            facts.Readings.Count == 0 ? Html.Of($"<p>{texts.Say("brief.none")}</p>\n") : Html.Of($"<p class=\"small\">{texts.Say("brief.uncertainty")}</p>\n"),
            Html.Join(facts.Readings.Select(r => Reading(r, r == shown))),
            Counted.Link(texts, "brief"),
        ]);
        return shown is null ? shell.Page(PageShell.Brief(facts.Rank), title, content) : shell.Figures(PageShell.Brief(facts.Rank), title, content);
    }

    private string Equipment() => string.Join(", ", new[]
    {
        double.IsFinite(work.Number("nominal_tons")[at]) ? texts.Give(work.Number("nominal_tons")[at], "tons") : null, work.Text("refrigerant")[at],
        work.Text("metering")[at] is { } metering ? texts.Code("metering", metering) : null, work.Text("crew_id")[at] is { } crew ? texts.Say("crews.name", crew) : null,
        work.Day("installed_on")[at] is { } day ? texts.Say("brief.installed", texts.Day(day)) : null,
    }.OfType<string>());

    private static Html Items(IEnumerable<string> items) => Html.Of($"<ul>\n{items.Select(i => Html.Of($"<li>{i}</li>\n"))}</ul>\n");

    /// <summary>Where a reading stands; its numbers are the table below.</summary>
    private Html Figure(BriefReading reading)
    {
        var shown = reading.Values.Where(v => double.IsFinite(v.Error)).ToList();
        return new FigureSet(texts).Differences("figure-differences", texts.Say("differences.alt"), texts.Say("differences.caption", texts.Day(reading.Day)),
            [.. shown.Select(v => (texts.Code("quantity", v.Quantity), v.Error, 2 * v.ErrorSd))], Html.None).ToHtml(texts.Say("numbers"));
    }

    private Html Reading(BriefReading r, bool drawn) => Html.Join(
    [
        Html.Of($"<h3>{texts.Say("brief.reading", texts.Day(r.Day), texts.Code("kind", r.Kind), texts.Number(r.Number), texts.Code("phase", r.Phase))}</h3>\n"),
        Html.Of($"<p>{r.Finding switch
        {
            null => texts.Say("brief.not_judged"),
            "cannot_judge" => texts.Say("brief.cannot_judge", texts.Said(r.CannotJudgeBecause)),
            _ => texts.Say("brief.finding", texts.Code("finding", r.Finding), r.Probability > 0.99 ? texts.Say("brief.nearly_sure") : texts.Percent(r.Probability), texts.Said(r.Reasons)),
        }}</p>\n"),
        Html.Of($"<p class=\"small\">{texts.Say("brief.state", texts.Number(r.Minutes), texts.Give(r.OutdoorF, "°F"), texts.Give(r.StaticInwc, "in. w.c.", 2), texts.Code("tap", r.Tap), texts.Code("filter", r.Filter))}</p>\n"),
        drawn ? Figure(r) : Html.None,
        Values(r),
        facts.Corrections.Where(c => c.Visit == r.Visit).ToList() is { Count: > 0 } done && r == facts.Readings.Last(o => o.Visit == r.Visit)
            ? Html.Of($"<p>{texts.Say("brief.done", string.Join(", ", done.Select(c => texts.Code("correction", c.Correction))))}</p>\n")
            : Html.None,
    ]);

    private Html Values(BriefReading r) => Table.Of([texts.Say("col.quantity"), texts.Say("col.read_value"), texts.Say("col.expected_value"), texts.Say("col.difference")],
        r.Values.Where(v => double.IsFinite(v.Value)).Select(v => new[] { texts.Code("quantity", v.Quantity), Give(v.Value, v.Sd, Kind(v)), Shown(v.Expected, Kind(v)), Give(v.Error, v.ErrorSd, Difference) }), 1);

    /// <summary>A value with twice its standard uncertainty.</summary>
    private string Give(double value, double sd, string kind) => double.IsFinite(value) ? texts.Say("brief.plus_minus", texts.Value(value, kind), Shown(2 * sd, Difference)) : texts.Say("none");

    private string Shown(double value, string kind) => double.IsFinite(value) ? texts.Value(value, kind) : texts.Say("none");

    /// <summary>All that is shown are differences of temperature but one.</summary>
    private static string Kind(AgainstRow row) => row.Quantity == "evaporating_f" ? "°F" : Difference;
}
