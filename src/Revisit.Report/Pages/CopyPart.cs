using Revisit.Records;
using Revisit.Report.Facts;

namespace Revisit.Report.Pages;

/// <summary>The part of the records page about readings that look copied: questions to ask, with the rate at which they are asked for nothing.</summary>
internal sealed class CopyPart(Texts texts, ReportMonth month, CopyFacts facts)
{
    private const double Smallest = 1e-6;

    public Html Write()
    {
        if (facts.Looked + facts.LookedBefore == 0) return Html.None;
        return Html.Join(
        [
            Html.Of($"<h2>{texts.Say("copies.title")}</h2>\n<p>{texts.Say("copies.asked", facts.Asked.Count, facts.Quarter, texts.Number(facts.Looked))} {texts.Say("copies.note")}</p>\n"),
            Questions(facts.Asked),
            Html.Of($"<p>{texts.Say("copies.rate", texts.Number(1 / CopyLimits.Asked))}</p>\n"),
            Repeated(),
            facts.LookedBefore == 0 ? Html.None
                : Table.Folded(texts.Say("copies.before", facts.AskedBefore.Count, texts.Number(facts.LookedBefore)), Questions(facts.AskedBefore)),
        ]);
    }

    private Html Repeated()
    {
        if (facts.RepeatedCount == 0) return Html.None;
        return Table.Folded(texts.Say("copies.visits", facts.RepeatedCount, texts.Month(month.First)), Html.Join(
        [
            facts.RepeatedCount > facts.Repeated.Count ? Html.Of($"<p>{texts.Say("copies.some", facts.Repeated.Count)}</p>\n") : Html.None,
            Table.Of([texts.Say("col.day"), texts.Say("col.crew"), texts.Say("col.visit"), texts.Say("col.repeats"), texts.Say("col.same")],
                facts.Repeated.Select(r => new[] { texts.Day(r.Day), r.Crew, r.Visit, r.Earlier, texts.Say("cell", r.Repeated, r.Compared) }), 4),
        ]));
    }

    private Html Questions(IReadOnlyList<CopyRow> rows) => rows.Count == 0
        ? Html.None
        : Table.Of([texts.Say("col.quarter"), texts.Say("col.crew"), texts.Say("col.looks_copied"), texts.Say("col.visits"), texts.Say("col.for_nothing")],
            rows.Select(r => new[] { r.Quarter, r.Crew, What(r), texts.Number(r.Visits), ForNothing(r.ForNothing) }), 3);

    private string What(CopyRow row) => string.Join("; ", new[]
    {
        row.Repeated > 0 ? texts.Say("copies.repeat", row.Repeated) : null,
        row.Digits > 0 ? texts.Say("copies.digits", texts.Number(row.Digits)) : null,
        row.SpreadColumn is null ? null : texts.Say("copies.spread", texts.Code("column", row.SpreadColumn), texts.Percent(row.SpreadRatio)),
    }.OfType<string>());

    /// <summary>A share as "1 in 340": two digits, rounded so that the share said is never too small.</summary>
    private string ForNothing(double share)
    {
        if (!(share > Smallest)) return texts.Say(double.IsNaN(share) ? "none" : "copies.rarely");
        var times = 1 / share;
        var unit = Math.Pow(10, Math.Max(0, Math.Floor(Math.Log10(times)) - 1));
        return texts.Say("copies.one_in", texts.Number(Math.Floor(times / unit) * unit));
    }
}
