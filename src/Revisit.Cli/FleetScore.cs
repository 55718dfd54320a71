using System.Globalization;
using Revisit.Diagnosis;

namespace Revisit.Cli;

/// <summary>
/// How the method does on a simulated fleet: readings go through ingest and diagnosis as a contractor's would, and what was found is held
/// against what the simulator knows. Faults smaller than the method lets pass count as none (<see cref="PerturbedSample.Tolerable"/>).
/// </summary>
internal static class FleetScore
{
    private const string Sound = "sound", Hurried = "sound, not clean", Several = "several faults";

    /// <summary>Lower ends of the bands of severity that are counted together.</summary>
    private static readonly double[] Bands = [0, 0.05, 0.10, 0.15, 0.20, 0.30, 0.40];

    /// <summary>One reading with its truth: the row it counts in, the findings that would be right, and what was found.</summary>
    private sealed record Scored(string Fault, double Severity, string[] Truth, string Finding, double Probability);

    /// <summary>Simulates, judges and scores; everything written on the way is removed.</summary>
    /// <param name="installs">Size of the fleet.</param>
    /// <param name="seed">Seed of the simulator.</param>
    public static MethodScore Of(int installs, ulong seed)
    {
        using var fleet = new SimulatedLake(installs, seed);
        var score = new MethodScore();
        foreach (var s in Join(fleet).OrderBy(s => Place(s.Fault)).ThenBy(s => s.Severity))
        {
            score.Count(s.Fault, s.Severity, s.Truth, s.Finding);
            score.Calibrate(s.Truth, s.Finding, s.Probability);
        }

        return score;
    }

    private static List<Scored> Join(SimulatedLake fleet)
    {
        var found = new Dictionary<(string Visit, int Reading), (string Finding, double Probability)>();
        using (var session = fleet.Lake.OpenSession())
        using (var reader = session.Query("select visit_id, reading_no, finding, coalesce(probability, 0) from findings"))
        {
            while (reader.Read())
            {
                found[(reader.GetString(0), reader.GetInt32(1))] = (reader.GetString(2), reader.GetDouble(3));
            }
        }

        var scored = new List<Scored>();
        foreach (var text in fleet.Truth("reading_truth.csv"))
        {
            double Number(string column) => double.Parse(text(column), CultureInfo.InvariantCulture);

            // A sheet copied from another install says nothing of this one, and a row that ingest rejected was never judged.
            if (text("copied") == "false" && found.TryGetValue((text("visit_id"), int.Parse(text("reading_no"), CultureInfo.InvariantCulture)), out var f)
                && RowOf(Number("airflow_over_design"), Number("charge_ratio"), text("other_fault"), Number("other_severity"), text("clean") == "true") is { } row)
            {
                scored.Add(new(row.Fault, row.Severity, row.Truth, f.Finding, f.Probability));
            }
        }

        return scored;
    }

    /// <summary>The row of a truth; none for a faulty system whose reading was hurried or left incomplete.</summary>
    internal static (string Fault, double Severity, string[] Truth)? RowOf(double airflow, double charge, string other, double otherSeverity, bool clean)
    {
        var faults = new List<(string Name, double Severity)>();
        Add(airflow < 1 ? "airflow_low" : "airflow_high", Math.Abs(airflow - 1), 0.10);
        Add(charge < 1 ? "charge_low" : "charge_high", Math.Abs(charge - 1), 0.05);
        Add(other, other == "none" ? 0 : otherSeverity, 0.10);
        return faults.Count == 0 ? (clean ? Sound : Hurried, 0, [])
            : !clean ? null
            : faults.Count == 1 ? (faults[0].Name, Bands.Last(b => b <= faults[0].Severity), [faults[0].Name])
            : (Several, Bands.Last(b => b <= faults.Max(f => f.Severity)), [.. faults.Select(f => f.Name)]);

        void Add(string name, double severity, double letPass)
        {
            if (severity > letPass)
            {
                faults.Add((name, severity));
            }
        }
    }

    private static int Place(string fault) => fault switch
    {
        Sound => -2,
        Hurried => -1,
        Several => Causes.All.Count,
        _ => Causes.All.ToList().IndexOf(fault),
    };
}
