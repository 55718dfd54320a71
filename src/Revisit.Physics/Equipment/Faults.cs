namespace Revisit.Physics;

/// <summary>What is wrong with the equipment; <see cref="None"/> is a sound system.</summary>
/// <param name="AirflowRatio">Indoor airflow over <see cref="Equipment.AirflowScfmPerTon"/>, 0.2…2.5; the product 100…1000 scfm/ton.</param>
/// <param name="ChargeRatio">Refrigerant charge over the right one, 0.4…1.6.</param>
/// <param name="OutdoorAirRatio">Outdoor airflow over the clean coil's, 0.2…1.5.</param>
/// <param name="Restriction">Extra pressure drop of the liquid line at rated flow, as a share of the rated drop from liquid to suction pressure, 0…1.5.</param>
/// <param name="NonCondensables">Gas in the condenser that does not condense, as a share of about a fifth of the rated drop from liquid to suction pressure, 0…1.</param>
/// <param name="ValveLeak">Share of the compressor's flow lost through its valves, 0…0.6.</param>
/// <param name="EfficiencyLoss">Share of the compressor's efficiency lost, 0…0.6.</param>
public sealed record Faults(
    double AirflowRatio = 1.0,
    double ChargeRatio = 1.0,
    double OutdoorAirRatio = 1.0,
    double Restriction = 0.0,
    double NonCondensables = 0.0,
    double ValveLeak = 0.0,
    double EfficiencyLoss = 0.0)
{
    /// <summary>No fault.</summary>
    public static Faults None { get; } = new();

    /// <summary>One fault at a severity, as <see cref="FaultKind"/> counts it.</summary>
    /// <exception cref="ArgumentOutOfRangeException">An unknown fault.</exception>
    public static Faults Of(FaultKind kind, double severity) => kind switch
    {
        FaultKind.AirflowLow => new(AirflowRatio: 1.0 - severity),
        FaultKind.AirflowHigh => new(AirflowRatio: 1.0 + severity),
        FaultKind.ChargeLow => new(ChargeRatio: 1.0 - severity),
        FaultKind.ChargeHigh => new(ChargeRatio: 1.0 + severity),
        FaultKind.LiquidRestriction => new(Restriction: severity),
        FaultKind.CondenserAirflowLow => new(OutdoorAirRatio: 1.0 - severity),
        FaultKind.NonCondensables => new(NonCondensables: severity),
        FaultKind.ValveLeak => new(ValveLeak: severity),
        FaultKind.EfficiencyLoss => new(EfficiencyLoss: severity),
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Unknown fault; allowed: the members of FaultKind."),
    };

    /// <summary>The same faults after refrigerant was added, or recovered (negative).</summary>
    /// <param name="ounces">Refrigerant added [oz], −800…800.</param>
    /// <param name="systemOunces">The right charge of the system with its lines [oz], 20…800.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value outside its range; the message holds both.</exception>
    public Faults WithChargeAdded(double ounces, double systemOunces) => this with
    {
        ChargeRatio = ChargeRatio + Bounds.Check(ounces, -800.0, 800.0, "oz", nameof(ounces)) / Bounds.Check(systemOunces, 20.0, 800.0, "oz", nameof(systemOunces)),
    };

    /// <summary>A share of each fault.</summary>
    internal Faults Partly(double share) => new(
        1.0 + share * (AirflowRatio - 1.0),
        1.0 + share * (ChargeRatio - 1.0),
        1.0 + share * (OutdoorAirRatio - 1.0),
        share * Restriction,
        share * NonCondensables,
        share * ValveLeak,
        share * EfficiencyLoss);
}
