namespace Revisit.Physics;

/// <summary>A fault at a severity, or airflow and charge wrong at once: a column of <see cref="SignatureTable"/>.</summary>
/// <param name="Kind">The fault.</param>
/// <param name="Severity">How bad, as <see cref="FaultKind"/> counts it.</param>
/// <param name="With">A second fault, or null.</param>
/// <param name="WithSeverity">How bad the second one is.</param>
public readonly record struct FaultLevel(FaultKind Kind, double Severity, FaultKind? With = null, double WithSeverity = 0.0)
{
    /// <summary>The faults of this level.</summary>
    public Faults Faults => With is { } second && Physics.Faults.Of(second, WithSeverity) is var charge
        ? Physics.Faults.Of(Kind, Severity) with { ChargeRatio = charge.ChargeRatio }
        : Physics.Faults.Of(Kind, Severity);
}
