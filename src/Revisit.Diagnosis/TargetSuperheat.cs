namespace Revisit.Diagnosis;

/// <summary>
/// The superheat a sound system should show. Fixed orifice: (3·return wet bulb − 80 − outdoor dry bulb)/2 in °F, the linear rule
/// of the trade (common practice, no source), about 55–115 °F outdoors and 50–76 °F wet bulb; below 5 °F it says that charge cannot
/// be set by superheat in these conditions. TXV/EEV: the unit's own target, else 10 °F at the service port (common practice, no source).
/// </summary>
public static class TargetSuperheat
{
    /// <summary>Below this result the rule gives no target [°F difference].</summary>
    public const double LeastF = 5.0;

    private const double ValveDefaultF = 10.0;
    private const double ValveDefaultSdF = 4.0;
    private const double ValveOwnSdF = 2.5;
    private const double RuleSdF = 2.5;

    // A trial of the equipment model parted from the rule by up to 23 °F below 75 °F outdoors: its advice is at least 9 °F there.
    private const double RuleMildSdF = 9.0;
    private const double MildBelowF = 75.0;

    /// <summary>The target, with its uncertainty or the reason why there is none.</summary>
    /// <param name="x">The reading.</param>
    /// <param name="wetBulb">Return wet bulb [°F] used, measured or computed.</param>
    public static Metric Of(in ReadingInputs x, in Metric wetBulb)
    {
        if (x.HasValve)
        {
            return double.IsNaN(x.TargetSuperheat) ? new(ValveDefaultF, ValveDefaultSdF, null) : new(x.TargetSuperheat, ValveOwnSdF, null);
        }

        if (!x.HasOrifice)
        {
            return Metric.Because("metering missing");
        }

        if (!wetBulb.Has)
        {
            return Metric.Because(wetBulb.Missing!);
        }

        if (double.IsNaN(x.OutdoorDb))
        {
            return Metric.Because("outdoor_db_f missing");
        }

        if (x.OutdoorDb is < 55 or > 115)
        {
            return Metric.Because("outdoor outside 55 to 115 °F, where the fixed-orifice target holds");
        }

        if (wetBulb.Value is < 50 or > 76)
        {
            return Metric.Because("return wet bulb outside 50 to 76 °F, where the fixed-orifice target holds");
        }

        var target = (3 * wetBulb.Value - 80 - x.OutdoorDb) / 2;
        if (target < LeastF)
        {
            return Metric.Because("these conditions give a fixed-orifice target below 5 °F: charge cannot be set by superheat now");
        }

        var rule = x.OutdoorDb < MildBelowF ? RuleMildSdF : RuleSdF;
        return new(target, Spread.Root(rule, 1.5 * wetBulb.Sd, 0.5 * InstrumentAccuracy.ThermometerSdF), null);
    }
}
