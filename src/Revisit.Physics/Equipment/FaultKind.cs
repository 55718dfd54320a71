namespace Revisit.Physics;

/// <summary>One fault at a time, and how its severity counts.</summary>
public enum FaultKind
{
    /// <summary>Share of the airflow missing: 0.25 is 75 %.</summary>
    AirflowLow,

    /// <summary>Share of airflow too much: 0.25 is 125 %.</summary>
    AirflowHigh,

    /// <summary>Share of the charge missing.</summary>
    ChargeLow,

    /// <summary>Share of charge too much.</summary>
    ChargeHigh,

    /// <summary><see cref="Faults.Restriction"/>.</summary>
    LiquidRestriction,

    /// <summary>Share of the outdoor air missing.</summary>
    CondenserAirflowLow,

    /// <summary><see cref="Faults.NonCondensables"/>.</summary>
    NonCondensables,

    /// <summary><see cref="Faults.ValveLeak"/>.</summary>
    ValveLeak,

    /// <summary><see cref="Faults.EfficiencyLoss"/>.</summary>
    EfficiencyLoss,
}
