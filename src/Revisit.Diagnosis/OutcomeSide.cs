namespace Revisit.Diagnosis;

/// <summary>What the comparison of as found with as left needs to know of one reading.</summary>
public sealed class OutcomeSide
{
    /// <summary>Readings compared, in this order.</summary>
    internal static readonly string[] Names = ["split error", "superheat error", "subcooling", "condensing over outdoor", "evaporating"];

    internal readonly double[] Values = new double[5];
    internal readonly double[] Sds = new double[5];

    public string Finding { get; private set; } = "cannot_judge";

    public string? CannotJudgeBecause { get; private set; }

    public bool Usable { get; private set; }

    public double InLine { get; private set; }

    /// <summary>How far from sound; see <see cref="ResidualSet.Distance"/>.</summary>
    public double Distance { get; private set; }

    public double Split { get; private set; }

    public double Superheat { get; private set; }

    public double Subcooling { get; private set; }

    /// <summary>Keeps what one judged reading says.</summary>
    public static OutcomeSide Of(MetricSet m, Judgement judged, ResidualSet residuals)
    {
        var side = new OutcomeSide
        {
            Finding = judged.Finding,
            CannotJudgeBecause = judged.CannotJudgeBecause,
            Usable = judged.Usable,
            InLine = judged.Probabilities[0],
            Split = m[MetricId.Split].Value,
            Superheat = m[MetricId.Superheat].Value,
            Subcooling = m[MetricId.Subcooling].Value,
        };

        // Instruments only: what makes one sound system differ from another is the same before and after. Weather is taken out by
        // comparing errors (measured − expected) where there is an expected value.
        side.Keep(0, m[MetricId.SplitError].Value, Spread.Root(m[MetricId.Split].Sd, 1.3 * m[MetricId.ReturnWetBulb].Sd));
        side.Keep(1, m[MetricId.SuperheatError].Value, Spread.Root(m[MetricId.Superheat].Sd, 1.0));
        side.Keep(2, m[MetricId.Subcooling].Value, m[MetricId.Subcooling].Sd);
        side.Keep(3, m[MetricId.CondensingOverOutdoor].Value, m[MetricId.CondensingOverOutdoor].Sd);
        side.Keep(4, residuals.Value(Residual.Evaporating), Spread.Root(m[MetricId.Evaporating].Sd, 0.65 * m[MetricId.ReturnWetBulb].Sd));
        side.Distance = residuals.Distance;
        return side;
    }

    private void Keep(int i, double value, double sd) => (Values[i], Sds[i]) = (value, sd);
}
