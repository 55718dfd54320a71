using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Fleet.Tests;

/// <summary>The stage on a small invented lake.</summary>
public sealed class FleetStageTests
{
    private static readonly string[] Findings = ["in_line", "airflow_high", "charge_low", "cannot_judge", "noncondensables"];

    [Fact]
    public void On_an_empty_lake_every_mart_is_an_empty_table()
    {
        using var empty = new EmptyLake();
        Run(empty.Lake);
        using var session = empty.Lake.OpenSession();
        foreach (var mart in SqlLibrary.Embedded.Of(SqlLayer.Marts))
        {
            Assert.Equal(0, Number(session, $"select count(*) from {mart.Name}"));
            Assert.Equal(0, session.Catalog.Of(mart.Name).Single().Rows);
        }
    }

    [Fact]
    public void Totals_of_the_marts_tie_with_the_lake()
    {
        using var small = new EmptyLake();
        Fill(small.Lake, 60);
        Run(small.Lake);
        using var session = small.Lake.OpenSession();
        Assert.Equal(120, Number(session, "select count(*) from readings"));
        foreach (var mart in new[] { "months", "seasons", "sizes", "findings_by_size_season", "record_quality", "readings_judged" })
        {
            Assert.Equal(120, Number(session, $"select sum(readings) from {mart}"));
        }

        foreach (var (mart, rows) in new[] { ("correction_cubes", "follow_ups"), ("finding_cubes", "judged_as_found") })
        {
            var by = $"select sum({rows}) as total from {mart} group by dimension, second_dimension";
            Assert.Equal(45, Number(session, $"select count(*) from ({by})"));
            Assert.Equal(0, Number(session, $"select max(total) - min(total) from ({by})"));
        }

        Assert.Equal(Number(session, "select sum(judged_as_found) from findings_by_size_season"), Number(session, "select sum(judged_as_found) from finding_cubes where dimension = 'season' and second_dimension = 'none'"));
        Assert.Equal(45, Number(session, "select sum(follow_ups) from correction_cubes where dimension = 'crew_id' and second_dimension = 'none'"));
        Assert.Equal(7 * 60, Number(session, "select sum(installs) from contexts"));
        foreach (var mart in new[] { "crews", "sizes", "months", "seasons" })
        {
            Assert.Equal(60, Number(session, $"select sum(installs) from {mart}"));
        }

        foreach (var mart in new[] { "crews", "sizes", "months", "seasons", "follow_ups_by_size_crew_season", "populations" })
        {
            Assert.Equal(45, Number(session, $"select sum(follow_ups) from {mart} where population = 'all_follow_ups'"));
            Assert.Equal(Number(session, "select sum(needed_airflow_correction) from follow_ups"), Number(session, $"select sum(airflow_corrections) from {mart} where population = 'all_follow_ups'"));
            Assert.Equal(Number(session, "select sum(needed_charge_correction) from follow_ups"), Number(session, $"select sum(charge_corrections) from {mart} where population = 'all_follow_ups'"));
        }

        Assert.Equal(Number(session, "select count(*) from findings where finding = 'charge_low'"), Number(session, "select readings from causes where finding = 'charge_low'"));
        Assert.Equal(60, Number(session, "select sum(visits) from months"));
        var corrections = Number(session, "select sum(len(string_split(correction, '+'))) from visit_outcomes");
        Assert.Equal(corrections, Number(session, "select sum(visits) from corrections_worked"));
        Assert.Equal(corrections, Number(session, "select sum(visits) from corrections_by_technician"));
        Assert.Equal(Number(session, "select sum(cured) from corrections_worked"), Number(session, "select sum(cured) from corrections_by_technician"));

        var judged = Number(session, "select count(*) from follow_ups where as_found_finding <> 'cannot_judge'");
        foreach (var compared in new[] { "airflow", "airflow_high", "airflow_low", "charge", "charge_high", "charge_low" })
        {
            Assert.Equal(judged, Number(session, $"select sum(judged) from crew_rates where compared = '{compared}'"));
        }

        Assert.Equal(Number(session, "select count(*) from follow_ups where as_found_finding like 'airflow_%'"), Number(session, "select sum(observed) from crew_rates where compared = 'airflow'"));
        Assert.Equal(Number(session, "select sum(needed_charge_correction) from follow_ups"), Number(session, "select sum(observed) from crew_rates where compared = 'charge_corrected'"));
        Assert.Equal(Number(session, "select sum(observed) from crew_mistakes"), Number(session, "select count(*) from mistake_installs"));

        var unjudged = Number(session, "select count(*) from findings where finding = 'cannot_judge'");
        Assert.Equal(unjudged, Number(session, "select sum(first_named) from doubts"));
        Assert.Equal(120 - unjudged, Number(session, "select sum(judged) from readings_judged"));
        Assert.Equal(Number(session, "select count(distinct visit_id) from readings"), Number(session, "select sum(visits) from copy_questions"));
        Assert.Equal(Tables.MeasuredColumns.Count, Number(session, "select count(distinct column_name) from missing_values"));
        foreach (var column in Tables.MeasuredColumns)
        {
            Assert.Equal(Number(session, $"select count(*) - count({column}) from readings"), Number(session, $"select sum(missing) from missing_values where column_name = '{column}'"));
        }
    }

