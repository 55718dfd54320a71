using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Diagnosis.Tests;

public sealed class DiagnosisStageTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("revisit-diagnosis-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    private sealed record Visit(string Id, string Install, string Kind, DateOnly Day, params (string? Phase, ReadingInputs X, string? Correction)[] Readings);

    private static readonly DateOnly June = new(2026, 6, 10);
    private static readonly DateOnly July = new(2026, 7, 5);

    private static Batch Readings(params Visit[] visits)
    {
        var rows = visits.SelectMany(v => v.Readings.Select((r, n) => (v, r, n))).ToList();
        var b = new Batch(Tables.Readings, rows.Count);
        for (var i = 0; i < rows.Count; i++)
        {
            var (v, r, n) = rows[i];
            b.Text("visit_id")[i] = v.Id;
            b.Whole("reading_no")[i] = n + 1;
            b.Text("install_id")[i] = v.Install;
            b.Text("crew_id")[i] = "K2";
            b.Text("visit_kind")[i] = v.Kind;
            b.Day("visited_on")[i] = v.Day;
            b.Instant("visited_at")[i] = v.Day.ToDateTime(new TimeOnly(15, n), DateTimeKind.Utc);
            b.Text("phase")[i] = r.Phase;
            b.Text("correction")[i] = r.Correction;
            b.Text("filter_state")[i] = r.X.FilterState;
            b.Text("airflow_method")[i] = r.X.AirflowMethod;
            foreach (var (column, value) in new (string, double)[]
            {
                ("minutes_running", r.X.MinutesRunning), ("outdoor_db_f", r.X.OutdoorDb), ("return_db_f", r.X.ReturnDb), ("return_wb_f", r.X.ReturnWb),
                ("return_rh_pct", r.X.ReturnRh), ("supply_db_f", r.X.SupplyDb), ("suction_pressure_psig", r.X.SuctionPressure),
                ("liquid_pressure_psig", r.X.LiquidPressure), ("suction_line_f", r.X.SuctionLine), ("liquid_line_f", r.X.LiquidLine), ("airflow_cfm", r.X.Airflow),
            })
            {
                b.Number(column)[i] = value;
            }
        }

        return b;
    }

    private static Batch Installs(params (string Id, DateOnly? On, string? Refrigerant)[] rows)
    {
        var b = new Batch(Tables.Installs, rows.Length);
        for (var i = 0; i < rows.Length; i++)
        {
            b.Text("install_id")[i] = rows[i].Id;
            b.Text("crew_id")[i] = "K1";
            b.Day("installed_on")[i] = rows[i].On;
            b.Text("refrigerant")[i] = rows[i].Refrigerant;
            b.Text("metering")[i] = "txv";
            b.Number("nominal_tons")[i] = 3;
            b.Number("target_subcooling_f")[i] = 10;
            b.Number("elevation_ft")[i] = 0;
        }

        return b;
    }

    private static ReadingInputs Sound => Worked.Reading(airflow: 1200);

    private static ReadingInputs TooMuchAir => Worked.Reading(split: 13, evaporating: 52);

    private Catalog Run(Batch? installs, params (string Month, Batch Readings)[] months)
    {
        var lake = Lake.At(folder);
        using var publication = lake.BeginPublication();
        if (installs is not null)
        {
            publication.Put(Tables.Installs, installs);
        }

        foreach (var gone in publication.Pending.Of("readings").Where(e => months.All(m => m.Month != e.Partition)).ToList())
        {
            publication.Remove("readings", gone.Partition);
        }

        foreach (var (month, readings) in months)
        {
            publication.Put(Tables.Readings, month, [readings]);
        }

        DiagnosisStage.Run(publication, null);
        publication.Commit();
        return lake.ReadCatalog();
    }

    private Batch Read(TableContract table)
    {
        using var session = Lake.At(folder).OpenSession();
        return session.Read(table, $"SELECT * FROM {table.Name} ORDER BY {string.Join(", ", table.Key)}");
    }

    private static Batch JuneReadings => Readings(
        new("V2", "A", "quality_check", June, ("as_found", TooMuchAir, null), ("interim", Worked.Reading(split: 17), "blower_tap"), ("as_left", Sound, "filter")),
        new("V1", "B", "commissioning", June, ("as_left", Sound, null)));

    private static Batch TwoInstalls => Installs(("A", new(2026, 5, 1), "R-410A"), ("B", June, "R-410A"));

    [Fact]
    public void A_month_becomes_metrics_findings_and_outcomes_in_key_order()
    {
        Run(TwoInstalls, ("2026-06", JuneReadings));
        var findings = Read(Tables.Findings);
        Assert.Equal(new string?[] { "V1", "V2", "V2", "V2" }, findings.Text("visit_id"));
        Assert.Equal(new string?[] { "in_line", "airflow_high", "in_line" }, new[] { 0, 1, 3 }.Select(i => findings.Text("finding")[i]));
        Assert.All(Enumerable.Range(0, 4), i => Assert.Equal(1, Causes.All.Sum(c => findings.Number("p_" + c)[i]), 9));
        Assert.Equal("K2", findings.Text("crew_id")[0]);
        var metrics = Read(Tables.Metrics);
        Assert.Equal(10, metrics.Number("subcooling_f")[0], 3);
        Assert.Equal(13, metrics.Number("temperature_split_f")[1], 9);
        Assert.Equal("airflow_cfm missing", metrics.Text("measured_airflow_cfm_per_ton_missing")[1]);
        var outcomes = Read(Tables.VisitOutcomes);
        Assert.Equal(new string?[] { "V2" }, outcomes.Text("visit_id"));
        Assert.Equal("cured", outcomes.Text("outcome")[0]);
        Assert.Equal("blower_tap+filter", outcomes.Text("correction")[0]);
        Assert.Equal("airflow_high", outcomes.Text("as_found_finding")[0]);
        Assert.Equal("in_line", outcomes.Text("as_left_finding")[0]);
        Assert.Equal(7.6, outcomes.Number("split_change_f")[0], 6);
    }

    [Fact]
    public void No_table_holds_a_NaN()
    {
        var bare = new ReadingInputs();
        Run(Installs(("A", June, "R-999"), ("B", null, "R-410A")), ("2026-06", Readings(
            new("V1", "A", "other", June, ("as_found", TooMuchAir, null), ("as_left", bare, null)),
            new("V2", "B", "other", June, (null, bare, null)),
            new("V3", "B", "other", June, ("as_found", TooMuchAir, null), ("as_left", Sound, null)))));
        using var session = Lake.At(folder).OpenSession();
        foreach (var table in new[] { Tables.Metrics, Tables.Findings, Tables.VisitOutcomes, Tables.FollowUps })
        {
            var numbers = table.Terms.Where(t => t.Kind == ColumnKind.Number).Select(t => $"isnan({t.Name}) OR isinf({t.Name})").DefaultIfEmpty("false");
            using var reader = session.Query($"SELECT count(*), count(*) FILTER (WHERE {string.Join(" OR ", numbers)}) FROM {table.Name}");
            reader.Read();
            Assert.True(reader.GetInt64(0) > 0, table.Name);
            Assert.Equal(0, reader.GetInt64(1));
        }

        var metrics = Read(Tables.Metrics);
        foreach (var column in Tables.MetricColumns)
        {
            for (var i = 0; i < metrics.Rows; i++)
            {
                Assert.True(double.IsNaN(metrics.Number(column)[i]) == (metrics.Text(column + "_missing")[i] is not null), $"{column} row {i}");
            }
        }

        Assert.Equal("refrigerant R-999 unknown", metrics.Text("superheat_f_missing")[0]);
    }

    [Fact]
    public void An_unchanged_month_is_not_judged_again_and_a_changed_one_is()
    {
        var july = Readings(new Visit("V9", "A", "maintenance", July, ("as_found", Sound, null)));
        Run(TwoInstalls, ("2026-06", JuneReadings), ("2026-07", july));

        // Poison what is kept under the same fingerprint: whoever judges the month again would heal it.
        using (var publication = Lake.At(folder).BeginPublication())
        {
            foreach (var month in (string[])["2026-06", "2026-07"])
            {
                publication.Put(Tables.Findings, month, [], publication.Pending.Find("findings", month)!.MadeFrom);
            }

            publication.Commit();
        }

        var changed = Readings(new Visit("V9", "A", "maintenance", July, ("as_found", TooMuchAir, null)));
        var after = Run(TwoInstalls, ("2026-06", JuneReadings), ("2026-07", changed));
        Assert.Equal(0, after.Find("findings", "2026-06")!.Rows);
        Assert.Equal(1, after.Find("findings", "2026-07")!.Rows);

        var all = Run(Installs(("A", new(2026, 5, 1), "R-410A"), ("B", June, "R-32")), ("2026-06", JuneReadings), ("2026-07", changed));
        Assert.Equal(4, all.Find("findings", "2026-06")!.Rows);
    }

    [Fact]
    public void A_month_that_left_the_readings_leaves_the_made_tables()
    {
        Run(TwoInstalls, ("2026-06", JuneReadings), ("2026-07", Readings(new Visit("V9", "A", "callback", July, ("as_found", Sound, null)))));
        var after = Run(TwoInstalls, ("2026-06", JuneReadings));
        foreach (var table in (string[])["metrics", "findings", "visit_outcomes"])
        {
            Assert.Equal(new[] { "2026-06" }, after.Of(table).Select(e => e.Partition));
        }
    }

    [Fact]
    public void The_same_input_gives_the_same_bytes()
    {
        var july = Readings(new Visit("V9", "A", "maintenance", July, ("as_found", Sound, null)));
        var first = Run(TwoInstalls, ("2026-06", JuneReadings), ("2026-07", july)).Entries.ToList();
        Directory.Delete(folder, recursive: true);
        var second = Run(TwoInstalls, ("2026-06", JuneReadings), ("2026-07", july)).Entries.ToList();
        Assert.Equal(first, second);
    }

    [Fact]
    public void Readings_of_an_install_nobody_listed_cannot_be_judged()
    {
        Run(null, ("2026-06", JuneReadings));
        var findings = Read(Tables.Findings);
        Assert.Equal(4, findings.Rows);
        Assert.All(findings.Text("finding"), f => Assert.Equal("cannot_judge", f));
        Assert.Contains("metering missing", findings.Text("cannot_judge_because")[0], StringComparison.Ordinal);
        Assert.Equal(0, Read(Tables.FollowUps).Rows);
    }

    [Fact]
    public void First_follow_ups_and_what_they_needed()
    {
        DateOnly Day(int month, int day) => new(2026, month, day);
        (string?, ReadingInputs, string?)[] found(params string?[] corrections) =>
            [.. corrections.Select((c, i) => ((string?)(i == 0 ? "as_found" : "as_left"), i == 0 ? TooMuchAir : Sound, c))];
        (string?, ReadingInputs, string?)[] start = [("as_left", Sound, null)];
        Run(
            Installs(("A", Day(6, 1), "R-410A"), ("B", Day(6, 1), "R-410A"), ("C", Day(6, 1), "R-410A"), ("D", null, "R-410A"), ("E", Day(6, 1), "R-410A"), ("F", Day(6, 20), "R-410A")),
            ("2026-06", Readings(
                new("A1", "A", "commissioning", Day(6, 2), start),
                new("A2", "A", "callback", Day(6, 2), found("charge_added")), // the same day: still the start-up
                new("A3", "A", "quality_check", Day(6, 20), found(null, "blower_tap+filter")),
                new("B1", "B", "commissioning", Day(6, 2), start),
                new("C1", "C", "commissioning", Day(6, 2), start),
                new("C2", "C", "maintenance", Day(6, 30), found("filter")),
                new("D1", "D", "callback", Day(6, 9), found("charge_removed")),
                new("E1", "E", "commissioning", Day(6, 2), start),
                new("E2", "E", "commissioning", Day(6, 25), start), // a second start-up is no follow-up
                new("F0", "F", "other", Day(6, 19), found("duct")))), // before the system was started
            ("2026-07", Readings(
                new("A4", "A", "callback", Day(7, 1), found("charge_added")), // second follow-up: too late to count
                new("E3", "E", "quality_check", Day(7, 4), found("coil_clean", "charge_added")),
                new("F1", "F", "callback", Day(7, 2), found("metering")))));
        var f = Read(Tables.FollowUps);
        string Row(string id)
        {
            var i = Array.IndexOf(f.Text("install_id"), id);
            return $"{f.Text("commissioning_visit_id")[i]} {f.Text("follow_up_state")[i]} {f.Text("follow_up_visit_id")[i]} {f.Text("follow_up_kind")[i]} {f.Whole("days_to_follow_up")[i]} {f.Whole("needed_airflow_correction")[i]} {f.Whole("needed_charge_correction")[i]} {f.Text("as_found_finding")[i]}";
        }

        Assert.Equal(6, f.Rows);
        Assert.Equal("A1 observed A3 quality_check 18 1 0 airflow_high", Row("A"));
        Assert.Equal("B1 none_yet      ", Row("B"));
        Assert.Equal("C1 observed C2 maintenance 28 0 0 airflow_high", Row("C"));
        Assert.Equal(" observed D1 callback  0 1 airflow_high", Row("D"));
        Assert.Equal("E1 observed E3 quality_check 32 1 1 airflow_high", Row("E"));
        Assert.Equal(" observed F1 callback 12 0 0 airflow_high", Row("F"));
        Assert.Equal("K1", f.Text("crew_id")[0]);
    }
}
