using Revisit.Simulator;

namespace Revisit.Cli;

/// <summary>
/// What a planned check would have corrected at every install of a simulated fleet: the same installs and start-ups with a check drawn for each
/// and no complaints. Known to the simulator alone; it is the truth for installs that nobody had gone back to.
/// </summary>
internal static class CheckedTwin
{
    /// <summary>Corrections of the check, by install; an install whose check lies beyond the records is not there.</summary>
    public static Dictionary<string, (bool Airflow, bool Charge)> Of(SimulatorSettings settings)
    {
        var corrected = new Dictionary<string, (bool, bool)>(StringComparer.Ordinal);
        foreach (var (readings, truth) in FleetSimulator.Installs(settings with { QualityCheckShare = 1, ComplaintFactor = 0, MaintenanceShare = 0 }))
        {
            var check = readings.Where(r => r.VisitKind == "quality_check").ToList();
            if (check.Count > 0)
            {
                var done = check.SelectMany(r => (r.Correction ?? "").Split('+')).ToHashSet(StringComparer.Ordinal);
                corrected[truth.InstallId] = (done.Overlaps(["blower_tap", "duct", "coil_clean"]), done.Overlaps(["charge_added", "charge_removed"]));
            }
        }

        return corrected;
    }
}
