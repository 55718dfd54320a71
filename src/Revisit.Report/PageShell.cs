using System.Security.Cryptography;
using System.Text;

namespace Revisit.Report;

/// <summary>What every page has around its content: head, content policy, style, links between the pages, scripts at the end.</summary>
internal sealed class PageShell(Texts texts, ReportMonth month, string? note)
{
    public const string Owner = "index.html";
    public const string Worklist = "worklist.html";
    public const string Records = "records.html";

    /// <summary>A whole page. Only the given scripts may run: the policy names them by hash.</summary>
    public string Page(string file, string title, Html content, params string[] scripts)
    {
        var policy = "default-src 'none'; base-uri 'none'; form-action 'none'; img-src data:; style-src 'unsafe-inline'; script-src "
            + (scripts.Length == 0 ? "'none'" : string.Join(' ', scripts.Select(s => $"'sha256-{Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(s)))}'")));
        var pages = new[] { (Owner, "nav.owner"), (Worklist, "nav.worklist"), (Records, "nav.records") };
        return Html.Of(
            $"""
            <!DOCTYPE html>
            <html lang="{texts.Language}">
            <head>
            <meta charset="utf-8">
            <meta http-equiv="Content-Security-Policy" content="{policy}">
            <meta name="viewport" content="width=device-width, initial-scale=1">
            <meta name="color-scheme" content="light dark">
            <meta name="referrer" content="no-referrer">
            <title>{title}</title>
            <style>
            {new Html(Resources.Get("report.css"))}</style>
            </head>
            <body>
            <header>
            <nav aria-label="{texts.Say("nav.label")}">{pages.Select(p => p.Item1 == file
                ? Html.Of($"<span aria-current=\"page\">{texts.Say(p.Item2)}</span> ")
                : Html.Of($"<a href=\"{p.Item1}\">{texts.Say(p.Item2)}</a> "))}</nav>
            </header>
            <main>
            <h1>{title}</h1>
            {(note is null ? Html.None : Html.Of($"<p class=\"note\" role=\"note\">{note}</p>\n"))}{content}</main>
            <footer><p>{texts.Say("footer", month.Name)}</p></footer>
            {scripts.Select(s => Html.Of($"<script>{new Html(s)}</script>\n"))}</body>
            </html>

            """).Markup;
    }
}
