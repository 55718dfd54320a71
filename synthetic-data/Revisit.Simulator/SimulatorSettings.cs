using System.Text.Json;
using System.Text.Json.Serialization;
using Revisit.Records;

namespace Revisit.Simulator;

/// <summary>
/// Settings of an invented fleet. Shares and factors are invented; the spread of airflow and charge is a published one, see <see cref="FieldErrors"/>.
/// </summary>
public sealed record SimulatorSettings
{
    /// <summary>Same seed, same bytes.</summary>
    public ulong Seed { get; init; } = 20261031;

    /// <summary>Number of installs, 1 to 10 million.</summary>
    public int Installs { get; init; } = 1_500;

    /// <summary>First day an install can be started up.</summary>
    public DateOnly FirstDay { get; init; } = new(2025, 5, 1);

    /// <summary>Last day of the records: no visit lies after it.</summary>
    public DateOnly LastDay { get; init; } = new(2026, 10, 31);

    /// <summary>Stretches the published errors of airflow and charge about 400 cfm per ton and right charge: 1 as published, 0 none.</summary>
    public double ErrorScale { get; init; } = 1.0;

    /// <summary>How strongly crews keep their habits: 0 none, 1 as the scenario tells.</summary>
    public double HabitStrength { get; init; } = 1.0;

    /// <summary>Share of installs born with a restriction, a starved condenser, non-condensables or a weak compressor.</summary>
    public double OtherFaultShare { get; init; } = 0.06;

    /// <summary>Share of installs drawn for a planned quality check, whatever their state.</summary>
    public double QualityCheckShare { get; init; } = 0.15;

    /// <summary>Share of installs with a maintenance visit about a year after start-up.</summary>
    public double MaintenanceShare { get; init; } = 0.4;

    /// <summary>Multiplies the monthly odds that a customer complains.</summary>
    public double ComplaintFactor { get; init; } = 1.0;

    /// <summary>Share of single measured values that were not taken.</summary>
    public double MissingShare { get; init; } = 0.02;

    /// <summary>Share of the rows of a branch export that something is wrong with, every kind alike; plain rows of a demo have none. <see cref="Dirt"/> takes its place.</summary>
    public double DirtShare { get; init; } = 0.02;

    /// <summary>Share of the rows of an export that bear a kind of dirt, by kind (<see cref="Exports.DirtKinds.All"/>), each 0 to 0.05; kinds left out none. Null: as <see cref="DirtShare"/> says.</summary>
    public IReadOnlyDictionary<string, double>? Dirt { get; init; }

    /// <summary>Share of start-up readings that a crew copies from an earlier sheet, by crew; crews left out copy none. Null: as the scenario tells.</summary>
    public IReadOnlyDictionary<string, double>? Copies { get; init; }

    /// <summary>How often a crew copies a sheet.</summary>
    internal double CopiesOf(Crew crew) => Copies is null ? crew.Copies * HabitStrength : Copies.GetValueOrDefault(crew.Id);

    private static readonly JsonSerializerOptions Json = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        ReadCommentHandling = JsonCommentHandling.Skip,
        AllowTrailingCommas = true,
        WriteIndented = true,
    };

    /// <summary>Reads and checks a settings file; what it leaves out keeps its default.</summary>
    /// <exception cref="UserError">Not JSON, an unknown name, or a value out of range (all of them in one message).</exception>
    public static SimulatorSettings Load(string path)
    {
        SimulatorSettings? settings;
        try
        {
            settings = JsonSerializer.Deserialize<SimulatorSettings>(File.ReadAllText(path), Json);
        }
        catch (JsonException e)
        {
            throw new UserError($"{Path.GetFileName(path)}, line {e.LineNumber + 1}: {e.Message}");
        }

        return (settings ?? throw new UserError($"{Path.GetFileName(path)}: expected an object of settings")).Checked();
    }

    /// <summary>The settings as JSON, as they took effect.</summary>
    public string ToJson() => JsonSerializer.Serialize(this, Json).ReplaceLineEndings("\n") + "\n";

    /// <summary>The same settings, once every value is in range.</summary>
    /// <exception cref="UserError">One or more values out of range.</exception>
    public SimulatorSettings Checked()
    {
        List<string> problems = [];
        void In(string name, double value, double low, double high)
        {
            if (!(value >= low && value <= high))
                problems.Add(FormattableString.Invariant($"{name}: {value} is not within {low} and {high}"));
        }

        In("installs", Installs, 1, 10_000_000);
        In("error_scale", ErrorScale, 0, 1);
        In("habit_strength", HabitStrength, 0, 1);
        In("other_fault_share", OtherFaultShare, 0, 1);
        In("quality_check_share", QualityCheckShare, 0, 1);
        In("maintenance_share", MaintenanceShare, 0, 1);
        In("complaint_factor", ComplaintFactor, 0, 20);
        In("missing_share", MissingShare, 0, 0.9);
        In("dirt_share", DirtShare, 0, 0.5);
        foreach (var (kind, share) in Dirt ?? new Dictionary<string, double>())
        {
            In($"dirt of kind {kind}", share, 0, 0.05);
            if (!Exports.DirtKinds.All.Contains(kind))
                problems.Add($"dirt: there is no kind '{kind}'; kinds are {string.Join(", ", Exports.DirtKinds.All)}");
        }

        In("dirt of all kinds", Dirt?.Values.Sum() ?? 0, 0, 0.9);
        foreach (var (crew, share) in Copies ?? new Dictionary<string, double>())
        {
            In($"copies of {crew}", share, 0, 1);
            if (Scenario.Crews.All(c => c.Id != crew))
                problems.Add($"copies: there is no crew '{crew}'; crews are {string.Join(", ", Scenario.Crews.Select(c => c.Id))}");
        }

        if (LastDay < FirstDay || FirstDay.Year < 2000 || LastDay.Year > 2100)
            problems.Add(FormattableString.Invariant($"first_day {FirstDay:yyyy-MM-dd} and last_day {LastDay:yyyy-MM-dd}: expected an order of days between 2000 and 2100"));
        return problems.Count == 0 ? this : throw new UserError("The simulator's settings cannot be used:", problems);
    }
}
