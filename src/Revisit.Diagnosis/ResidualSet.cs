namespace Revisit.Diagnosis;

/// <summary>
/// Measured − expected with its combined standard uncertainty (instruments and the spread of sound systems), and the floor under it:
/// subcooling and superheat cannot fall by more than was there. Missing ones are NaN and drop out of every sum.
/// </summary>
public sealed class ResidualSet
{
    /// <summary>Number of residuals.</summary>
    public const int Count = 7;

    private readonly double[] values = new double[Count];
    private readonly double[] sds = new double[Count];
    private readonly double[] floors = new double[Count];

    // Sound valve systems hold their own subcooling target within about this; without a target of the unit it is wider (judgement).
    private const double SubcoolingSpreadF = 2.5;
    private const double SubcoolingDefaultSpreadF = 4.0;
    private const double ValveSubcoolingF = 10.0;
    private const double OrificeSubcoolingF = 6.3;

    // Crews set airflow on taps: sound systems lie this share around the design.
    private const double AirflowSpread = 0.12;

    public double Value(Residual r) => values[(int)r];

    public double Sd(Residual r) => sds[(int)r];

    public bool Has(Residual r) => !double.IsNaN(values[(int)r]);

    internal ReadOnlySpan<double> Values => values;

    internal ReadOnlySpan<double> Sds => sds;

    internal ReadOnlySpan<double> Floors => floors;

    /// <summary>Fills it from a reading and its metrics.</summary>
    /// <param name="x">The reading.</param>
    /// <param name="m">Its metrics.</param>
    /// <param name="doubt">Factor on the spread of sound systems, above 1 where the reading is less certain to be steady.</param>
    public void Fill(in ReadingInputs x, MetricSet m, double doubt)
    {
        Array.Fill(values, double.NaN);
        Array.Fill(sds, double.NaN);
        Array.Fill(floors, double.NegativeInfinity);
        var wetBulb = m[MetricId.ReturnWetBulb];
        Put(Residual.Split, m[MetricId.SplitError].Value, m[MetricId.SplitError].Sd, 0.8 * (doubt - 1) * ExpectedValues.SplitSpreadF);
        if (wetBulb.Has && !double.IsNaN(x.OutdoorDb))
        {
            var dew = m[MetricId.Evaporating];
            Put(Residual.Evaporating, dew.Value - ExpectedValues.Evaporating(x.HasOrifice, x.OutdoorDb, wetBulb.Value),
                Spread.Root(dew.Sd, 0.65 * wetBulb.Sd), doubt * ExpectedValues.EvaporatingSpreadF);
            var over = m[MetricId.CondensingOverOutdoor];
            var spread = doubt * ExpectedValues.CondensingSpreadF * (double.IsNaN(x.RatedEer) ? 1.5 : 1);
            var expected = ExpectedValues.CondensingOverOutdoor(x.RatedEer, wetBulb.Value);
            Put(Residual.CondensingOverOutdoor, over.Value - expected, over.Sd, spread);

            // Liquid over outdoor is condensing over outdoor less subcooling: it says nothing new where both of those are known.
            if (!over.Has)
            {
                var subcooling = x.HasOrifice ? OrificeSubcoolingF : double.IsNaN(x.TargetSubcooling) ? ValveSubcoolingF : x.TargetSubcooling;
                var liquid = m[MetricId.LiquidOverOutdoor];
                Put(Residual.LiquidOverOutdoor, liquid.Value - (expected - subcooling), liquid.Sd, Spread.Root(spread, SubcoolingSpreadF));
            }
        }

        var superheat = m[MetricId.SuperheatError];
        Put(Residual.Superheat, superheat.Value, superheat.Sd, (doubt - 1) * 4);
        floors[(int)Residual.Superheat] = -m[MetricId.TargetSuperheat].Value;
        FillSubcooling(x, m[MetricId.Subcooling], doubt);
        FillAirflow(x, doubt);
    }

    private void FillSubcooling(in ReadingInputs x, in Metric subcooling, double doubt)
    {
        var own = x.HasValve && !double.IsNaN(x.TargetSubcooling);
        var expected = own ? x.TargetSubcooling : x.HasValve ? ValveSubcoolingF : OrificeSubcoolingF;
        Put(Residual.Subcooling, subcooling.Value - expected, subcooling.Sd, doubt * (own ? SubcoolingSpreadF : SubcoolingDefaultSpreadF));
        floors[(int)Residual.Subcooling] = -expected;
    }

    private void FillAirflow(in ReadingInputs x, double doubt)
    {
        var design = !double.IsNaN(x.DesignAirflow) ? x.DesignAirflow : ExpectedValues.AirflowPerTon * x.NominalTons;
        var share = x.Airflow / design;
        Put(Residual.AirflowShare, share - 1, share * InstrumentAccuracy.AirflowSdShare(x.AirflowMethod), doubt * AirflowSpread);
    }

    private void Put(Residual r, double value, double sd, double spread)
    {
        if (double.IsFinite(value))
        {
            values[(int)r] = value;
            sds[(int)r] = Spread.Root(sd, spread);
        }
    }
}
