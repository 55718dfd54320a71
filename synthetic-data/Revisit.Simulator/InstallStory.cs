using System.Globalization;

namespace Revisit.Simulator;

/// <summary>The life of one install: commissioning, aging, complaints, checks, maintenance, corrections.</summary>
internal sealed class InstallStory
{
    private static readonly string[] Remarks =
    [
        "attic hot, quick visit", "customer says upstairs stays warm", "dog in yard, call first", "return grille undersized", "thermostat relocated",
        "line set runs through the garage", "second stage not tested", "filter rack loose", "unit sits in full sun",
    ];

    private readonly SimulatorSettings settings;
    private readonly Fleet fleet;
    private readonly Install install;
    private readonly Rng rng;
    private readonly double barometer;
    private readonly InstallSheet sheet;
    private readonly List<SimulatedReading> readings = [];
    private SystemState state;
    private readonly double soundCapacity;
    private (double Airflow, double Charge, OtherFault Other, double Severity) known;
    private double lossPct;
    private int visits;
    private string? firstFollowUp;
    private bool checkDrawn;

    private InstallStory(SimulatorSettings settings, Fleet fleet, int no)
    {
        this.settings = settings;
        this.fleet = fleet;
        install = InstallFactory.Draw(settings, fleet.Errors, no);
        rng = new Rng(settings.Seed, no, 2);
        barometer = Air.Barometer(install.ElevationFt);
        state = install.State.Copy();
        soundCapacity = Running.RatedCapacity(install, new SystemState(), barometer);
        sheet = new InstallSheet(
            install.InstalledOn, install.Tons, install.RatedBtuh, install.RatedEer, install.Refrigerant, install.Metering, install.TargetSubcooling,
            double.NaN, install.LineSetFt, install.Motor, install.DuctLocation, install.IndoorUnit, install.OutdoorUnit, install.DesignCfm,
            install.SupplyRuns, install.Branch.Name, install.ElevationFt, install.Latitude, install.Longitude);
    }

    /// <summary>Every reading of install <paramref name="no"/> in order of time, and the truth.</summary>
    public static (IReadOnlyList<SimulatedReading> Readings, InstallTruth Truth) Tell(SimulatorSettings settings, Fleet fleet, int no)
    {
        var story = new InstallStory(settings, fleet, no);
        var atStart = story.Truth(clean: true);
        story.Commission();
        story.LiveOn();
        return (story.readings, new InstallTruth(story.install.Id, story.install.Crew.Id, atStart, story.firstFollowUp, story.checkDrawn));
    }

    /// <summary>The reading left at the start-up of install <paramref name="no"/>.</summary>
    public static SimulatedReading AsCommissioned(SimulatorSettings settings, Fleet fleet, int no)
    {
        var story = new InstallStory(settings, fleet, no);
        story.Truth(clean: true);
        story.Commission();
        return story.readings[^1];
    }

    private void Commission()
    {
        var crew = install.Crew;
        var visit = Begin("commissioning", install.InstalledOn, crew.Id, crew.EarlyReading * settings.HabitStrength, crew.NoWetBulb * settings.HabitStrength);
        if (rng.Chance(0.2))
        {
            // The crew read once before it topped the charge up.
            var final = state;
            state = state.Copy();
            state.Charge = Math.Max(0.5, final.Charge - rng.Between(0.05, 0.14));
            var oz = Math.Max(1, Math.Round((final.Charge - state.Charge) * install.ChargeOz));
            Take(visit, "as_found", []);
            state = final;
            Take(visit, "as_left", [new("charge_added", null, null, oz)]);
        }
        else
            Take(visit, "as_left", []);
    }

    private void LiveOn()
    {
        checkDrawn = rng.Chance(settings.QualityCheckShare);
        var quality = checkDrawn ? install.InstalledOn.AddDays(7 + rng.Below(110)) : (DateOnly?)null;
        var maintenance = rng.Chance(settings.MaintenanceShare) ? install.InstalledOn.AddDays(320 + rng.Below(80)) : (DateOnly?)null;
        var leak = rng.Chance(0.03) ? rng.Between(0.006, 0.02) : 0;
        var callbacks = 0;
        for (var month = install.InstalledOn; month <= settings.LastDay; month = month.AddDays(30))
        {
            var end = month.AddDays(29);
            if (callbacks < 3 && rng.Chance(ComplaintOdds(month)) && month.AddDays(2 + rng.Below(27)) is var day && day <= settings.LastDay)
            {
                callbacks++;
                FollowUp("callback", day);
            }

            if (quality is { } check && check >= month && check <= end && check <= settings.LastDay)
                FollowUp("quality_check", check);
            if (maintenance is { } yearly && yearly >= month && yearly <= end && yearly <= settings.LastDay)
                FollowUp("maintenance", yearly);
            Age(leak);
        }

        readings.Sort((a, b) => a.VisitedAt != b.VisitedAt ? a.VisitedAt.CompareTo(b.VisitedAt) : a.ReadingNo.CompareTo(b.ReadingNo));
    }

    /// <summary>Complaints follow discomfort and heat, so visits are not a random sample.</summary>
    private double ComplaintOdds(DateOnly month)
    {
        var hot = Math.Clamp((install.Branch.Climate.AfternoonF(month.Month) - 62) / 22, 0, 1.3);
        var humid = Math.Clamp((install.Branch.Climate.DewF(month) - 45) / 25, 0, 1);
        if (Math.Abs(state.Charge - known.Charge) > 0.03)
            Truth(clean: true);
        var discomfort = 0.03 * Math.Max(0, lossPct - 6) + 0.6 * Math.Max(0, 0.72 - state.Airflow) + (0.3 + humid) * Math.Max(0, state.Airflow - 1.2) + (state.Filter == 2 ? 0.05 : 0);
        return Math.Min(0.6, settings.ComplaintFactor * hot * (0.002 + 0.35 * Math.Min(1, discomfort)));
    }

