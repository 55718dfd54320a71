using System.Globalization;

namespace Revisit.Diagnosis;

/// <summary>
/// Whether a reading can be judged at all: 15 minutes of running, 55 °F or more outdoors for a gauge test, 70 °F or more return air,
/// and the values that tell airflow (split, return humidity) and charge (subcooling with a valve, superheat with a fixed orifice).
/// A reading whose running time was not written down is judged, with wider uncertainty: most crews wait, few write it.
/// </summary>
public static class Usability
{
    public const double LeastMinutes = 15;
    public const double LeastOutdoorF = 55;
    public const double LeastReturnF = 70;

    /// <summary>Factor on spreads where the running time is not known.</summary>
    public const double DoubtWithoutMinutes = 1.25;

    /// <summary>Why it cannot be judged and what to measure next time; null when it can.</summary>
    public static string? Complaint(in ReadingInputs x, MetricSet m)
    {
        string? text = null;
        if (x.MinutesRunning < LeastMinutes)
        {
            Add(ref text, string.Create(CultureInfo.InvariantCulture, $"ran only {x.MinutesRunning:0} min: let it run 15 min before reading"));
        }

        if (double.IsNaN(x.OutdoorDb))
        {
            Add(ref text, "outdoor_db_f missing: measure outdoor air at the condenser inlet");
        }
        else if (x.OutdoorDb < LeastOutdoorF)
        {
            Add(ref text, string.Create(CultureInfo.InvariantCulture, $"outdoor {x.OutdoorDb:0.#} °F is below the 55 °F a gauge test needs: read again in warmer weather"));
        }

        if (x.ReturnDb < LeastReturnF)
        {
            Add(ref text, string.Create(CultureInfo.InvariantCulture, $"return air {x.ReturnDb:0.#} °F is below 70 °F: let the house warm up, then read again"));
        }

        if (!m[MetricId.Split].Has)
        {
            Add(ref text, m[MetricId.Split].Missing + ": measure return and supply dry bulb");
        }

        if (!m[MetricId.ReturnWetBulb].Has)
        {
            Add(ref text, m[MetricId.ReturnWetBulb].Missing + ": measure return wet bulb or humidity");
        }

        if (x.HasValve)
        {
            if (!m[MetricId.Subcooling].Has)
            {
                Add(ref text, m[MetricId.Subcooling].Missing + ": charge on a valve is judged by subcooling (liquid pressure and liquid line)");
            }
        }
        else if (x.HasOrifice)
        {
            if (!m[MetricId.Superheat].Has)
            {
                Add(ref text, m[MetricId.Superheat].Missing + ": charge on a fixed orifice is judged by superheat (suction pressure and suction line)");
            }
            else if (!m[MetricId.TargetSuperheat].Has && m[MetricId.ReturnWetBulb].Has && x.OutdoorDb >= LeastOutdoorF)
            {
                Add(ref text, m[MetricId.TargetSuperheat].Missing!);
            }
        }
        else
        {
            Add(ref text, "metering missing: write down whether it is a TXV, an EEV or a fixed orifice");
        }

        return text;
    }

    private static void Add(ref string? text, string more) => text = text is null ? more : text + "; " + more;
}
