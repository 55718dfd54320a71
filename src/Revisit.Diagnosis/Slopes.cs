using Revisit.Physics;

namespace Revisit.Diagnosis;

/// <summary>
/// How the residuals of a sound system move when a measured condition is off by 1 °F, in the order of <see cref="Residual"/>:
/// the expected values move with the condition, and some residuals hold the condition itself.
/// </summary>
/// <param name="Outdoor">By outdoor dry bulb.</param>
/// <param name="ReturnDry">By return dry bulb, wet bulb unchanged.</param>
/// <param name="ReturnWet">By return wet bulb.</param>
public sealed record Slopes(double[] Outdoor, double[] ReturnDry, double[] ReturnWet)
{
    // Where the model has no steady state nearby: a valve system near the rated point, rounded.
    private static readonly Slopes Usual = new([0.1, -0.1, 0, 0, -1, -1, 0, -1.3], [0, 0, 0, 0, 0, 0, 0, 0], [1.2, -0.6, 0, 0, -0.2, -0.2, 0, -0.2]);

    /// <summary>Central differences of the expected values, 1 °F to both sides.</summary>
    internal static Slopes At(ExpectedTable table, double outdoor, double returnDry, double returnWet)
    {
        var dry = Math.Max(returnDry, returnWet + 3);
        var byOutdoor = Change(table, new(outdoor - 1, dry, returnWet), new(outdoor + 1, dry, returnWet));
        var byDry = Change(table, new(outdoor, dry - 1, returnWet), new(outdoor, dry + 1, returnWet));
        var byWet = Change(table, new(outdoor, dry, returnWet - 1), new(outdoor, dry, returnWet + 1));
        if (byOutdoor is null || byDry is null || byWet is null)
        {
            return Usual;
        }

        // The split is return − supply, and two residuals are over the outdoor air: an error of the thermometer is in them too.
        byDry[(int)Residual.Split] += 1;
        byOutdoor[(int)Residual.CondensingOverOutdoor] -= 1;
        byOutdoor[(int)Residual.LiquidOverOutdoor] -= 1;
        return new(byOutdoor, byDry, byWet);
    }

    private static double[]? Change(ExpectedTable table, EquipmentConditions low, EquipmentConditions high)
    {
        var (a, b) = (table.Expected(low, SoundSystem.AirflowPerTon), table.Expected(high, SoundSystem.AirflowPerTon));
        return a.Known && b.Known
            ? [
                (a.TemperatureSplitF - b.TemperatureSplitF) / 2, (a.EvaporatingF - b.EvaporatingF) / 2, (a.SuperheatF - b.SuperheatF) / 2, (a.SubcoolingF - b.SubcoolingF) / 2,
                (a.CondensingOverOutdoorF - b.CondensingOverOutdoorF) / 2, (a.LiquidOverOutdoorF - b.LiquidOverOutdoorF) / 2, 0, (a.DischargeLineF - b.DischargeLineF) / 2,
            ]
            : null;
    }
}
