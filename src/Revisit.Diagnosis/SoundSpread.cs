namespace Revisit.Diagnosis;

/// <summary>
/// How far sound systems lie around what the equipment model expects: unit to unit, setting to setting, and the model's own error
/// against published results. Judgement, guided by the agreement the physics tests print and tuned on perturbed models until stated
/// probabilities come true (see the score report); change the numbers here and nowhere else, then raise the version of <see cref="DiagnosisStage"/>.
/// </summary>
public static class SoundSpread
{
    /// <summary>Standard deviations in the order of <see cref="Residual"/> [°F difference; airflow as a share].</summary>
    public static void Of(in ReadingInputs x, Span<double> sds)
    {
        var mildOrifice = x.HasOrifice && x.OutdoorDb < 75;
        sds[(int)Residual.Split] = 0.7;
        sds[(int)Residual.Evaporating] = mildOrifice ? 3.0 : 1.1;
        // The linear rule for an orifice parts from the model and from published tables by up to 23 °F in mild weather.
        sds[(int)Residual.Superheat] = x.HasValve ? double.IsNaN(x.TargetSuperheat) ? 1.8 : 1.5 : mildOrifice ? 9.0 : 4.0;
        sds[(int)Residual.Subcooling] = x.HasOrifice ? 3.0 : double.IsNaN(x.TargetSubcooling) ? 3.5 : 1.4;
        sds[(int)Residual.CondensingOverOutdoor] = double.IsNaN(x.RatedEer) ? 3.0 : 1.7;
        sds[(int)Residual.LiquidOverOutdoor] = double.IsNaN(x.RatedEer) ? 3.5 : 2.5;
        sds[(int)Residual.AirflowShare] = 0.05;
        sds[(int)Residual.DischargeLine] = 12;
    }
}
