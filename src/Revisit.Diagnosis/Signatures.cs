namespace Revisit.Diagnosis;

/// <summary>
/// Signatures of the causes, from a trial of a compact equipment model at 80/67 °F indoors (three figures, 12 EER): full changes
/// where the trial gives them, its slopes times the severity where it gives slopes. Rows marked "scaled" stretch a row of the trial,
/// rows marked "between rows" lie halfway between two; both are judgement. A signature moves linearly between 82 and 95 °F outdoors and stays put outside.
/// Energy: airflow and charge from the trial's agreement with published correlations (1.037 at 75 % air, 1.07 to 1.11 at 50 %;
/// power over capacity for charge); condenser air from 1.068 and 1.24 to 1.28 at 75 and 50 %. Overcharge has no energy or capacity
/// cost here: published sources disagree. Fixed-orifice undercharge beyond 15 % is direction only.
/// </summary>
public static class Signatures
{
    /// <summary>The causes and in_line, in the order of <see cref="Records.Codes.Finding"/> without cannot_judge.</summary>
    public static readonly IReadOnlyList<string> Causes = [.. Records.Codes.Finding.Where(f => f != "cannot_judge")];

    /// <summary>
    /// How often each is met on service visits, in the order of <see cref="Causes"/>: rough, from memory, no source. About half of
    /// systems in line; charge and airflow faults each about a fifth; the rest rare.
    /// </summary>
    public static readonly IReadOnlyList<double> BaseRates = [0.45, 0.09, 0.11, 0.12, 0.08, 0.03, 0.06, 0.02, 0.04];

    private const double No = double.NaN;

