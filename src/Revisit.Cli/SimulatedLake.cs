using Revisit.Diagnosis;
using Revisit.Ingest;
using Revisit.Simulator;
using Revisit.Storage;

namespace Revisit.Cli;

/// <summary>A simulated fleet taken in and diagnosed as a contractor's would be, in a folder of its own that is removed with it.</summary>
internal sealed class SimulatedLake : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("revisit-score-").FullName;

    /// <summary>Simulates, takes in and diagnoses.</summary>
    /// <param name="installs">Size of the fleet.</param>
    /// <param name="seed">Seed of the simulator.</param>
    /// <param name="next">What else is done before the lake stands.</param>
    public SimulatedLake(int installs, ulong seed, Action<Publication>? next = null)
    {
        try
        {
            Settings = (new SimulatorSettings() with { Installs = installs, Seed = seed }).Checked();
            SimulatorRun.WriteDemo(folder, Settings, Terminal.Progress);
            Lake = Lake.At(Path.Combine(folder, "lake"));
            using var publication = Lake.BeginPublication();
            _ = IngestStage.Run(publication, [new(Path.Combine(folder, "readings.csv"), null)], null);
            DiagnosisStage.Run(publication, Terminal.Progress);
            next?.Invoke(publication);
            publication.Commit();
        }
        catch
        {
            Dispose();
            throw;
        }
    }

    /// <summary>How the fleet was made.</summary>
    public SimulatorSettings Settings { get; }

    /// <summary>The lake.</summary>
    public Lake Lake { get; }

    /// <summary>Rows of what the simulator knows, by column name: <c>truth.csv</c> (installs) or <c>reading_truth.csv</c> (readings).</summary>
    public IEnumerable<Func<string, string>> Truth(string file)
    {
        string[]? heading = null;
        foreach (var line in File.ReadLines(Path.Combine(folder, file)))
        {
            var parts = line.Split(',');
            if (heading is null)
            {
                heading = parts;
            }
            else
            {
                yield return column => parts[Array.IndexOf(heading, column)];
            }
        }
    }

    public void Dispose() => Directory.Delete(folder, recursive: true);
}
