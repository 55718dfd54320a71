using Revisit.Physics;

namespace Revisit.Simulator;

/// <summary>A fault other than airflow and charge.</summary>
internal enum OtherFault
{
    None,
    LiquidRestriction,
    CondenserAirflowLow,
    NonCondensables,
    ValveLeak,
    EfficiencyLoss,
}

/// <summary>What is true of a system at a moment; visits change it.</summary>
internal sealed class SystemState
{
    public static readonly string[] Taps = ["low", "medium_low", "medium", "medium_high", "high"];
    public static readonly string[] Filters = ["clean", "fair", "loaded", "missing"];
    public const double LowAirflow = 0.75, HighAirflow = 1.25, LowCharge = 0.85, HighCharge = 1.15;
    private static readonly double[] FilterAir = [1.0, 0.975, 0.87, 1.03];
    private static readonly double[] FilterDrop = [0.10, 0.15, 0.30, 0.02];

    /// <summary>Position in <see cref="Taps"/>.</summary>
    public int Tap { get; set; }

    /// <summary>Position in <see cref="Filters"/>.</summary>
    public int Filter { get; set; }

    /// <summary>Resistance of the ducts; 1 is as designed.</summary>
    public double Ducts { get; set; } = 1;

    /// <summary>Airflow over 400 cfm per ton at the fitting tap, designed ducts and a clean filter.</summary>
    public double AtFittingTap { get; init; } = 1;

    /// <summary>The tap that comes nearest to 400 cfm per ton in designed ducts.</summary>
    public int FittingTap { get; init; }

    /// <summary>How strongly ducts and filter take airflow away, by motor: 0 not at all.</summary>
    public double Yielding { get; init; }

    /// <summary>Charge over right charge.</summary>
    public double Charge { get; set; } = 1;

    /// <summary>Fault besides airflow and charge.</summary>
    public OtherFault Other { get; set; }

    /// <summary>Its severity, as <see cref="FaultKind"/> counts it.</summary>
    public double Severity { get; set; }

    /// <summary>Volume airflow over 400 cfm per ton, now.</summary>
    public double Airflow => AtFittingTap * Giving(Tap - FittingTap, Filter, Ducts, Yielding);

    /// <summary>Airflow over that at the fitting tap, designed ducts and a clean filter: 14 % a step of the tap (invented).</summary>
    public static double Giving(int stepsOfTap, int filter, double ducts, double yielding) =>
        Math.Pow(1.14, stepsOfTap) * Math.Pow(ducts, -yielding) * Math.Pow(FilterAir[filter], yielding / 0.35);

    /// <summary>How strongly a motor yields to ducts and filter (invented).</summary>
    public static double YieldingOf(string motor) => motor switch { "psc" => 0.35, "constant_torque" => 0.25, _ => 0.05 };

    /// <summary>The faults as the equipment model takes them.</summary>
    /// <param name="density">Density of the return air over standard air: the model counts mass.</param>
    public Faults Faults(double density) => new(
        AirflowRatio: Math.Clamp(Airflow * density, 0.26, 2.4),
        ChargeRatio: Charge,
        OutdoorAirRatio: Other == OtherFault.CondenserAirflowLow ? 1 - Severity : 1,
        Restriction: Other == OtherFault.LiquidRestriction ? Severity : 0,
        NonCondensables: Other == OtherFault.NonCondensables ? Severity : 0,
        ValveLeak: Other == OtherFault.ValveLeak ? Severity : 0,
        EfficiencyLoss: Other == OtherFault.EfficiencyLoss ? Severity : 0);

    /// <summary>Volume airflow [cfm] of a system of so many tons.</summary>
    public double Cfm(double tons) => Airflow * 400 * tons;

    /// <summary>External static pressure [in. w.c.]: the ducts' and the filter's part of it, each by the square of airflow.</summary>
    public (double Supply, double Return) Static()
    {
        var q = Airflow * Airflow;
        return (0.22 * Ducts * q, (0.13 * Ducts + FilterDrop[Filter]) * q);
    }

    /// <summary>A code of the findings for the other fault, or "none".</summary>
    public string OtherCode => Other switch
    {
        OtherFault.LiquidRestriction => "liquid_restriction",
        OtherFault.CondenserAirflowLow => "condenser_airflow_low",
        OtherFault.NonCondensables => "noncondensables",
        OtherFault.ValveLeak or OtherFault.EfficiencyLoss => "compressor_weak",
        _ => "none",
    };

    /// <summary>Every true cause beyond the simulator's own line, joined by +, or "none".</summary>
    public string Causes
    {
        get
        {
            var causes = string.Join('+', new[]
            {
                Airflow < LowAirflow ? "airflow_low" : Airflow > HighAirflow ? "airflow_high" : "", Charge < LowCharge ? "charge_low" : Charge > HighCharge ? "charge_high" : "",
                Other == OtherFault.None ? "" : OtherCode,
            }.Where(c => c.Length > 0));
            return causes.Length == 0 ? "none" : causes;
        }
    }

    /// <summary>The simulator's own line (invented): airflow outside 300…500 cfm per ton, charge outside ±15 %, or another fault.</summary>
    public bool Faulty => Airflow is < LowAirflow or > HighAirflow || Charge is < LowCharge or > HighCharge || Other != OtherFault.None;

    public SystemState Copy() => (SystemState)MemberwiseClone();
}