    /// <summary>Signatures with a TXV or EEV; the first is in_line.</summary>
    public static readonly IReadOnlyList<Signature> Valve =
    [
        InLine,
        Row("charge_low", 0.1, [-0.6, -0.1, 6.6, -8.1, -0.8, 7.3, 0], [-0.5, 0.7, 1.5, -9.6, -0.7, 8.9, 0], -0.044, -0.043, 0.035),
        Row("charge_low", 0.15, [-1.7, -2.3, 14.3, -9.1, -1.6, 7.5, 0], [-1.2, -0.5, 8.3, -9.8, -1.2, 8.6, 0], -0.092, -0.076, 0.067), // between rows
        Row("charge_low", 0.2, [-2.8, -4.4, 21.9, -10, -2.3, 7.7, 0], [-1.8, -1.6, 15.0, -10, -1.7, 8.3, 0], -0.139, -0.109, 0.10),
        Row("charge_low", 0.3, [-6.0, -10, 32, -10, -4.0, 7.0, 0], [-4.0, -6.0, 27, -10, -3.0, 7.5, 0], -0.24, -0.205, 0.21), // scaled
        Slope("charge_high", 0.1, [0.3, -0.4, -0.8, 6.4, 0.9, -5.5, 0], [0.3, -0.5, -0.8, 6.8, 1.0, -5.8, 0], No, No),
        Slope("charge_high", 0.2, [0.3, -0.4, -0.8, 6.4, 0.9, -5.5, 0], [0.3, -0.5, -0.8, 6.8, 1.0, -5.8, 0], No, No),
        Slope("charge_high", 0.3, [0.3, -0.4, -0.8, 6.4, 0.9, -5.5, 0], [0.3, -0.5, -0.8, 6.8, 1.0, -5.8, 0], No, No),
        Row("airflow_low", 0.15, [2.0, -1.4, -0.2, 0, -0.3, -0.4, -0.15], [1.8, -1.2, -0.2, 0, -0.3, -0.3, -0.15], -0.025, -0.024, 0.02),
        Row("airflow_low", 0.3, [4.1, -3.0, -0.3, 0, -0.6, -0.9, -0.3], [3.8, -2.7, -0.3, 0, -0.6, -0.6, -0.3], -0.057, -0.056, 0.045),
        Row("airflow_low", 0.45, [6.4, -5.2, -0.5, 0, -0.9, -1.3, -0.45], [5.9, -4.6, -0.5, 0, -0.9, -0.9, -0.45], -0.105, -0.10, 0.085), // scaled
        Row("airflow_high", 0.25, [-2.6, 1.7, 0.2, -0.1, 0.4, 0.5, 0.25], [-2.4, 1.6, 0.2, -0.1, 0.4, 0.5, 0.25], 0.030, 0.028, No),
        Row("airflow_high", 0.5, [-4.7, 3.0, 0.4, -0.2, 0.7, 0.9, 0.5], [-4.3, 2.9, 0.4, -0.2, 0.7, 0.9, 0.5], 0.05, 0.05, No), // scaled
        Row("airflow_high", 0.75, [-6.3, 4.0, 0.5, -0.3, 1.0, 1.2, 0.75], [-5.9, 3.8, 0.5, -0.3, 1.0, 1.2, 0.75], 0.07, 0.07, No), // scaled
        Row("liquid_restriction", 0.2, [-0.8, -2.4, 10.5, 1.1, -0.5, -1.6, 0], [-0.4, -1.2, 6.9, 0.8, -0.2, -1.0, 0], -0.038, -0.018, No), // scaled
        Row("liquid_restriction", 0.3, [-1.7, -4.8, 21.0, 2.3, -1.0, -3.2, 0], [-0.7, -2.4, 13.8, 1.5, -0.4, -1.9, 0], -0.077, -0.035, No),
        Row("liquid_restriction", 0.5, [-4.3, -12, 36, 3.9, -2.0, -5.4, 0], [-2.2, -7.5, 28, 3.0, -1.2, -4.0, 0], -0.19, -0.12, No), // scaled
        Row("condenser_airflow_low", 0.25, [-0.3, 0.4, -0.3, 0.8, 5.2, 4.2, 0], [-0.3, 0.4, -0.2, 0.7, 5.1, 4.3, 0], -0.018, -0.022, 0.068),
        Row("condenser_airflow_low", 0.5, [-0.7, 1.3, -0.7, 1.9, 13.3, 11.4, 0], [-0.7, 1.4, -0.5, 1.4, 13.0, 11.7, 0], -0.054, -0.065, 0.26),
        Slope("noncondensables", 0.4, [0, 0, -0.1, 1.3, 1.4, 0.1, 0], [0, 0, -0.1, 1.1, 1.2, 0.1, 0], -0.001, -0.001),
        Slope("noncondensables", 0.8, [0, 0, -0.1, 1.3, 1.4, 0.1, 0], [0, 0, -0.1, 1.1, 1.2, 0.1, 0], -0.001, -0.001),
        Slope("compressor_weak", 0.2, [-0.9, 1.3, -0.3, -0.4, -1.2, -0.8, 0], [-0.8, 1.2, -0.3, -0.3, -1.2, -0.9, 0], -0.070, -0.071),
        Slope("compressor_weak", 0.4, [-0.9, 1.3, -0.3, -0.4, -1.2, -0.8, 0], [-0.8, 1.2, -0.3, -0.3, -1.2, -0.9, 0], -0.070, -0.071),
        Slope("compressor_weak", 0.6, [-0.9, 1.3, -0.3, -0.4, -1.2, -0.8, 0], [-0.8, 1.2, -0.3, -0.3, -1.2, -0.9, 0], -0.070, -0.071),
    ];

