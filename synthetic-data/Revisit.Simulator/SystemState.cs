namespace Revisit.Simulator;

/// <summary>A fault other than airflow and charge.</summary>
internal enum OtherFault
{
    None,
    LiquidRestriction,
    CondenserAirflowLow,
    NonCondensables,
    CompressorWeak,
}

/// <summary>What is true of a system at a moment; visits change it.</summary>
internal sealed class SystemState
{
    public static readonly string[] Taps = ["low", "medium_low", "medium", "medium_high", "high"];
    public static readonly string[] Filters = ["clean", "fair", "loaded", "missing"];
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

    /// <summary>Its severity: loss of outdoor airflow, leak share, restriction and non-condensables as the signatures count them.</summary>
    public double Severity { get; set; }

    /// <summary>Volume airflow over 400 cfm per ton, now.</summary>
    public double Airflow => AirflowAt(Tap, Filter, Ducts);

    /// <summary>The airflow another tap, filter or duct would give.</summary>
    public double AirflowAt(int tap, int filter, double ducts) =>
        AtFittingTap * Math.Pow(1.14, tap - FittingTap) * Math.Pow(ducts, -Yielding) * Math.Pow(FilterAir[filter], Yielding / 0.35);

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
        OtherFault.CompressorWeak => "compressor_weak",
        _ => "none",
    };

    /// <summary>Airflow outside ±15 %, charge outside ±10 %, or another fault: the simulator's own line, invented.</summary>
    public bool Faulty => AirflowFaulty || ChargeFaulty || Other != OtherFault.None;

    public bool AirflowFaulty => Airflow is < 0.85 or > 1.15;

    public bool ChargeFaulty => Charge is < 0.90 or > 1.10;

    public SystemState Copy() => (SystemState)MemberwiseClone();
}
