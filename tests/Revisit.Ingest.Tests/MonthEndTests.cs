using Revisit.Storage;

namespace Revisit.Ingest.Tests;

/// <summary>A visit stands once, as a whole, in the month it began in, whatever months its readings were saved with.</summary>
public class MonthEndTests
{
    private static readonly string BeforeMidnight = Reading("V1", 1, "2026-07-31T23:50:00Z", "2026-08-01T01:00:00Z", ("correction", "filter")),
        AfterMidnight = Reading("V1", 2, "2026-08-01T00:20:00Z", "2026-08-01T01:00:00Z", ("liquid_line_f", "wide"), ("correction", "duct")),
        July = Reading("V2", 1, "2026-07-14T15:00:00Z", "2026-07-14T16:00:00Z"), August = Reading("V3", 1, "2026-08-14T15:00:00Z", "2026-08-14T16:00:00Z");

    private static string Reading(string visit, int number, string at, string saved, params (string, string)[] more) =>
        PlainRows.Row([("visit_id", visit), ("reading_no", $"{number}"), ("visited_at", at), ("saved_at", saved), .. more]);

    private static List<string[]> Visits(SampleLake lake) => lake.Query("SELECT visit_id, strftime(started_at, '%m-%d %H:%M'), readings FROM visits ORDER BY 1");

    /// <summary>The rows of V1 in the file of a month.</summary>
    private static int InMonth(SampleLake lake, string table, string month) =>
        Lake.At(lake.Folder).ReadCatalog().Find(table, month) is { } entry
            ? int.Parse(lake.One($"SELECT count(*) FROM read_parquet('{Path.Combine(lake.Folder, entry.File)}') WHERE visit_id = 'V1'"), System.Globalization.CultureInfo.InvariantCulture)
            : 0;

    [Fact]
    public void A_visit_over_midnight_at_the_end_of_a_month_is_one_visit()
    {
        using var lake = new SampleLake();
        _ = lake.IngestText(PlainRows.Csv(July, BeforeMidnight, AfterMidnight, August));
        Assert.Equal([["V1", "07-31 23:50", "2"], ["V2", "07-14 15:00", "1"], ["V3", "08-14 15:00", "1"]], Visits(lake));
        Assert.Equal(["2026-07-31", "2026-08-01"], lake.Query("SELECT visited_on FROM readings WHERE visit_id = 'V1' ORDER BY reading_no").Select(r => r[0]));
        Assert.Equal([(2, 0), (1, 0), (2, 0), (1, 0)], new[] { "readings", "visits", "corrections", "set_aside_values" }.Select(t => (InMonth(lake, t, "2026-07"), InMonth(lake, t, "2026-08"))));
        Assert.Equal(["2026-07-14", "2026-08-14"], lake.Query("SELECT first_visited_on, last_visited_on FROM installs").Single());
    }

    /// <summary>Each reading in a file of its own, in either order; the rest of July may be missing.</summary>
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void The_readings_of_one_visit_may_come_in_two_files(bool withOthers)
    {
        var bytes = new List<SortedDictionary<string, string>>();
        foreach (var turned in new[] { false, true })
        {
            using var lake = new SampleLake();
            var files = new[] { ("a.csv", PlainRows.Csv(withOthers ? [July, BeforeMidnight] : [BeforeMidnight])), ("b.csv", PlainRows.Csv(withOthers ? [AfterMidnight, August] : [AfterMidnight])) };
            foreach (var (name, text) in turned ? files.Reverse() : files)
            {
                _ = lake.IngestText(text, name);
            }

            Assert.Equal(["V1", "07-31 23:50", "2"], Visits(lake)[0]);
            Assert.Equal(withOthers ? ["2026-07", "2026-08"] : ["2026-07"], Lake.At(lake.Folder).ReadCatalog().Of("readings").Select(e => e.Partition));
            bytes.Add(lake.Bytes());
        }

        Assert.Equal(bytes[0], bytes[1]);
    }

    /// <summary>
    /// A later save of the visit over midnight moves it: both readings, or one of them, into August, or back into July. Its rows before are superseded
    /// wherever they stood, and nothing of it stays behind in the other month.
    /// </summary>
    [Theory]
    [InlineData("2026-08-02T09:00:00Z", "2026-08-02T09:30:00Z", "08-02 09:00", 0, 2)]
    [InlineData("2026-08-01T00:10:00Z", null, "08-01 00:10", 0, 2)]
    [InlineData(null, "2026-07-31T23:58:00Z", "07-31 23:50", 2, 0)]
    [InlineData(null, "2026-09-01T00:20:00Z", "07-31 23:50", 2, 0)]
    [InlineData("2026-07-01T00:10:00Z", "2026-06-30T23:50:00Z", "06-30 23:50", 0, 0)]
    public void A_later_save_moves_the_whole_visit(string? first, string? second, string started, int inJuly, int inAugust)
    {
        var bytes = new List<SortedDictionary<string, string>>();
        var late = new[] { (1, first), (2, second) }.Where(r => r.Item2 is not null).Select(r => Reading("V1", r.Item1, r.Item2!, "2026-10-01T00:00:00Z")).ToArray();
        foreach (var turned in new[] { false, true })
        {
            using var lake = new SampleLake();
            var files = new[] { ("first.csv", PlainRows.Csv(July, BeforeMidnight, AfterMidnight, August)), ("late.csv", PlainRows.Csv(late)) };
            foreach (var (name, text) in turned ? files.Reverse() : files)
            {
                _ = lake.IngestText(text, name);
            }

            Assert.Equal([["V1", started, "2"], ["V2", "07-14 15:00", "1"], ["V3", "08-14 15:00", "1"]], Visits(lake));
            Assert.Equal([inJuly, inAugust], new[] { "2026-07", "2026-08" }.Select(m => InMonth(lake, "readings", m)));
            Assert.Equal([["4", $"{4 - late.Length}", "0", $"{late.Length}", "0"], [$"{late.Length}", $"{late.Length}", "0", "0", "0"]],
                lake.Query("SELECT rows_read, rows_accepted, rows_duplicate, rows_superseded, rows_rejected FROM sources ORDER BY source_name"));
            bytes.Add(lake.Bytes());
        }

        Assert.Equal(bytes[0], bytes[1]);
    }

    /// <summary>Only the months a visit stood in, or stands in now, are built again.</summary>
    [Fact]
    public void Other_months_are_left_alone()
    {
        using var lake = new SampleLake();
        _ = lake.IngestText(PlainRows.Csv(July, BeforeMidnight, AfterMidnight, August, Reading("V4", 1, "2026-09-14T15:00:00Z", "2026-09-14T16:00:00Z")), "first.csv");
        var before = Lake.At(lake.Folder).ReadCatalog();
        _ = lake.IngestText(PlainRows.Csv(Reading("V1", 1, "2026-08-01T00:05:00Z", "2026-10-01T00:00:00Z")), "late.csv");
        var after = Lake.At(lake.Folder).ReadCatalog();
        Assert.Equal(["2026-07", "2026-08"], after.Of("readings").Where(e => before.Find("readings", e.Partition) != e).Select(e => e.Partition));
    }
}