    /// <summary>Signatures with a fixed orifice; the first is in_line.</summary>
    public static readonly IReadOnlyList<Signature> Orifice =
    [
        InLine,
        Slope("charge_low", 0.1, [-0.7, -1.3, 9.7, -4.5, -1.6, 2.9, 0], [-0.2, -0.6, 12.6, -4.8, -1.5, 3.3, 0], -0.040, -0.032, 0.035),
        Row("charge_low", 0.15, [-3.0, -6.5, 16.8, -5.6, -3.0, 2.6, 0], [-2.9, -6.3, 22.0, -5.4, -3.0, 2.5, 0], -0.134, -0.137, 0.13), // between rows
        Row("charge_low", 0.2, [-5.4, -11.6, 23.9, -6.7, -4.4, 2.3, 0], [-5.6, -12.0, 31.5, -6.0, -4.4, 1.6, 0], -0.228, -0.241, 0.23),
        Slope("charge_high", 0.1, [0.5, 1.1, -10.1, 4.3, 1.7, -2.7, 0], [0, 0.4, -12.5, 4.7, 1.6, -3.1, 0], No, No),
        Slope("charge_high", 0.2, [0.5, 1.1, -10.1, 4.3, 1.7, -2.7, 0], [0, 0.4, -12.5, 4.7, 1.6, -3.1, 0], No, No),
        Row("airflow_low", 0.15, [2.1, -0.8, -2.9, -0.1, -0.1, 0, -0.15], [1.8, -0.9, -3.7, -0.1, -0.3, -0.1, -0.15], -0.023, -0.022, 0.02),
        Row("airflow_low", 0.3, [4.4, -1.7, -5.7, -0.3, -0.3, 0, -0.3], [3.8, -2.0, -7.5, -0.3, -0.6, -0.3, -0.3], -0.052, -0.054, 0.045),
        Row("airflow_low", 0.45, [6.8, -3.0, -8.6, -0.5, -0.5, 0, -0.45], [5.9, -3.4, -11.0, -0.5, -0.9, -0.5, -0.45], -0.10, -0.11, 0.09), // scaled
        Row("airflow_high", 0.25, [-3.0, 0.8, 3.1, 0.2, 0.3, 0, 0.25], [-2.6, 1.1, 4.4, 0.2, 0.3, 0.2, 0.25], 0.015, 0.021, No),
        Row("airflow_high", 0.5, [-5.3, 1.4, 5.6, 0.4, 0.5, 0, 0.5], [-4.7, 2.0, 7.9, 0.4, 0.5, 0.4, 0.5], 0.027, 0.038, No), // scaled
        Row("airflow_high", 0.75, [-7.0, 2.0, 7.5, 0.5, 0.7, 0, 0.75], [-6.3, 2.7, 10.5, 0.5, 0.7, 0.5, 0.75], 0.035, 0.05, No), // scaled
        Row("liquid_restriction", 0.2, [-1.8, -4.8, 12.5, 1.1, -1.0, -2.0, 0], [-1.4, -4.2, 16.0, 1.2, -0.8, -2.0, 0], -0.07, -0.06, No), // scaled
        Row("liquid_restriction", 0.3, [-3.3, -8.0, 19.5, 1.7, -1.7, -3.3, 0], [-2.6, -6.9, 25.0, 1.9, -1.3, -3.2, 0], -0.129, -0.107, No),
        Row("liquid_restriction", 0.4, [-4.8, -11.2, 26.5, 2.3, -2.4, -4.6, 0], [-3.8, -9.6, 34.0, 2.6, -1.8, -4.4, 0], -0.19, -0.16, No), // scaled
        Row("condenser_airflow_low", 0.25, [-0.2, 0.8, -3.6, 0.2, 5.1, 5.1, 0], [-0.3, 0.6, -3.2, 0, 5.0, 5.0, 0], -0.015, -0.022, 0.068),
        Row("condenser_airflow_low", 0.5, [-0.6, 2.5, -11.6, 0.1, 13.3, 13.3, 0], [-1.0, 2.0, -9.4, -0.2, 12.9, 13.1, 0], -0.044, -0.069, 0.26),
        Slope("noncondensables", 0.4, [0.1, 0.3, -1.7, 1.2, 1.4, 0.2, 0], [0, 0.1, -1.7, 1.0, 1.2, 0.2, 0], 0.003, 0.000),
        Slope("noncondensables", 0.8, [0.1, 0.3, -1.7, 1.2, 1.4, 0.2, 0], [0, 0.1, -1.7, 1.0, 1.2, 0.2, 0], 0.003, 0.000),
        Slope("compressor_weak", 0.15, [-0.5, 2.7, -10.6, -0.8, -1.0, -0.1, 0], [-0.9, 1.9, -12.8, -0.7, -1.1, -0.4, 0], -0.046, -0.059),
        Slope("compressor_weak", 0.3, [-0.5, 2.7, -10.6, -0.8, -1.0, -0.1, 0], [-0.9, 1.9, -12.8, -0.7, -1.1, -0.4, 0], -0.046, -0.059),
    ];

    private static Signature InLine => new(0, 0, new double[7], new double[7], 0, 0, 0);

    private static Signature Row(string cause, double severity, double[] at82, double[] at95, double capacity82, double capacity95, double energy) =>
        new(Index(cause), severity, at82, at95, capacity82, capacity95, energy);

    /// <summary>A slope for 0.1 of severity, and its change of capacity, times the severity.</summary>
    private static Signature Slope(string cause, double severity, double[] at82, double[] at95, double capacity82, double capacity95, double energy = No)
    {
        var by = severity / 0.1;
        return new(Index(cause), severity, [.. at82.Select(v => v * by)], [.. at95.Select(v => v * by)], capacity82 * by, capacity95 * by, energy);
    }

    private static int Index(string cause)
    {
        for (var i = 0; i < Causes.Count; i++)
        {
            if (Causes[i] == cause)
            {
                return i;
            }
        }

        throw new ArgumentException($"'{cause}' is not a cause", nameof(cause));
    }
}
