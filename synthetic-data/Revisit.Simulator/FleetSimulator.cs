namespace Revisit.Simulator;

/// <summary>An invented fleet, install after install; nothing is held but the few hundred installs at hand.</summary>
public static class FleetSimulator
{
    /// <summary>Installs told at once, on as many cores as there are; each is a pure function, so the order of work does not show.</summary>
    private const int AtOnce = 256;

    /// <summary>Every reading: by install number, then by time.</summary>
    /// <exception cref="Records.UserError">Settings out of range.</exception>
    public static IEnumerable<SimulatedReading> Rows(SimulatorSettings settings) => Installs(settings).SelectMany(i => i.Readings);

    /// <summary>Every install with its readings and its truth.</summary>
    /// <exception cref="Records.UserError">Settings out of range.</exception>
    public static IEnumerable<(IReadOnlyList<SimulatedReading> Readings, InstallTruth Truth)> Installs(SimulatorSettings settings)
    {
        var fleet = new Fleet(settings.Checked());
        return Enumerable.Range(1, settings.Installs).Chunk(AtOnce).SelectMany(some => some.AsParallel().AsOrdered().Select(no => InstallStory.Tell(settings, fleet, no)).ToArray());
    }

    /// <summary>One install of the fleet, the same whatever else is drawn.</summary>
    /// <param name="settings">Settings of the fleet.</param>
    /// <param name="no">Number of the install, 1 to the number of installs.</param>
    public static (IReadOnlyList<SimulatedReading> Readings, InstallTruth Truth) Install(SimulatorSettings settings, int no)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(no, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(no, settings.Installs);
        return InstallStory.Tell(settings, new Fleet(settings.Checked()), no);
    }
}