    private void Age(double leak)
    {
        if (state.Filter == 0 && rng.Chance(0.2))
            state.Filter = 1;
        else if (state.Filter == 1 && rng.Chance(0.12))
            state.Filter = 2;
        else if (state.Filter == 2 && rng.Chance(0.3))
            state.Filter = 0; // the customer changes it
        state.Charge = Math.Max(0.5, state.Charge - leak);
        if (state.Other == OtherFault.None && rng.Chance(0.004))
            (state.Other, state.Severity) = (OtherFault.CondenserAirflowLow, rng.Between(0.15, 0.4));
    }

    private void FollowUp(string kind, DateOnly day)
    {
        firstFollowUp ??= kind;
        var own = kind == "callback" && rng.Chance(0.3);
        var crew = own ? install.Crew.Id : install.Branch.Letter + "S";
        var skill = own ? 0.6 : kind == "maintenance" ? 0.72 : 0.86;
        var visit = Begin(kind, day, crew, own ? install.Crew.EarlyReading * settings.HabitStrength : 0.05, 0.05);
        Take(visit, "as_found", []);
        var air = Technician.CorrectAir(rng, state, skill);
        var before = state.Copy();
        var circuit = Technician.CorrectCircuit(rng, install, state, skill, visit.Weather.OutdoorF);
        if (air.Count > 0 && circuit.Count > 0 && rng.Chance(0.6))
        {
            (state, before) = (before, state);
            Take(visit, "interim", air);
            state = before;
            Take(visit, "as_left", circuit);
        }
        else if (air.Count + circuit.Count > 0)
            Take(visit, "as_left", [.. air, .. circuit]);
        else if (rng.Chance(0.15))
            Take(visit, "as_left", []);
    }

    private Visit Begin(string kind, DateOnly day, string crew, double early, double noWetBulb)
    {
        visits++;
        var hour = rng.Between(8.5, 16.5);
        var local = day.ToDateTime(TimeOnly.MinValue).AddMinutes(Math.Round(hour * 12) * 5);
        var technician = Technician.Id(crew, 1 + rng.Below(Technician.PerCrew));
        return new Visit(
            string.Create(CultureInfo.InvariantCulture, $"V{install.No:000000}{visits:00}"), kind, crew, technician, fleet.Probes(technician),
            TimeZoneInfo.ConvertTimeToUtc(local, fleet.Zone(install.Branch)), rng.Chance(early) ? 3 + rng.Below(5) : rng.Chance(0.08) ? 9 + rng.Below(6) : 15 + rng.Below(16),
            noWetBulb, rng.Chance(0.2), Weather.Draw(rng, install.Branch, day, hour, barometer));
    }

    private void Take(Visit visit, string phase, IReadOnlyList<Correction> done)
    {
        visit.Readings++;
        if (visit.Readings > 1)
        {
            var passed = Math.Round(rng.Between(14, 40));
            visit.At = visit.At.AddMinutes(passed);
            visit.Weather = visit.Weather.Drifted(rng, passed);
            visit.Minutes = 15 + rng.Below(12);
        }

        var reading = new SimulatedReading
        {
            VisitId = visit.Id,
            ReadingNo = visit.Readings,
            InstallId = install.Id,
            CrewId = visit.Crew,
            VisitKind = visit.Kind,
            VisitedAt = visit.At,
            TechnicianId = visit.Technician,
            Install = sheet,
            Phase = phase,
            SavedAt = visit.At.AddMinutes(5 + rng.Below(50)),
            Notes = rng.Chance(0.06) ? Remarks[rng.Below(Remarks.Length)] : null,
        };
        var runs = visit.Probes.Read(rng, install, state, visit.Weather, visit.Minutes, barometer, reading);
        var complete = Instruments.Drop(rng, settings, reading, visit.NoWetBulb, visit.HumidityProbe);
        var copied = visit.Kind == "commissioning" && rng.Chance(settings.CopiesOf(install.Crew));
        if (copied && CopiedSheet.Find(settings, fleet, install) is { } earlier)
            CopiedSheet.Write(reading, earlier);
        else
            copied = false;
        if (!runs && !copied)
            reading.Notes = "unit cuts out on pressure";
        reading.Truth = Truth(runs && complete && visit.Minutes >= 15 && !copied, copied);
        Technician.Note(reading, done);
        readings.Add(reading);
    }

    private ReadingTruth Truth(bool clean, bool copied = false)
    {
        var now = (state.Airflow, state.Charge, state.Other, state.Severity);
        if (now != known)
            (known, lossPct) = (now, 100 * (1 - Running.RatedCapacity(install, state, barometer) / soundCapacity));
        return new(state.Airflow, state.Cfm(install.Tons) / install.DesignCfm, state.Charge, state.OtherCode, state.Severity, state.Causes, lossPct, state.Faulty, clean, copied);
    }

    private sealed class Visit(string id, string kind, string crew, string technician, Instruments probes, DateTime at, double minutes, double noWetBulb, bool humidityProbe, Weather weather)
    {
        public string Id => id;
        public string Kind => kind;
        public string Crew => crew;
        public string Technician => technician;
        public Instruments Probes => probes;
        public double NoWetBulb => noWetBulb;
        public bool HumidityProbe => humidityProbe;
        public DateTime At { get; set; } = at;
        public double Minutes { get; set; } = minutes;
        public Weather Weather { get; set; } = weather;
        public int Readings { get; set; }
    }
}
