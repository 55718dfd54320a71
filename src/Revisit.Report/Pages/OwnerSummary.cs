using Revisit.Report.Facts;

namespace Revisit.Report.Pages;

/// <summary>The sentences of the owner's page that are written from the counts.</summary>
internal sealed class OwnerSummary(Texts texts, OwnerFacts facts, WorklistFacts worklist)
{
    /// <summary>At most five sentences.</summary>
    public IEnumerable<string> Sentences()
    {
        var month = texts.Month(facts.Month.First);
        yield return facts.Installs == 0
            ? texts.Say("summary.nothing", month)
            : texts.Say("summary.started", facts.Started, month, texts.Number(facts.Installs), texts.Number(facts.NoFollowUpYet));
        if (facts.MonthCorrected.Of == 0)
        {
            yield return texts.Say("summary.no_follow_ups", month);
        }
        else
        {
            var told = texts.Say("summary.corrected", facts.MonthCorrected.Of, texts.ShareWithInterval(facts.MonthCorrected));
            yield return facts.Before.Of == 0 ? told + "." : told + texts.Say(Direction("summary", facts.MonthCorrected.ComparedWith(facts.Before)), texts.ShareWithInterval(facts.Before));
        }

        if (facts.Causes.FirstOrDefault() is { } cause)
        {
            yield return texts.Say("summary.cause", texts.Code("finding", cause.Finding), texts.Number(cause.Year), texts.Number(facts.YearJudged));
        }

        if (facts.Outcomes.Sum(o => o.Year) is > 0 and var outcomes)
        {
            yield return texts.Say("summary.outcomes", outcomes, texts.Number(facts.OutcomeYear("cured")), texts.Number(facts.OutcomeYear("better")), texts.Number(facts.OutcomeYear("worse")));
        }

        yield return worklist.Rows.Rows == 0
            ? texts.Say("summary.no_worklist")
            : worklist.IsStale(facts.Month) ? texts.Say("summary.stale_worklist", texts.Day(worklist.ScoredOn))
            : texts.Say("summary.worklist", worklist.Rows.Rows, worklist.Rows.Text("install_id")[0], texts.Said(texts.Code("correction", worklist.Rows.Text("likely_correction")[0])));
    }

    /// <summary>What there is to decide; at least one.</summary>
    public IEnumerable<string> Decisions()
    {
        var any = false;
        if (worklist.Rows.Rows > 0 && !worklist.IsStale(facts.Month))
        {
            any = true;
            yield return texts.Say("decide.worklist", worklist.Rows.Rows);
        }

        if (facts.MonthCorrected.ComparedWith(facts.Before) > 0)
        {
            any = true;
            yield return texts.Say("decide.rose");
        }

        if (facts.Causes.FirstOrDefault() is { } cause && texts.Has("decide.cause." + cause.Finding))
        {
            any = true;
            yield return texts.Say("decide.cause." + cause.Finding, texts.ShareWithInterval(new(cause.Year, facts.YearJudged)));
        }

        if (facts.OutcomeMonth("worse") is > 0 and var worse)
        {
            any = true;
            yield return texts.Say("decide.worse", worse);
        }

        // A quarter unjudged is our own line: below it the other numbers still stand on most of the visits.
        if (facts.YearUnjudged > 0 && 4 * facts.YearUnjudged >= facts.YearUnjudged + facts.YearJudged)
        {
            any = true;
            yield return texts.Say("decide.unjudged", texts.ShareWithInterval(new(facts.YearUnjudged, facts.YearUnjudged + facts.YearJudged)));
        }

        if (!any) yield return texts.Say("decide.nothing");
    }

    private static string Direction(string key, int sign) => key + (sign > 0 ? ".higher" : sign < 0 ? ".lower" : ".same");
}
