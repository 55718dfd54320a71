using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Report.Tests;

/// <summary>The crews' page and the sheet of each crew say what the fleet stage's tables hold, and nothing of a crew with too few installs.</summary>
public sealed class CrewPagesTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("revisit-report-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    /// <summary>A row of crew_rates or crew_mistakes; <paramref name="key"/> is "compared" or "habit".</summary>
    internal static Dictionary<string, object?> Standing(string key, string crew, string compared, int observed, int judged, double expected, string standing)
    {
        var row = new Dictionary<string, object?>
        {
            ["crew_id"] = crew,
            [key] = compared,
            ["judged"] = judged,
            ["observed"] = observed,
            ["expected_count"] = expected,
            ["ratio"] = observed / expected,
            ["ratio_low"] = 0.8 * observed / expected,
            ["ratio_high"] = 1.25 * observed / expected,
            ["adjusted_rate"] = 0.31,
            ["adjusted_rate_low"] = 0.22,
            ["adjusted_rate_high"] = 0.43,
            ["z_score"] = (observed - expected) / Math.Sqrt(expected),
            ["standing"] = standing,
        };
        foreach (var (column, value) in key == "habit" ? [("peer_rate", 0.25)] : new[] { ("funnel_low", 0.6), ("funnel_high", 1.4) })
        {
            row[column] = value;
        }

        return row;
    }

    /// <summary>A row of coaching_points.</summary>
    internal static Dictionary<string, object?> Point(string crew, string part, int place, string point) =>
        new() { ["crew_id"] = crew, ["sheet_part"] = part, ["sheet_place"] = place, ["sheet_point"] = point };

    private Dictionary<string, string> Pages(IEnumerable<Dictionary<string, object?>> rates, IEnumerable<Dictionary<string, object?>>? habits = null, IEnumerable<Dictionary<string, object?>>? points = null)
    {
        using (var publication = Lake.At(Path.Combine(folder, "lake")).BeginPublication())
        {
            publication.Put(Tables.CrewRates, Fill.Table(Tables.CrewRates, [.. rates]));
            publication.Put(Tables.CrewMistakes, Fill.Table(Tables.CrewMistakes, [.. habits ?? []]));
            publication.Put(Tables.CoachingPoints, Fill.Table(Tables.CoachingPoints, [.. points ?? []]));
            publication.Put(Tables.CoachingExamples, Fill.Table(Tables.CoachingExamples,
            [
                .. new[] { "I9", "I4" }.Select((install, i) => new Dictionary<string, object?> { ["crew_id"] = "A1", ["habit"] = "tap_high_on_small", ["sheet_place"] = i + 1, ["install_id"] = install, ["seen_on"] = new DateOnly(2026, 3, 9 - i) }),
            ]));
            publication.Put(Tables.CrewChanges, Fill.Table(Tables.CrewChanges,
            [
                new() { ["crew_id"] = "A1", ["compared"] = "airflow", ["direction"] = "better", ["charted_from"] = new DateOnly(2026, 1, 5), ["charted_installs"] = 41, ["charted_observed"] = 3, ["charted_expected"] = 9.5, ["false_signal_chance"] = 0.02, ["signal_chance"] = 0.61, ["signalled_on"] = new DateOnly(2026, 2, 9) },
            ]));
            publication.Commit();
        }

        using var session = Lake.At(Path.Combine(folder, "lake")).OpenSession();
        return ReportStage.Run(session, Path.Combine(folder, "pages"), "2026-03").Where(p => p.EndsWith(".html", StringComparison.Ordinal)).ToDictionary(p => Path.GetFileName(p), File.ReadAllText);
    }

    [Fact]
    public void A_sheet_starts_with_what_goes_well_and_then_names_the_habit_with_its_evidence()
    {
        var pages = Pages(
            [Standing("compared", "A1", "airflow", 20, 60, 18, "as_expected"), Standing("compared", "A1", "charge_low", 4, 60, 11, "fewer"), Standing("compared", "B1", "airflow", 3, 19, 6, "too_few_installs")],
            [Standing("habit", "A1", "tap_high_on_small", 15, 25, 6, "more"), Standing("habit", "A1", "filter_left", 9, 50, 9.5, "as_expected")],
            [Point("A1", "goes_well", 1, "charge_low"), Point("A1", "goes_well", 2, "filter_left"), Point("A1", "to_change", 1, "tap_high_on_small")]);
        var sheet = PageText.Words(pages["crew-1.html"]);
        Assert.True(sheet.IndexOf("What goes well", StringComparison.Ordinal) is > 0 and var well && well < sheet.IndexOf("Habits to change", StringComparison.Ordinal));
        Assert.Contains("Charge too low (judged first follow-ups): seen at 4 of 60, fewer than the 11.0 such work lets expect. Filter loaded or missing at start-up (start-ups with the filter written down): seen at 9 of 50, fewer than the 9.5 such work lets expect; it may be chance.", sheet, StringComparison.Ordinal);
        Assert.Contains("Too much air left (systems up to 2.5 tons) : 15 of 25 (60 %; other crews 25 %). That is 2.5 times what such work lets expect (95 % interval 2.0 to 3.1).", sheet, StringComparison.Ordinal);
        Assert.Contains("Latest installs: I9 (9 Mar 2026), I4 (8 Mar 2026)", sheet, StringComparison.Ordinal);
        Assert.Contains("power off and locked out", sheet, StringComparison.Ordinal);
        Assert.Contains("Airflow out of line better: odds halved signal at start-ups of 9 Feb 2026 41 3 9.5 61 % 2 % ", sheet, StringComparison.Ordinal);
        Assert.Contains("20 60 18.0 33 % 31 % 22 to 43 % as expected", sheet, StringComparison.Ordinal);
        var all = PageText.Words(pages["crews.html"]);
        Assert.Contains("1 crew has enough judged first follow-ups to be looked at. A habit stands above what other crews show at the same work at A1.", all, StringComparison.Ordinal);
        Assert.Contains("Crew B1 : 19 judged first follow-ups, too few to say anything fair", all, StringComparison.Ordinal);
        Assert.DoesNotContain("B1 3 19", all, StringComparison.Ordinal);
        Assert.Contains("1 crew. Dotted", PageText.Words(pages["index.html"]), StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_is_said_of_a_crew_with_too_few_installs()
    {
        var pages = Pages([Standing("compared", "B1", "airflow", 3, 19, 6, "too_few_installs")], [Standing("habit", "B1", "tap_high_on_small", 15, 25, 6, "more")]);
        var sheet = PageText.Words(pages["crew-1.html"]);
        Assert.Contains("19 first follow-ups of this crew's installs could be judged. Below 20 nothing fair can be said.", sheet, StringComparison.Ordinal);
        Assert.DoesNotContain("Too much air left", sheet, StringComparison.Ordinal);
        Assert.Contains("No crew has 20 judged first follow-ups", PageText.Words(pages["crews.html"]), StringComparison.Ordinal);
    }

    [Fact]
    public void Crews_stand_in_order_of_name_whatever_they_show()
    {
        var names = Enumerable.Range(0, 400).Select(i => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"C{i:000}")).ToList();
        var pages = Pages(names.Select((n, i) => Standing("compared", n, "airflow", 10 + (i * 7 % 20), 60, 18, "as_expected")));
        var list = pages["crews.html"];
        var places = names.Select(n => list.IndexOf($">Crew {n}</a>", StringComparison.Ordinal)).ToList();
        Assert.All(places, p => Assert.True(p > 0));
        Assert.Equal(places.Order(), places);
        Assert.Equal(400, pages.Keys.Count(k => k.StartsWith("crew-", StringComparison.Ordinal)));
        Assert.Contains("<h1>Crew C399: to talk over</h1>", pages["crew-400.html"], StringComparison.Ordinal);
    }
}
