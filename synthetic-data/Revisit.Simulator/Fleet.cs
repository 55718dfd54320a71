namespace Revisit.Simulator;

/// <summary>What all installs of a run share: the field's errors, every technician's probes and the branches' time zones.</summary>
internal sealed class Fleet
{
    private readonly Dictionary<string, Instruments> probes = [];
    private readonly Dictionary<string, TimeZoneInfo> zones = [];

    public Fleet(SimulatorSettings settings)
    {
        Errors = new FieldErrors(settings);
        var number = 0;
        foreach (var (crew, scale) in Scenario.Crews.Select(c => (c.Id, 1.0)).Concat(Scenario.Branches.Select(b => (b.Letter + "S", 0.5))))
        {
            for (var technician = 1; technician <= Technician.PerCrew; technician++)
                probes[Technician.Id(crew, technician)] = new Instruments(settings, number++, scale);
        }

        foreach (var branch in Scenario.Branches)
            zones[branch.Name] = TimeZoneInfo.FindSystemTimeZoneById(branch.Zone);
    }

    public FieldErrors Errors { get; }

    public Instruments Probes(string technician) => probes[technician];

    public TimeZoneInfo Zone(Branch branch) => zones[branch.Name];
}
