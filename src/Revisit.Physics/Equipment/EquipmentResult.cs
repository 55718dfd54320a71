namespace Revisit.Physics;

/// <summary>How a solve ended.</summary>
public enum EquipmentOutcome
{
    /// <summary>No steady state was found.</summary>
    NotFound,

    /// <summary>A steady state was found.</summary>
    Solved,

    /// <summary>
    /// The liquid pressure would pass 0.98…0.99 of the critical temperature (R-410A 674 psig), or runs away towards it: a cut-out has
    /// tripped long before, and there is no steady state to read.
    /// </summary>
    BeyondHighPressureLimit,

    /// <summary>The suction pressure would fall below that of −40 °F.</summary>
    BeyondLowPressureLimit,
}

/// <summary>A steady state, or why there is none.</summary>
public readonly struct EquipmentResult
{
    private readonly EquipmentState _state;

    internal EquipmentResult(EquipmentOutcome outcome, in EquipmentState state) => (Outcome, _state) = (outcome, state);

    /// <summary>How the solve ended.</summary>
    public EquipmentOutcome Outcome { get; }

    /// <summary>True if there is a state.</summary>
    public bool Solved => Outcome == EquipmentOutcome.Solved;

    /// <summary>The state.</summary>
    /// <exception cref="InvalidOperationException">There is none; ask <see cref="Solved"/> first.</exception>
    public EquipmentState State => Solved ? _state : throw new InvalidOperationException($"There is no steady state: {Outcome}.");

    /// <summary>Gives the state if there is one.</summary>
    public bool TryGet(out EquipmentState state)
    {
        state = _state;
        return Solved;
    }
}
