using Revisit.Forecast.Visits;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Forecast.Tests;

/// <summary>
/// An invented fleet with a planted rule, written as a lake: too little split with a high tap on a small system mostly needs an airflow
/// correction, low subcooling on a long line set mostly a charge correction. Findings carry only part of it.
/// </summary>
internal sealed class TestFleet : IDisposable
{
    public static readonly DateOnly AsOf = new(2026, 6, 30);
    private static readonly DateOnly First = new(2025, 1, 1);
    private readonly string folder = Directory.CreateTempSubdirectory("revisit-forecast-").FullName;
    private readonly SeededRandom random;

    public TestFleet(int installs, double followedUpShare = 0.6, ulong seed = 7, Action<Parts>? change = null, bool planted = true)
    {
        random = new SeededRandom(seed * 1_000_003);
        Lake = Lake.At(folder);
        var parts = new Parts(installs);
        for (var i = 0; i < installs; i++)
        {
            Fill(parts, i, installs, followedUpShare, planted);
        }

        change?.Invoke(parts);
        using var publication = Lake.BeginPublication();
        foreach (var batch in new[] { parts.Installs, parts.Readings, parts.Metrics, parts.Findings, parts.FollowUps })
        {
            publication.Put(batch.Table, batch);
        }

        publication.Commit();
    }

    public Lake Lake { get; }

    public void Dispose() => Directory.Delete(folder, recursive: true);

    /// <summary>Runs the stage and gives scores, worklist and card.</summary>
    public (Batch Scores, Batch Worklist, ModelCard Card, byte[] CardBytes) Run(ForecastSettings? settings = null, DateOnly? asOf = null)
    {
        using var publication = Lake.BeginPublication();
        ForecastStage.Run(publication, settings ?? Quick, asOf ?? AsOf);
        WorklistStage.Run(publication, new());
        publication.Commit();
        Batch Table(TableContract t) => ParquetTable.Read(publication.PathOf(publication.Pending.Find(t.Name, "all")!), t);
        var bytes = File.ReadAllBytes(publication.PathOf(publication.Pending.Find("model_card", "all")!));
        return (Table(Tables.Scores), Table(Tables.Worklist), ModelCard.Parse(bytes), bytes);
    }

    public static ForecastSettings Quick => new() { BootstrapResamples = 100, GuardDays = 3 };

    private double Next() => random.Next();

    private double Noise() => Next() + Next() + Next() - 1.5;

    private T Pick<T>(params T[] options) => options[(int)(Next() * options.Length)];

    private void Fill(Parts p, int i, int installs, double followedUpShare, bool planted)
    {
        var id = $"I{i:00000}";
        var visit = $"V{i:00000}";
        var crew = $"C{(int)(Next() * 8)}";
        var day = First.AddDays((int)((long)i * (AsOf.DayNumber - First.DayNumber) / installs));
        var tons = Pick(2.0, 2.5, 3, 4, 5);
        var tap = Pick("low", "med", "med-high", "high");
        var split = -1 + 3 * Noise() - (tap == "high" ? 2 : 0);
        var subcooling = 5 * Noise();
        var line = 15 + 60 * Next();
        var airflow = Next() < (!planted ? 0.2 : tap == "high" && tons <= 3 && split < -2 ? 0.85 : 0.08);
        var charge = Next() < (!planted ? 0.2 : subcooling < -2 && line > 40 ? 0.8 : 0.06);
        p.Installs.Text("install_id")[i] = id;
        p.Installs.Text("crew_id")[i] = crew;
        p.Installs.Text("region")[i] = "north";
        p.Installs.Day("installed_on")[i] = day;
        p.Installs.Number("nominal_tons")[i] = tons;
        p.Installs.Number("line_set_ft")[i] = Next() < 0.2 ? double.NaN : line;
        p.Installs.Text("refrigerant")[i] = Pick("R-410A", "R-454B", "R-32");
        p.Installs.Text("metering")[i] = Pick("txv", "fixed_orifice");
        p.Installs.Text("duct_location")[i] = Pick("attic", "basement");
        p.Installs.Text("blower_motor")[i] = Pick("psc", "constant_torque");
        p.Installs.Day("first_visited_on")[i] = day;

        foreach (var batch in new[] { p.Readings, p.Metrics, p.Findings })
        {
            batch.Text("visit_id")[i] = visit;
            batch.Whole("reading_no")[i] = 1;
            batch.Text("install_id")[i] = id;
            batch.Text("crew_id")[i] = crew;
            batch.Day("visited_on")[i] = day;
        }

        p.Readings.Text("visit_kind")[i] = "commissioning";
        p.Readings.Text("blower_tap")[i] = tap;
        p.Readings.Number("external_static_inwc")[i] = Next() < 0.3 ? double.NaN : 0.5 + 0.2 * Noise();
        p.Readings.Number("minutes_running")[i] = 15 + 10 * Next();
        p.Readings.Number("outdoor_db_f")[i] = 85 + 8 * Noise();
        p.Metrics.Number("split_error_f")[i] = split;
        p.Metrics.Number("subcooling_error_f")[i] = subcooling;
        p.Metrics.Number("superheat_error_f")[i] = 4 * Noise();
        p.Metrics.Number("condensing_over_outdoor_f")[i] = 20 + 4 * Noise();

        var high = split < -2 ? 0.4 : 0.05;
        var low = subcooling < -2 ? 0.3 : 0.05;
        p.Findings.Text("finding")[i] = high > low ? "airflow_high" : low > 0.1 ? "charge_low" : "in_line";
        foreach (var cause in Codes.Finding.Where(f => f != "cannot_judge"))
        {
            p.Findings.Number("p_" + cause)[i] = cause switch { "airflow_high" => high, "charge_low" => low, "in_line" => 1 - high - low, _ => 0 };
        }

        p.FollowUps.Text("install_id")[i] = id;
        p.FollowUps.Text("crew_id")[i] = crew;
        p.FollowUps.Day("installed_on")[i] = day;
        p.FollowUps.Text("commissioning_visit_id")[i] = visit;
        var days = 20 + (int)(Next() * 100);
        var observed = Next() < followedUpShare && day.AddDays(days) <= AsOf;
        p.FollowUps.Text("follow_up_state")[i] = observed ? "observed" : "none_yet";
        if (observed)
        {
            p.FollowUps.Text("follow_up_visit_id")[i] = "F" + visit;
            p.FollowUps.Text("follow_up_kind")[i] = Pick("quality_check", "callback");
            p.FollowUps.Day("followed_up_on")[i] = day.AddDays(days);
            p.FollowUps.Whole("days_to_follow_up")[i] = days;
            p.FollowUps.Whole("needed_airflow_correction")[i] = airflow ? 1 : 0;
            p.FollowUps.Whole("needed_charge_correction")[i] = charge ? 1 : 0;
        }
    }

    internal sealed class Parts(int installs)
    {
        public Batch Installs { get; } = new(Tables.Installs, installs);

        public Batch Readings { get; } = new(Tables.Readings, installs);

        public Batch Metrics { get; } = new(Tables.Metrics, installs);

        public Batch Findings { get; } = new(Tables.Findings, installs);

        public Batch FollowUps { get; } = new(Tables.FollowUps, installs);
    }
}
