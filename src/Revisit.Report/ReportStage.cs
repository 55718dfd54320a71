using Revisit.Report.Facts;
using Revisit.Report.Pages;
using Revisit.Storage;

namespace Revisit.Report;

/// <summary>Writes the pages of a month: the owner's page, the worklist with a brief for each install, the crews and a sheet for each, the quality of the records, and how everything is counted.</summary>
public static class ReportStage
{
    /// <summary>
    /// Writes <paramref name="outFolder"/>/<paramref name="month"/>/index.html, worklist.html, crews.html, crew-1.html and so on, brief-1.html and so on, records.html and method.html.
    /// Pages with figures load plotly.js, which lies beside them, and nothing else. The same lake gives the same bytes.
    /// </summary>
    /// <param name="session">The lake as it is published.</param>
    /// <param name="outFolder">Folder for the pages of all months; made if missing.</param>
    /// <param name="month">Month of visit, YYYY-MM.</param>
    /// <param name="progress">Told what is being written.</param>
    /// <param name="settings">Note, language and units; the defaults when left out.</param>
    /// <returns>Full paths of the files, owner's page first.</returns>
    /// <exception cref="Records.UserError">The month, language or units are not one, or the folder cannot be replaced.</exception>
    public static IReadOnlyList<string> Run(LakeSession session, string outFolder, string month, IProgress<string>? progress = null, PageSettings? settings = null)
    {
        settings ??= new();
        var span = ReportMonth.Parse(month);
        var texts = Texts.Load(settings.Language, settings.Units);
        var shell = new PageShell(texts, span, settings.Note ?? (HoldsDemo(session) ? texts.Say("note.invented") : null));
        progress?.Report(texts.Say("progress", span.Name));
        var (worklist, crews) = (WorklistFacts.Read(session), CrewFacts.Read(session));
        var pages = new List<(string File, string Content)>
        {
            (PageShell.Owner, new OwnerPage(texts, shell, OwnerFacts.Read(session, span), crews, worklist).Write()),
            (PageShell.Worklist, new WorklistPage(texts, shell, span, worklist).Write()),
            (PageShell.Crews, new CrewsPage(texts, shell, span, crews).Write()),
            (PageShell.Records, new RecordsPage(texts, shell, span, RecordFacts.Read(session, span)).Write()),
            (PageShell.Method, new MethodPage(texts, shell, ModelCardFacts.Read(session)).Write()),
        };
        pages.AddRange(crews.Crews.Select((c, i) => (PageShell.Crew(i), new CrewPage(texts, shell, PageShell.Crew(i), c).Write())));
        // The briefs belong to the list: where that speaks for another month, they lie with its pages.
        if (!worklist.IsStale(span)) pages.AddRange(BriefFacts.Read(session).Select((b, i) => (PageShell.Brief(b.Rank), new BriefPage(texts, shell, worklist.Rows, i, b).Write())));
        if (pages.Any(p => p.Content.Contains(PageShell.PlotlyTag, StringComparison.Ordinal)))
        {
            pages.Add((PageShell.Plotly, Resources.PlotlyScript()));
        }

        return PageFolder.Replace(outFolder, span.Name, pages);
    }

    private static bool HoldsDemo(LakeSession session) => session.One(r => r.Count(0),
        "SELECT count(*) FROM sources WHERE regexp_matches(lower(concat_ws(' ', source_name, profile)), '(^|[^a-z])demo([^a-z]|$)')") > 0;
}
