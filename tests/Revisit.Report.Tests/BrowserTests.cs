using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using Deque.AxeCore.Commons;
using PuppeteerSharp;
using PuppeteerSharp.Media;

namespace Revisit.Report.Tests;

/// <summary>A fact that needs Chromium, named by the variable CHROMIUM or where Debian puts it; skipped, and said so, where there is none.</summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class ChromiumFactAttribute : FactAttribute
{
    public static readonly string? Chromium = new[] { Environment.GetEnvironmentVariable("CHROMIUM"), "/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome" }.FirstOrDefault(File.Exists);

    public ChromiumFactAttribute()
    {
        if (Chromium is null)
        {
            Skip = "no Chromium: install it, or name one in the variable CHROMIUM, to open the pages in a browser";
        }
    }
}

/// <summary>One browser for all tests of the pages.</summary>
public sealed class Chromium : IAsyncLifetime
{
    public IBrowser Browser { get; private set; } = null!;

    public async Task InitializeAsync()
    {
        if (ChromiumFactAttribute.Chromium is { } path)
        {
            Browser = await Puppeteer.LaunchAsync(new LaunchOptions
            {
                ExecutablePath = path,
                Args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
            });
        }
    }

    public Task DisposeAsync() => Browser?.CloseAsync() ?? Task.CompletedTask;
}

/// <summary>The pages as a browser shows them: at a desk and on a phone, light and dark, by keyboard, in print, and to who cannot see them.</summary>
public sealed class BrowserTests(SamplePages sample, Chromium chromium) : IClassFixture<SamplePages>, IClassFixture<Chromium>
{
    private string Folder => Path.Combine(sample.Out, SampleFleet.Month);

    /// <summary>Every page, and the first of those there are many of.</summary>
    private IEnumerable<string> OneOfEach => sample.Pages.Keys.Where(f => !Regex.IsMatch(f, @"-\d+\.html$") || f.EndsWith("-1.html", StringComparison.Ordinal));

    private string Address(string file) => new Uri(Path.Combine(Folder, file)).AbsoluteUri;

    /// <summary>Opens a page; what it logs and what it asks for beyond its own folder are faults.</summary>
    private async Task<IPage> Open(string file, List<string> faults, int width = 1280, string scheme = "light")
    {
        var page = await chromium.Browser.NewPageAsync();
        page.Console += (_, e) => faults.Add($"{file}: console: {e.Message.Text}");
        page.PageError += (_, e) => faults.Add($"{file}: {e.Message}");
        page.Request += (_, e) =>
        {
            if (!e.Request.Url.StartsWith(new Uri(Folder).AbsoluteUri, StringComparison.Ordinal) && !e.Request.Url.StartsWith("data:", StringComparison.Ordinal))
            {
                faults.Add($"{file} asks for {e.Request.Url}");
            }
        };
        page.RequestFailed += (_, e) => faults.Add($"{file}: {e.Request.Url} could not be loaded");
        await Show(page, width, scheme);
        await page.GoToAsync(Address(file), WaitUntilNavigation.Load);
        return page;
    }

    private static async Task Show(IPage page, int width, string scheme)
    {
        await page.SetViewportAsync(new ViewPortOptions { Width = width, Height = 900, IsMobile = width < 500, HasTouch = width < 500 });
        await page.EmulateMediaFeaturesAsync([new MediaFeatureValue { MediaFeature = MediaFeature.PrefersColorScheme, Value = scheme }]);
    }

    [ChromiumFact]
    public async Task Every_page_opens_without_a_fault_at_every_width_and_shade_and_can_be_used_by_anyone()
    {
        using var script = new StreamReader(typeof(AxeResult).Assembly.GetManifestResourceStream("Deque.AxeCore.Commons.Resources.axe.min.js")!);
        var axe = await script.ReadToEndAsync();
        var faults = new List<string>();
        var looked = 0;
        foreach (var file in OneOfEach)
        {
            // A change of shade alone needs no new page; a phone lays out anew.
            IPage page = null!;
            foreach (var (width, scheme) in new[] { (1280, "light"), (1280, "dark"), (390, "light"), (390, "dark") })
            {
                if (scheme == "light")
                {
                    page = await Open(file, faults, width, scheme);
                    await page.EvaluateExpressionAsync(axe);
                }
                else
                {
                    await Show(page, width, scheme);
                }

                var where = string.Create(CultureInfo.InvariantCulture, $"{file} at {width} px, {scheme}");
                if (await page.EvaluateExpressionAsync<int>("document.documentElement.scrollWidth") is var wide && wide > width)
                {
                    faults.Add($"{where}: {wide} px wide");
                }

                var figures = await page.EvaluateExpressionAsync<int[]>("[document.querySelectorAll('figure > .plot').length, document.querySelectorAll('figure > .plot:has(svg.main-svg)').length]");
                if (figures[0] != figures[1])
                {
                    faults.Add($"{where}: {figures[1]} of {figures[0]} figures drawn");
                }

                var found = await page.EvaluateExpressionAsync<string>("axe.run(document, { resultTypes: ['violations'] }).then(r => JSON.stringify([r.passes.length, r.violations.map(v => v.id + ': ' + v.nodes.map(n => n.target).slice(0, 3).join(' | '))]))");
                var result = JsonDocument.Parse(found).RootElement;
                Assert.True(result[0].GetInt32() > 5, "the search for violations looked at nothing");
                faults.AddRange(result[1].EnumerateArray().Select(v => $"{where}: {v}"));
                looked++;
                if (scheme == "dark")
                {
                    await page.CloseAsync();
                }
            }
        }

        Assert.True(looked >= 16);
        Assert.True(faults.Count == 0, string.Join('\n', faults));
    }

