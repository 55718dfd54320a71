using System.Globalization;
using System.Text;

namespace Revisit.Simulator;

/// <summary>Writes a simulated fleet to a folder.</summary>
public static class SimulatorRun
{
    /// <summary>
    /// Writes <c>readings.csv</c> (plain rows), <c>truth.csv</c> (one line an install), <c>reading_truth.csv</c> (one line a reading)
    /// <c>crew_habits.csv</c> (what was planted, by crew) and <c>fleet.json</c> (the settings as they took effect).
    /// </summary>
    /// <returns>Readings written.</returns>
    /// <exception cref="Records.UserError">Settings out of range.</exception>
    public static long WriteDemo(string folder, SimulatorSettings settings, IProgress<string>? progress = null)
    {
        settings.Checked();
        Directory.CreateDirectory(folder);
        using var readings = Open(folder, "readings.csv");
        using var truth = Open(folder, "truth.csv");
        using var readingTruth = Open(folder, "reading_truth.csv");
        PlainCsv.WriteHeading(readings);
        truth.Write("install_id,crew_id,airflow_ratio,airflow_over_design,charge_ratio,other_fault,other_severity,faulty,first_follow_up,causes,capacity_loss_pct\n");
        readingTruth.Write("visit_id,reading_no,airflow_ratio,airflow_over_design,charge_ratio,other_fault,other_severity,faulty,clean,copied,causes,capacity_loss_pct\n");
        var line = new StringBuilder(700);
        long rows = 0, installs = 0;
        foreach (var install in FleetSimulator.Installs(settings))
        {
            foreach (var row in install.Readings)
            {
                PlainCsv.WriteRow(readings, line, row);
                readingTruth.Write(string.Create(CultureInfo.InvariantCulture, $"{row.VisitId},{row.ReadingNo},{Values(row.Truth)},{(row.Truth.Clean ? "true" : "false")},{(row.Truth.Copied ? "true" : "false")},{Causes(row.Truth)}\n"));
                rows++;
            }

            var t = install.Truth;
            truth.Write($"{t.InstallId},{t.CrewId},{Values(t.AtStart)},{t.FirstFollowUpKind},{Causes(t.AtStart)}\n");
            if (++installs % 10_000 == 0)
                progress?.Report(string.Create(CultureInfo.InvariantCulture, $"{installs} of {settings.Installs} installs, {rows} readings"));
        }

        using (var habits = Open(folder, "crew_habits.csv"))
        {
            habits.Write("crew_id,region,habit,share,coached_from\n");
            foreach (var crew in Scenario.Crews)
            {
                foreach (var (habit, share) in crew.Habits)
                    habits.Write(string.Create(CultureInfo.InvariantCulture, $"{crew.Id},{Scenario.Branches[crew.Branch].Name},{habit},{share * settings.HabitStrength:0.###},{crew.CoachedFrom:yyyy-MM-dd}\n"));
            }
        }

        File.WriteAllText(Path.Combine(folder, "fleet.json"), settings.ToJson());
        return rows;
    }

    private static string Values(ReadingTruth t) =>
        string.Create(CultureInfo.InvariantCulture, $"{t.AirflowRatio:0.0000},{t.AirflowOverDesign:0.0000},{t.ChargeRatio:0.0000},{t.OtherFault},{t.OtherSeverity:0.000},{(t.Faulty ? "true" : "false")}");

    private static string Causes(ReadingTruth t) => string.Create(CultureInfo.InvariantCulture, $"{t.Causes},{t.CapacityLossPct:0.0}");

    private static StreamWriter Open(string folder, string name) => new(Path.Combine(folder, name), append: false, new UTF8Encoding(false), 1 << 16) { NewLine = "\n" };
}
