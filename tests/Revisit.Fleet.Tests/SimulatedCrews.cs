using Revisit.Fleet.Crews;
using Revisit.Simulator;

namespace Revisit.Fleet.Tests;

/// <summary>
/// A simulated fleet as crews are compared on it, without the diagnosis: what a first follow-up shows is the simulator's truth where its reading as found is steady and complete (airflow before charge),
/// and not judged otherwise; mistakes of charge where a reading is so and airflow in line, before the charge is touched. So what holds here holds for the statistics, not for findings.
/// </summary>
internal static class SimulatedCrews
{
    /// <summary>The installs as compared, and whether each truly had too little or too much air, or charge, when the crew left.</summary>
    public static List<(ComparedInstall Install, bool Airflow, bool Charge)> Of(SimulatorSettings settings) =>
        [.. FleetSimulator.Installs(settings).Select(i => (Compared(i.Readings, i.Truth.CrewId), Has(i.Truth.AtStart, "airflow"), Has(i.Truth.AtStart, "charge")))];

    private static bool Has(ReadingTruth truth, string cause) => truth.Causes.Contains(cause, StringComparison.Ordinal);

    private static ComparedInstall Compared(IReadOnlyList<SimulatedReading> readings, string crew)
    {
        var start = readings.Where(r => r.VisitKind == "commissioning").ToList();
        var later = readings.Where(r => r.VisitKind != "commissioning").ToList();
        var follow = later.Count == 0 ? [] : later.Where(r => r.VisitId == later[0].VisitId).ToList();
        var sheet = readings[0].Install;
        var seen = new bool?[ComparedInstall.Columns.Count];
        void See(string column, bool was, bool invited = true)
        {
            if (invited)
            {
                seen[ComparedInstall.Columns.ToList().IndexOf(column)] = was;
            }
        }

        if (follow.Count > 0 && follow[0].Truth.Clean)
        {
            var truth = follow[0].Truth;
            var found = Has(truth, "airflow_high") ? "airflow_high" : Has(truth, "airflow_low") ? "airflow_low" : Has(truth, "charge_high") ? "charge_high" : Has(truth, "charge_low") ? "charge_low" : "";
            foreach (var cause in new[] { "airflow_high", "airflow_low", "charge_high", "charge_low" })
            {
                See(cause, found == cause);
            }

            See("airflow", found.StartsWith("airflow", StringComparison.Ordinal));
            See("charge", found.StartsWith("charge", StringComparison.Ordinal));
            See("tap_high_on_small", found == "airflow_high", sheet.NominalTons <= 2.5);
            See("air_short_in_attic", found == "airflow_low", sheet.DuctLocation is "attic" or "crawlspace");
        }

        if (follow.TakeWhile(r => r.Correction?.Contains("charge_", StringComparison.Ordinal) != true).FirstOrDefault(r => r.Truth.Clean && !Has(r.Truth, "airflow")) is { Truth: var inLine })
        {
            See("long_line_short", Has(inLine, "charge_low"), sheet.LineSetFt > 25);
            See("orifice_overcharged", Has(inLine, "charge_high"), sheet.Metering == "fixed_orifice");
            See("overcharged_in_mild", Has(inLine, "charge_high"), start[0].OutdoorDbF < 75);
            See("undercharged_in_heat", Has(inLine, "charge_low"), start[0].OutdoorDbF > 90);
        }

        if (follow.Count > 0)
        {
            bool Did(params string[] corrections) => follow.Any(r => r.Correction is { } c && c.Split('+').Intersect(corrections).Any());
            See("airflow_corrected", Did("blower_tap", "duct", "coil_clean"));
            See("charge_corrected", Did("charge_added", "charge_removed"));
        }

        var filter = start.LastOrDefault(r => r.FilterState is not null)?.FilterState;
        See("filter_left", filter is "loaded" or "missing", filter is not null);
        See("read_early", start[0].MinutesRunning < 15, !double.IsNaN(start[0].MinutesRunning));
        See("no_wet_bulb", start.All(r => double.IsNaN(r.ReturnWbF) && double.IsNaN(r.ReturnRhPct)));
        var planned = later.Where(r => r.VisitKind is "quality_check" or "maintenance").Select(r => DateOnly.FromDateTime(r.VisitedAt)).ToList();
        return new()
        {
            InstallId = readings[0].InstallId,
            CrewId = crew,
            InstalledOn = sheet.InstalledOn,
            Tons = sheet.NominalTons,
            Refrigerant = sheet.Refrigerant,
            Metering = sheet.Metering,
            Ducts = sheet.DuctLocation,
            Motor = sheet.BlowerMotor,
            LineFt = sheet.LineSetFt,
            StartVisitId = start[0].VisitId,
            StartedOn = sheet.InstalledOn,
            StartSeason = SeasonOf(sheet.InstalledOn),
            StartOutdoorF = start[0].OutdoorDbF,
            FollowUpVisitId = follow.Count > 0 ? follow[0].VisitId : null,
            FollowUpKind = follow.Count > 0 ? follow[0].VisitKind : null,
            FollowedUpOn = follow.Count > 0 ? DateOnly.FromDateTime(follow[0].VisitedAt) : null,
            Season = follow.Count > 0 ? SeasonOf(DateOnly.FromDateTime(follow[0].VisitedAt)) : null,
            FollowUpOutdoorF = follow.Count > 0 ? follow[0].OutdoorDbF : double.NaN,
            PlannedOn = planned.Count > 0 ? planned.Min() : null,
            Seen = seen,
        };
    }

    private static string SeasonOf(DateOnly day) => Records.Codes.Season[day.Month % 12 / 3];
}