    [ChromiumFact]
    public async Task Every_link_leads_to_a_page_and_a_place_on_it()
    {
        var faults = new List<string>();
        var links = 0;
        foreach (var (file, content) in sample.Pages)
        {
            foreach (var target in Regex.Matches(content, "<a [^>]*href=\"([^\"]*)\"").Select(m => m.Groups[1].Value).Distinct())
            {
                links++;
                var parts = target.Split('#');
                var to = parts[0].Length == 0 ? file : parts[0];
                if (!sample.Pages.TryGetValue(to, out var page) || (parts.Length > 1 && !page.Contains($"id=\"{parts[1]}\"", StringComparison.Ordinal)))
                {
                    faults.Add($"{file} links to {target}");
                }
            }
        }

        Assert.True(links > 20);
        Assert.True(faults.Count == 0, string.Join('\n', faults));
        await using var opened = await Open("index.html", faults);
        await Task.WhenAll(opened.WaitForNavigationAsync(), opened.ClickAsync("nav a[href=\"crews.html\"]"));
        Assert.EndsWith("/crews.html", opened.Url, StringComparison.Ordinal);
        Assert.Empty(faults);
    }

    [ChromiumFact]
    public async Task The_worklist_sorts_and_filters_by_keyboard()
    {
        var faults = new List<string>();
        await using var page = await Open("worklist.html", faults);
        async Task<string[]> Column(int column) => await page.EvaluateFunctionAsync<string[]>("c => Array.from(document.querySelectorAll('#worklist tbody tr')).filter(r => !r.hidden).map(r => r.cells[c].textContent.trim())", column);
        var ranks = await Column(0);
        await page.FocusAsync("#worklist thead th:nth-child(2) button");
        await page.Keyboard.PressAsync("Enter");
        var installs = await Column(1);
        Assert.Equal(installs.Order(StringComparer.Ordinal), installs);
        Assert.NotEqual(ranks, await Column(0));
        await page.Keyboard.PressAsync("Space");
        Assert.Equal(installs.Reverse(), await Column(1));
        await page.FocusAsync("#filter");
        await page.Keyboard.TypeAsync("west 1");
        var crews = await Column(2);
        Assert.True(crews.Length > 0 && crews.Length < ranks.Length);
        Assert.All(crews, c => Assert.Equal("West 1", c));
        Assert.Contains(crews.Length.ToString(CultureInfo.InvariantCulture), await page.EvaluateExpressionAsync<string>("document.getElementById('shown').textContent"), StringComparison.Ordinal);
        Assert.Empty(faults);
    }

    [ChromiumFact]
    public async Task The_first_sheet_of_the_owner_page_holds_summary_decisions_numbers_and_trend()
    {
        var faults = new List<string>();
        await using var page = await Open("index.html", faults, 720);
        await page.EvaluateExpressionAsync<int>("window.dispatchEvent(new Event('beforeprint')), 1");
        await page.EmulateMediaTypeAsync(MediaType.Print);
        var end = await page.EvaluateExpressionAsync<double>("document.querySelector('.next-sheet').getBoundingClientRect().bottom + window.scrollY");
        var trend = await page.EvaluateExpressionAsync<double>("document.getElementById('figure-trend').getBoundingClientRect().bottom + window.scrollY");
        // Ten inches of 96 pixels: a letter sheet without its margins.
        Assert.True(trend < end && end is > 300 and < 960, $"{trend} {end}");
        Assert.Empty(faults);
    }

    [ChromiumFact]
    public async Task Every_kind_of_page_prints()
    {
        var faults = new List<string>();
        foreach (var file in OneOfEach)
        {
            await using var page = await Open(file, faults);
            var pdf = await page.PdfDataAsync(new PdfOptions { Format = PaperFormat.Letter });
            Assert.True(pdf.AsSpan().StartsWith("%PDF"u8) && pdf.Length > 5_000, file);
        }

        Assert.Empty(faults);
    }
}
