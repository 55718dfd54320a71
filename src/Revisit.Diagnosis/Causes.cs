using Revisit.Physics;

namespace Revisit.Diagnosis;

/// <summary>The causes a reading is weighed against, how often each is met, and which fault of the equipment model stands for it.</summary>
public static class Causes
{
    /// <summary>in_line and the causes, in the order of <see cref="Records.Codes.Finding"/> without cannot_judge.</summary>
    public static readonly IReadOnlyList<string> All = [.. Records.Codes.Finding.Where(f => f != "cannot_judge")];

    public const int InLine = 0, AirflowHigh = 1, AirflowLow = 2, ChargeLow = 3, ChargeHigh = 4, LiquidRestriction = 5, CondenserAirflowLow = 6, NonCondensables = 7, CompressorWeak = 8;

    /// <summary>
    /// How often each is met beyond what the trade lets pass, in the order of <see cref="All"/>. Airflow and charge follow field counts:
    /// of 206 systems about a quarter held 15 % or more too little refrigerant and a fifth clearly too much; of 354 a quarter moved
    /// under about 280 cfm a ton and a tenth over 480 (Winkler et al. 2020, NREL, counted from the distributions kept with the tests);
    /// a little less here, since a reading has one finding. The rates of the rest are judgement.
    /// </summary>
    public static readonly IReadOnlyList<double> BaseRates = [0.38, 0.09, 0.16, 0.16, 0.115, 0.021, 0.04, 0.012, 0.022];

    /// <summary>How often a fault of the model is met: the rate of its cause, shared where two faults stand for one.</summary>
    public static double RateOf(FaultKind kind) => BaseRates[Of(kind)] / (Of(kind) == CompressorWeak ? 2 : 1);

    /// <summary>
    /// Share of a fault's rate between one of its five severities and the next, the first being what the trade lets pass; small faults
    /// are more frequent than large ones (judgement).
    /// </summary>
    public static readonly IReadOnlyList<double> SeverityShare = [0, 0.4, 0.3, 0.2, 0.1];

    /// <summary>The cause a fault of the model stands for.</summary>
    public static int Of(FaultKind kind) => kind switch
    {
        FaultKind.AirflowHigh => AirflowHigh,
        FaultKind.AirflowLow => AirflowLow,
        FaultKind.ChargeLow => ChargeLow,
        FaultKind.ChargeHigh => ChargeHigh,
        FaultKind.LiquidRestriction => LiquidRestriction,
        FaultKind.CondenserAirflowLow => CondenserAirflowLow,
        FaultKind.NonCondensables => NonCondensables,
        _ => CompressorWeak,
    };
}
