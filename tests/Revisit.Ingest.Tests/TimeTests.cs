namespace Revisit.Ingest.Tests;

/// <summary>Local times, offsets, the hours that daylight saving doubles and skips, and the day at the site.</summary>
public class TimeTests
{
    internal static SourceProfile Profile(string zone, string format = "") => ProfileReader.Parse($$"""
        name: made
        zone: {{zone}}
        columns:
          visit_id: V
          reading_no: N
          install_id: I
          crew_id: C
          visit_kind: K
          visited_at: { from: T{{format}} }
        """, "made.yaml");

    internal static string[] Read(SourceProfile profile, string time)
    {
        using var lake = new SampleLake();
        var summary = lake.IngestText($"V,N,I,C,K,T\nV1,1,I1,C1,other,{time}\n", "branch.csv", profile);
        return summary.Accepted == 1
            ? [.. lake.Query("SELECT strftime(visited_at, '%Y-%m-%dT%H:%M:%S'), visited_on FROM readings").Single(), Lake(lake)]
            : [lake.One("SELECT rejected_reason FROM rejected_rows"), "", ""];
    }

    /// <summary>The month the reading is kept under.</summary>
    private static string Lake(SampleLake lake) => Storage.Lake.At(lake.Folder).ReadCatalog().Of("readings").Single().Partition;

    [Theory]
    [InlineData("America/Chicago", "2026-07-14T15:30:00", "2026-07-14T20:30:00", "2026-07-14")]
    [InlineData("America/Chicago", "2026-01-14 15:30", "2026-01-14T21:30:00", "2026-01-14")]
    [InlineData("America/Phoenix", "2026-07-14 15:30", "2026-07-14T22:30:00", "2026-07-14")]
    [InlineData("UTC", "2026-07-14 15:30", "2026-07-14T15:30:00", "2026-07-14")]
    [InlineData("America/Chicago", "2026-07-14T15:30:00Z", "2026-07-14T15:30:00", "2026-07-14")]
    [InlineData("America/Chicago", "2026-07-14T15:30:00+02:00", "2026-07-14T13:30:00", "2026-07-14")]
    [InlineData("America/Chicago", "2026-07-14T15:30:00-07:00", "2026-07-14T22:30:00", "2026-07-14")]
    [InlineData("America/Chicago", "2026-07-14T15:30:00.250Z", "2026-07-14T15:30:00", "2026-07-14")]
    // The later month begins in UTC while the site still has the last evening of the old one.
    [InlineData("America/Chicago", "2026-08-01T02:15:00Z", "2026-08-01T02:15:00", "2026-07-31")]
    [InlineData("America/Chicago", "2026-07-31 21:15", "2026-08-01T02:15:00", "2026-07-31")]
    [InlineData("Pacific/Auckland", "2026-07-31T20:15:00Z", "2026-07-31T20:15:00", "2026-08-01")]
    // Autumn: 1:30 comes twice on this night and is taken as the earlier, still in daylight time.
    [InlineData("America/Chicago", "2026-11-01 01:30", "2026-11-01T06:30:00", "2026-11-01")]
    [InlineData("America/Chicago", "2026-11-01 00:59", "2026-11-01T05:59:00", "2026-11-01")]
    [InlineData("America/Chicago", "2026-11-01 02:00", "2026-11-01T08:00:00", "2026-11-01")]
    public void A_time_is_kept_in_utc_and_under_the_day_and_month_of_the_site(string zone, string written, string utc, string day) =>
        Assert.Equal([utc, day, day[..7]], Read(Profile(zone), written));

    [Theory]
    [InlineData("America/Chicago", "2026-03-08 02:30")]
    [InlineData("America/Chicago", "2026-02-30 10:00")]
    [InlineData("America/Chicago", "2026-07-14 25:00")]
    [InlineData("America/Chicago", "1899-12-31 10:00")]
    [InlineData("America/Chicago", "14 July 2026")]
    [InlineData("America/Chicago", "noon")]
    public void A_time_that_does_not_exist_rejects_the_row(string zone, string written) => Assert.Equal("bad_time", Read(Profile(zone), written)[0]);

    [Fact]
    public void The_hour_skipped_in_spring_exists_in_a_zone_that_skips_none() =>
        Assert.Equal("2026-03-08T09:30:00", Read(Profile("America/Phoenix"), "2026-03-08 02:30")[0]);

    [Theory]
    [InlineData(", format: \"M/d/yyyy h:mm tt\"", "7/4/2026 3:05 PM", "2026-07-04T20:05:00")]
    [InlineData(", format: \"M/d/yyyy h:mm tt\"", "12/4/2026 12:05 AM", "2026-12-04T06:05:00")]
    [InlineData(", format: \"dd/MM/yyyy HH:mm\"", "04/07/2026 15:05", "2026-07-04T20:05:00")]
    [InlineData(", format: [\"dd/MM/yyyy HH:mm\", \"yyyy.MM.dd\"]", "2026.07.04", "2026-07-04T05:00:00")]
    [InlineData(", format: \"M/d/yyyy h:mm tt\"", "7/4/2026 15:05 PM", "bad_time")]
    [InlineData(", format: \"dd/MM/yyyy HH:mm\"", "07/14/2026 15:05", "bad_time")]
    [InlineData(", format: \"dd/MM/yyyy HH:mm\"", "04/07/2026 15:05 ", "2026-07-04T20:05:00")]
    public void A_format_is_exact(string format, string written, string expected) => Assert.Equal(expected, Read(Profile("America/Chicago", format), written)[0]);

    [Fact]
    public void Day_and_clock_of_two_columns_are_one_time()
    {
        var profile = ProfileReader.Parse("""
            name: made
            zone: America/Denver
            columns: { visit_id: V, reading_no: N, install_id: I, crew_id: C, visit_kind: K, visited_at: { from: [D, H], format: "yyyy-MM-dd HH:mm" } }
            """, "made.yaml");
        using var lake = new SampleLake();
        _ = lake.IngestText("H,V,N,I,C,K,D\n09:10,V1,1,I1,C1,other,2026-07-14\n", "branch.csv", profile);
        Assert.Equal("2026-07-14T15:10:00", lake.One("SELECT strftime(visited_at, '%Y-%m-%dT%H:%M:%S') FROM readings"));
    }

    [Fact]
    public void A_day_and_a_save_that_are_no_dates_are_set_aside_and_the_row_is_kept()
    {
        using var lake = new SampleLake();
        Assert.Equal(1, lake.IngestText(PlainRows.Csv(PlainRows.Row(("installed_on", "31 April"), ("saved_at", "later")))).Accepted);
        Assert.Equal([["installed_on", "31 April", "not_a_date"], ["saved_at", "later", "not_a_date"]],
            lake.Query("SELECT column_name, raw_value, set_aside_reason FROM set_aside_values ORDER BY column_name"));
        Assert.Equal(["NULL", "1"], lake.Query("SELECT (SELECT installed_on FROM installs), count(*) FROM readings WHERE saved_at IS NULL").Single());
    }
}
