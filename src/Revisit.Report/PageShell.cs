using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace Revisit.Report;

/// <summary>What every page has around its content: head, content policy, style, links between the pages, scripts at the end.</summary>
internal sealed class PageShell(Texts texts, ReportMonth month, string? note)
{
    public const string Owner = "index.html";
    public const string Worklist = "worklist.html";
    public const string Crews = "crews.html";
    public const string Records = "records.html";
    public const string Method = "method.html";

    /// <summary>The plotting library, one file for the pages of a month.</summary>
    public const string Plotly = "plotly.js";

    /// <summary>What a page with figures has and no other.</summary>
    public const string PlotlyTag = $"<script src=\"{Plotly}\"></script>";

    private static readonly (string File, string Key)[] Pages = [(Owner, "nav.owner"), (Worklist, "nav.worklist"), (Crews, "nav.crews"), (Records, "nav.records"), (Method, "nav.method")];

    /// <summary>The page of one crew, by its place in the order of names from 0.</summary>
    public static string Crew(int place) => string.Create(CultureInfo.InvariantCulture, $"crew-{place + 1}.html");

    /// <summary>The brief of the install of a rank on the worklist.</summary>
    public static string Brief(int rank) => string.Create(CultureInfo.InvariantCulture, $"brief-{rank}.html");

    /// <summary>A page with figures.</summary>
    public string Figures(string file, string title, Html content) => Page(file, title, content, true, [Resources.Get("figures.js")]);

    /// <summary>A page. Only the given scripts may run: the policy names them by hash.</summary>
    public string Page(string file, string title, Html content, params string[] scripts) => Page(file, title, content, false, scripts);

    private string Page(string file, string title, Html content, bool figures, string[] scripts)
    {
        // A page opened from a disk has no origin of its own to allow the plotting library from: files are allowed as such.
        var allowed = (string[])[.. figures ? ["'self'", "file:"] : (string[])[], .. scripts.Select(s => $"'sha256-{Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(s)))}'")];
        var policy = "default-src 'none'; base-uri 'none'; form-action 'none'; img-src data:; style-src 'unsafe-inline'; script-src "
            + (allowed.Length == 0 ? "'none'" : string.Join(' ', allowed));
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
            <nav aria-label="{texts.Say("nav.label")}">{Pages.Select(p => p.File == file
                ? Html.Of($"<span aria-current=\"page\">{texts.Say(p.Key)}</span> ")
                : Html.Of($"<a href=\"{p.File}\">{texts.Say(p.Key)}</a> "))}</nav>
            </header>
            <main>
            <h1>{title}</h1>
            {(note is null ? Html.None : Html.Of($"<p class=\"note\" role=\"note\">{note}</p>\n"))}{content}</main>
            <footer><p>{texts.Say("footer", month.Name)}</p></footer>
            {(figures ? new Html(PlotlyTag + "\n") : Html.None)}{scripts.Select(s => Html.Of($"<script>{new Html(s)}</script>\n"))}</body>
            </html>

            """).Markup;
    }
}
