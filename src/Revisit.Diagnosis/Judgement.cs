namespace Revisit.Diagnosis;

/// <summary>What one reading was found to be.</summary>
public sealed class Judgement
{
    /// <summary>A code of <see cref="Records.Codes.Finding"/>.</summary>
    public string Finding { get; internal set; } = "cannot_judge";

    /// <summary>Probability of the finding; NaN where it cannot be judged.</summary>
    public double Probability { get; internal set; } = double.NaN;

    /// <summary>How far off, as a share; NaN where it cannot be judged.</summary>
    public double Severity { get; internal set; } = double.NaN;

    /// <summary>
    /// Probabilities in the order of <see cref="Causes.All"/>, millionths that sum to one million; all NaN where the
    /// reading did not pass the usability gates.
    /// </summary>
    public double[] Probabilities { get; } = new double[Causes.All.Count];

    /// <summary>With an airflow finding: charge_low or charge_high where charge is likely to be off as well; else null.</summary>
    public string? ChargeBeside { get; internal set; }

    /// <summary>What speaks for and against, in plain words; null where the gates already said no and the filter says nothing.</summary>
    public string? Reasons { get; internal set; }

    /// <summary>Why it cannot be judged and what to measure next time; null where it was judged.</summary>
    public string? CannotJudgeBecause { get; internal set; }

    /// <summary>Cooling capacity lost [%]; NaN where not quantified.</summary>
    public double CapacityLossPct { get; internal set; } = double.NaN;

    /// <summary>Extra energy for the same cooling [%]; NaN where not quantified.</summary>
    public double ExtraEnergyPct { get; internal set; } = double.NaN;

    /// <summary>Whether the reading passed the usability gates, so that its probabilities mean something.</summary>
    public bool Usable => !double.IsNaN(Probabilities[0]);

    internal void Clear()
    {
        (Finding, Probability, Severity) = ("cannot_judge", double.NaN, double.NaN);
        ChargeBeside = null;
        (Reasons, CannotJudgeBecause, CapacityLossPct, ExtraEnergyPct) = (null, null, double.NaN, double.NaN);
        Array.Fill(Probabilities, double.NaN);
    }
}
