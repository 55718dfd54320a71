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

    /// <summary>The time of a cell as a column takes it: UTC, "none" when it does not exist, and whether it was taken as the earlier of two.</summary>
    private static (string Utc, bool Twice) Taken(string zone, string written)
    {
        var profile = Profile(zone);
        var plan = new ColumnPlan(profile.Columns.Single(c => c.Column == "visited_at"), profile, [0]);
        var row = new ReadingRow();
        return plan.Fill(row, new OneCell(written), 0)
            ? (new DateTime(row.Wholes[plan.Index]).ToString("yyyy-MM-ddTHH:mm:ss", System.Globalization.CultureInfo.InvariantCulture), plan.TakenAsEarlier > 0)
            : ("none", false);
    }

    [Fact]
    public void Edges_of_daylight_saving_agree_with_the_law_and_the_zone_database()
    {
        var rows = File.ReadLines(Path.Combine(AppContext.BaseDirectory, "Published", "local-times.csv")).Where(l => !l.StartsWith('#')).Skip(1).Select(l => l.Split(',')).ToList();
        Assert.True(rows.Count > 25);
        Assert.Equal(rows.Select(r => $"{r[0]} {r[1]} {r[2]}"), rows.Select(r => $"{r[0]} {r[1]} {Taken(r[0], r[1]).Utc}"));
    }

    /// <summary>A theory that is passed over where the machine has no zone database of its own.</summary>
    private sealed class ZonesOfTheMachineAttribute : TheoryAttribute
    {
        public ZonesOfTheMachineAttribute() => Skip = TimeZoneInfo.TryFindSystemTimeZoneById("America/Chicago", out _) ? null : "this machine has no time zone database";
    }

    /// <summary>Against the IANA time zone database of the machine, read by another library (TimeZoneInfo of .NET): every quarter hour of the days on which the offset changes.</summary>
    [ZonesOfTheMachine]
    [InlineData("America/New_York")]
    [InlineData("America/Chicago")]
    [InlineData("America/Phoenix")]
    [InlineData("America/Anchorage")]
    [InlineData("Europe/Paris")]
    [InlineData("Australia/Lord_Howe")]
    public void Local_times_agree_with_the_zone_database_of_the_machine(string zone)
    {
        var own = TimeZoneInfo.FindSystemTimeZoneById(zone);
        var edges = Enumerable.Range(0, 366 * 20).Select(d => new DateTime(2006, 1, 1).AddDays(d)).Where(d => own.GetUtcOffset(d) != own.GetUtcOffset(d.AddDays(1))).ToList();
        Assert.Equal(zone == "America/Phoenix", edges.Count == 0);
        foreach (var time in edges.DefaultIfEmpty(new DateTime(2026, 3, 8)).SelectMany(d => Enumerable.Range(0, 97).Select(q => d.AddMinutes(15 * q))))
        {
            var offset = own.IsAmbiguousTime(time) ? own.GetAmbiguousTimeOffsets(time).Max() : own.GetUtcOffset(time);
            var expected = own.IsInvalidTime(time) ? "none" : (time - offset).ToString("yyyy-MM-ddTHH:mm:ss", System.Globalization.CultureInfo.InvariantCulture);
            var written = time.ToString("yyyy-MM-dd HH:mm", System.Globalization.CultureInfo.InvariantCulture);
            Assert.Equal((written, expected, own.IsAmbiguousTime(time)), (written, Taken(zone, written).Utc, Taken(zone, written).Twice));
        }
    }

    [Theory]
    [InlineData("2026-07-14T15:30:00+05:30", "2026-07-14T10:00:00")]
    [InlineData("2026-07-14T15:30+0530", "2026-07-14T10:00:00")]
    [InlineData("2026-07-14 15:30 +05", "2026-07-14T10:30:00")]
    [InlineData("2026-07-14 15:30:10,5-00:00", "2026-07-14T15:30:10")]
    [InlineData("2026-07-14T15:30z", "2026-07-14T15:30:00")]
    [InlineData("2026-01-01T00:30:00+14:00", "2025-12-31T10:30:00")]
    [InlineData("2026-12-31T23:30:00-12:00", "2027-01-01T11:30:00")]
    // 01:30 is said to be the second of the two by its offset: nothing is left to choose.
    [InlineData("2026-11-01T01:30:00-06:00", "2026-11-01T07:30:00")]
    [InlineData("2028-02-29T12:00Z", "2028-02-29T12:00:00")]
    [InlineData("2000-02-29T12:00Z", "2000-02-29T12:00:00")]
    [InlineData("2026-02-29T12:00Z", "none")]
    [InlineData("2100-02-29T12:00Z", "none")]
    [InlineData("2026-12-31T24:00:00Z", "2027-01-01T00:00:00")]
    [InlineData("2026-07-14T24:00:01Z", "none")]
    [InlineData("2026-07-14T25:00:00Z", "none")]
    [InlineData("2026-07-14T23:60:00Z", "none")]
    [InlineData("2016-12-31T23:59:60Z", "none")]
    [InlineData("2026-07-14T15:30:00+14:30", "none")]
    [InlineData("2026-07-14T15:30:00+5:30", "none")]
    [InlineData("2026-07-14T15:30:00.Z", "none")]
    [InlineData("2026-07-14T15:30:00ZZ", "none")]
    // What stands behind the clock is not guessed at: these once were taken as local times of the zone.
    [InlineData("2026-07-14 15:30 GMT", "none")]
    [InlineData("2026-07-14 15:30 EST", "none")]
    [InlineData("2026-07-14 03:30 PM", "none")]
    [InlineData("2026-07-14 15:30 Tue", "none")]
    // Day numbers of a spreadsheet: a profile cannot declare them, and they are not guessed at either.
    [InlineData("46217.645833333336", "none")]
    [InlineData("1784043000", "none")]
    public void Times_with_an_offset_and_times_that_are_none(string written, string utc) => Assert.Equal((utc, false), Taken("America/Chicago", written));

    [Theory]
    [InlineData("M/d/yyyy h:mm tt", "7/4/2026 12:00 AM", "2026-07-04T05:00:00", "2026-07-04")]
    [InlineData("M/d/yyyy h:mm tt", "7/4/2026 12:00 PM", "2026-07-04T17:00:00", "2026-07-04")]
    [InlineData("M/d/yyyy h:mm tt", "7/4/2026 12:59 am", "2026-07-04T05:59:00", "2026-07-04")]
    [InlineData("M/d/yyyy h:mm tt", "7/4/2026 0:30 AM", "bad_time", "")]
    [InlineData("M/d/yyyy h:mm tt", "2/29/2026 1:00 PM", "bad_time", "")]
    [InlineData("M/d/yyyy h:mm tt", "12/31/2026 11:30 PM", "2027-01-01T05:30:00", "2026-12-31")]
    [InlineData("M/d/yyyy H:mm", "7/4/2026 24:00", "2026-07-05T05:00:00", "2026-07-05")]
    [InlineData("M/d/yyyy H:mm", "7/4/2026 24:01", "bad_time", "")]
    // Two digits of a year are those of 1931 to 2030, so that 31 to 89 are out of range.
    [InlineData("M/d/yy H:mm", "7/4/26 15:00", "2026-07-04T20:00:00", "2026-07-04")]
    [InlineData("M/d/yy H:mm", "7/4/30 15:00", "2030-07-04T20:00:00", "2030-07-04")]
    [InlineData("M/d/yy H:mm", "7/4/31 15:00", "bad_time", "")]
    [InlineData("M/d/yyyy H:mm", "7/4/26 15:00", "bad_time", "")]
    public void Clocks_of_twelve_hours_years_of_two_digits_and_the_year_s_end(string format, string written, string utc, string day) =>
        Assert.Equal([utc, day], Read(Profile("America/Chicago", $", format: \"{format}\""), written)[..2]);

    [Fact]
    public void A_local_time_without_a_zone_is_not_taken_for_utc()
    {
        using var lake = new SampleLake();
        var summary = lake.IngestText(PlainRows.Csv(PlainRows.Row(("visited_at", "2026-07-14T15:00:00")), PlainRows.Row(("visit_id", "V2"), ("saved_at", "2026-07-14 16:00"))));
        Assert.Equal((1, 1, 1), (summary.Accepted, summary.RejectedByReason["bad_time"], summary.SetAside));
        Assert.Contains("must name a zone", lake.One("SELECT detail FROM rejected_rows"), StringComparison.Ordinal);
    }

    [Fact]
    public void Times_taken_as_the_earlier_of_two_are_counted_and_said()
    {
        using var lake = new SampleLake();
        const string columns = "V,N,I,C,K,T\n";
        var twice = lake.IngestText(columns + string.Concat(Enumerable.Range(1, 3_000).Select(n => $"V{n},1,I1,C1,other,2026-11-01 01:{n % 60:00}\n")), "branch.csv", Profile("America/Chicago"));
        Assert.Contains("3,000 local times lie in an hour that comes twice as daylight saving ends in America/Chicago", Assert.Single(twice.Remarks), StringComparison.Ordinal);
        Assert.Empty(lake.IngestText(columns + "V1,1,I1,C1,other,2026-11-01 02:00\nV2,1,I1,C1,other,2026-11-01T01:30-05:00\n", "other.csv", Profile("America/Chicago")).Remarks);
    }
}
