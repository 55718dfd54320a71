namespace Revisit.Ingest.Tests;

/// <summary>What visits say about an install, the table of visits and the table of corrections.</summary>
public class InstallTests
{
    private static string Visit(string id, string day, string kind, string crew, params (string, string)[] more) =>
        PlainRows.Row([("visit_id", id), ("visited_at", day + "T15:00:00Z"), ("visit_kind", kind), ("crew_id", crew), .. more]);

    [Fact]
    public void The_crew_is_that_of_the_first_commissioning_visit()
    {
        using var lake = new SampleLake();
        _ = lake.IngestText(PlainRows.Csv(
            Visit("V1", "2026-05-01", "other", "C1"), Visit("V2", "2026-06-01", "commissioning", "C2"), Visit("V3", "2026-06-20", "commissioning", "C3"), Visit("V4", "2026-07-01", "callback", "C4"),
            Visit("V5", "2026-06-03", "callback", "C6", ("install_id", "I2")), Visit("V6", "2026-06-02", "maintenance", "C5", ("install_id", "I2")),
            Visit("V7", "2026-06-05", "maintenance", "C8", ("install_id", "I3")), Visit("V8", "2026-06-09", "commissioning", "C9", ("install_id", "I3"))));
        Assert.Equal([["I1", "C2", "2026-05-01", "2026-07-01"], ["I2", "C5", "2026-06-02", "2026-06-03"], ["I3", "C9", "2026-06-05", "2026-06-09"]],
            lake.Query("SELECT install_id, crew_id, first_visited_on, last_visited_on FROM installs ORDER BY 1"));
    }

    [Fact]
    public void An_attribute_is_what_the_latest_visit_that_gives_it_says()
    {
        using var lake = new SampleLake();
        _ = lake.IngestText(PlainRows.Csv(
            Visit("V3", "2026-08-01", "maintenance", "C1", ("nominal_tons", ""), ("refrigerant", "410a"), ("metering", ""), ("supply_runs", "9")),
            Visit("V1", "2026-05-01", "commissioning", "C1", ("nominal_tons", "2"), ("installed_on", "2026-05-01"), ("supply_runs", "7"), ("line_set_ft", "25")),
            Visit("V2", "2026-06-01", "maintenance", "C1", ("nominal_tons", "2.5"), ("metering", "EEV"), ("refrigerant", "R32"))));
        Assert.Equal(["2.5", "R-410A", "eev", "9", "2026-05-01", "25", "NULL"],
            lake.Query("SELECT nominal_tons, refrigerant, metering, supply_runs, installed_on, line_set_ft, region FROM installs").Single());
    }

    [Fact]
    public void A_later_file_that_tells_of_an_earlier_month_does_not_override_what_is_newer()
    {
        using var lake = new SampleLake();
        _ = lake.IngestText(PlainRows.Csv(Visit("V2", "2026-06-01", "maintenance", "C2", ("nominal_tons", "4"))), "a.csv");
        _ = lake.IngestText(PlainRows.Csv(Visit("V1", "2026-05-01", "commissioning", "C1", ("nominal_tons", "2"), ("line_set_ft", "30"))), "b.csv");
        Assert.Equal(["C1", "4", "30"], lake.Query("SELECT crew_id, nominal_tons, line_set_ft FROM installs").Single());
    }

    [Fact]
    public void A_visit_starts_with_its_first_reading_and_counts_them()
    {
        using var lake = new SampleLake();
        _ = lake.IngestText(PlainRows.Csv(
            PlainRows.Row(("reading_no", "2"), ("visited_at", "2026-07-14T15:40:00Z"), ("technician_id", "T2")),
            PlainRows.Row(("reading_no", "1"), ("visited_at", "2026-07-14T15:10:00Z"), ("technician_id", "T1")),
            PlainRows.Row(("visit_id", "V2"), ("visited_at", "2026-07-13T15:10:00Z"))));
        Assert.Equal([["V2", "2026-07-13T15:10:00", "NULL", "1"], ["V1", "2026-07-14T15:10:00", "T1", "2"]],
            lake.Query("SELECT visit_id, strftime(started_at, '%Y-%m-%dT%H:%M:%S'), technician_id, readings FROM visits ORDER BY started_at"));
    }

    [Fact]
    public void Several_corrections_in_one_row_are_as_many_rows()
    {
        using var lake = new SampleLake();
        _ = lake.IngestText(PlainRows.Csv(
            PlainRows.Row(("correction", "Charge added; blower-tap + filter"), ("correction_from", "low"), ("correction_to", "medium"), ("charge_change_oz", "6")),
            PlainRows.Row(("visit_id", "V2"), ("correction", "duct"), ("correction_from", "open"), ("correction_to", "sealed"), ("charge_change_oz", "3")),
            PlainRows.Row(("visit_id", "V3"))));
        Assert.Equal(
            [
                ["V1", "1", "charge_added", "NULL", "NULL", "6"], ["V1", "2", "blower_tap", "low", "medium", "NULL"], ["V1", "3", "filter", "NULL", "NULL", "NULL"],
                ["V2", "1", "duct", "open", "sealed", "NULL"],
            ],
            lake.Query("SELECT visit_id, correction_no, correction, correction_from, correction_to, charge_change_oz FROM corrections ORDER BY 1, 2"));
        Assert.Equal("charge_added+blower_tap+filter", lake.One("SELECT correction FROM readings WHERE visit_id = 'V1'"));
    }

    [Theory]
    [InlineData("R-454B", "R-454B")]
    [InlineData("r454b", "R-454B")]
    [InlineData("454B", "R-454B")]
    [InlineData("R 22", "R-22")]
    [InlineData("134A", "R-134a")]
    public void A_refrigerant_is_its_designation(string written, string read)
    {
        using var lake = new SampleLake();
        _ = lake.IngestText(PlainRows.Csv(PlainRows.Row(("refrigerant", written))));
        Assert.Equal(read, lake.One("SELECT refrigerant FROM installs"));
    }
}