    [Fact]
    public void The_same_lake_gives_the_same_bytes_and_an_unchanged_mart_is_kept()
    {
        using var first = new EmptyLake();
        using var second = new EmptyLake();
        Fill(first.Lake, 40);
        Fill(second.Lake, 40);
        Run(first.Lake);
        Run(second.Lake);
        Assert.Equal(Marts(first.Lake), Marts(second.Lake));

        var lines = Run(first.Lake);
        Assert.Contains("copy_questions: unchanged", lines);
        Assert.Contains("crew_rates: unchanged", lines);
        Assert.Equal(SqlLibrary.Embedded.Of(SqlLayer.Marts).Count() + 2, lines.Count(l => l.EndsWith(": unchanged", StringComparison.Ordinal)));
        Assert.Equal(Marts(first.Lake), Marts(second.Lake));

        Fill(first.Lake, 41);
        Assert.DoesNotContain(Run(first.Lake), l => l is "months: unchanged" or "crews: unchanged" or "crew_rates: unchanged");
        Assert.NotEqual(Marts(first.Lake), Marts(second.Lake));
    }

    [Fact]
    public void A_check_that_finds_rows_stops_the_stage_and_shows_the_first()
    {
        using var small = new EmptyLake();
        Fill(small.Lake, 10, losesRows: true);
        var error = Assert.Throws<UserError>(() => Run(small.Lake));
        Assert.Contains("sources_tie: 1 row(s), the first: source_id s1, source_name july.csv, counted 19, expected 20", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_reading_found_twice_stops_the_stage()
    {
        using var small = new EmptyLake();
        Fill(small.Lake, 10, doublesFinding: true);
        var error = Assert.Throws<UserError>(() => Run(small.Lake));
        Assert.Contains("readings_kept: 2 row(s), the first: detail findings, at most one a reading, counted 21, expected 20", error.Message, StringComparison.Ordinal);
    }

    private static List<string> Run(Lake lake)
    {
        var lines = new Lines();
        using var publication = lake.BeginPublication();
        FleetStage.Run(publication, lines);
        publication.Commit();
        return lines.Said;
    }

    private static List<string> Marts(Lake lake) =>
        [.. lake.ReadCatalog().Entries.Where(e => Tables.Find(e.Table) is null || e.Table.StartsWith("crew_", StringComparison.Ordinal)).Select(e => $"{e.Table} {e.Sha256}")];

    private static long Number(LakeSession session, string sql)
    {
        using var reader = session.Query($"select cast(({sql}) as bigint)");
        reader.Read();
        return reader.GetInt64(0);
    }

    /// <summary>Installs of three crews and four sizes; three in four were followed up, each by a visit of two readings.</summary>
    private static void Fill(Lake lake, int installs, bool losesRows = false, bool doublesFinding = false)
    {
        var install = new Batch(Tables.Installs, installs);
        var followUp = new Batch(Tables.FollowUps, installs);
        var reading = new Batch(Tables.Readings, installs * 2);
        var finding = new Batch(Tables.Findings, (installs * 2) + (doublesFinding ? 1 : 0));
        var metric = new Batch(Tables.Metrics, installs * 2);
        var outcome = new Batch(Tables.VisitOutcomes, installs);
        var source = new Batch(Tables.Sources, 1);
        for (var i = 0; i < installs; i++)
        {
            var followed = i % 4 != 0;
            var day = new DateOnly(2026, 1, 15).AddMonths(i % 12);
            install.Text("install_id")[i] = followUp.Text("install_id")[i] = outcome.Text("install_id")[i] = $"I{i:000}";
            install.Text("crew_id")[i] = followUp.Text("crew_id")[i] = outcome.Text("crew_id")[i] = $"C{i % 3}";
            install.Day("installed_on")[i] = followUp.Day("installed_on")[i] = day.AddMonths(-1);
            install.Number("nominal_tons")[i] = 2 + (i % 4 * 0.5);
            followUp.Text("follow_up_visit_id")[i] = followed ? $"V{i:000}" : null;
            followUp.Text("follow_up_state")[i] = followed ? "observed" : "none_yet";
            followUp.Day("followed_up_on")[i] = followed ? day : null;
            followUp.Text("as_found_finding")[i] = followed ? Findings[i % 5] : null;
            followUp.Whole("needed_airflow_correction")[i] = followed ? i % 5 == 1 ? 1 : 0 : null;
            followUp.Whole("needed_charge_correction")[i] = followed ? i % 5 == 2 ? 1 : 0 : null;
            outcome.Text("visit_id")[i] = $"V{i:000}";
            outcome.Day("visited_on")[i] = day;
            outcome.Text("correction")[i] = i % 2 == 0 ? "blower_tap+filter" : "charge_added";
            outcome.Text("outcome")[i] = Codes.Outcome[i % 5];
            for (var k = 0; k < 2; k++)
            {
                var r = (i * 2) + k;
                foreach (var batch in new[] { reading, finding, metric })
                {
                    batch.Text("visit_id")[r] = $"V{i:000}";
                    batch.Whole("reading_no")[r] = k + 1;
                    batch.Text("install_id")[r] = $"I{i:000}";
                    batch.Text("crew_id")[r] = "Q1";
                    batch.Day("visited_on")[r] = day;
                }

                reading.Instant("visited_at")[r] = day.ToDateTime(new TimeOnly(15, k), DateTimeKind.Utc);
                reading.Number("minutes_running")[r] = 10 + (i % 20);
                finding.Text("finding")[r] = Findings[(i + k) % 5];
                metric.Number("split_error_f")[r] = (i % 7) - 3 + (k * 0.1);
            }
        }

        if (doublesFinding)
        {
            var last = installs * 2;
            finding.Text("visit_id")[last] = "V000";
            finding.Whole("reading_no")[last] = 1;
            finding.Text("finding")[last] = "in_line";
        }

        source.Text("source_id")[0] = "s1";
        source.Text("source_name")[0] = "july.csv";
        source.Whole("rows_read")[0] = installs * 2;
        source.Whole("rows_accepted")[0] = (installs * 2) - (losesRows ? 1 : 0);
        source.Whole("rows_duplicate")[0] = source.Whole("rows_superseded")[0] = source.Whole("rows_rejected")[0] = 0;

        using var publication = lake.BeginPublication();
        publication.Put(Tables.Installs, install);
        publication.Put(Tables.FollowUps, followUp);
        publication.Put(Tables.Readings, reading);
        publication.Put(Tables.Findings, finding);
        publication.Put(Tables.Metrics, metric);
        publication.Put(Tables.VisitOutcomes, outcome);
        publication.Put(Tables.Sources, source);
        publication.Commit();
    }

    private sealed class Lines : IProgress<string>
    {
        public List<string> Said { get; } = [];

        public void Report(string value) => Said.Add(value);
    }
}
