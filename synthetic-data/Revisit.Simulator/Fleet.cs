namespace Revisit.Simulator;

/// <summary>What all installs of a run share: every crew's probes and the branches' time zones.</summary>
internal sealed class Fleet
{
    private readonly Dictionary<string, Instruments> probes = [];
    private readonly Dictionary<string, TimeZoneInfo> zones = [];

    public Fleet(SimulatorSettings settings)
    {
        for (var i = 0; i < Scenario.Crews.Length; i++)
            probes[Scenario.Crews[i].Id] = new Instruments(settings, i, 1);
        for (var i = 0; i < Scenario.Branches.Length; i++)
        {
            probes[Scenario.Branches[i].Letter + "S"] = new Instruments(settings, 1_000 + i, 0.4);
            zones[Scenario.Branches[i].Name] = TimeZoneInfo.FindSystemTimeZoneById(Scenario.Branches[i].Zone);
        }
    }

    public Instruments Probes(string crew) => probes[crew];

    public TimeZoneInfo Zone(Branch branch) => zones[branch.Name];
}
