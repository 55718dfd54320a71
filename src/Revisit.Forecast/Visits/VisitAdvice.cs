using Revisit.Records;

namespace Revisit.Forecast.Visits;

/// <summary>
/// Words for the technician who goes: what to expect, what to check first, what can hurt. Order of checks and cautions are common practice,
/// no source; maker's instructions and local codes come first. Items are separated by "; ".
/// </summary>
public static class VisitAdvice
{
    private const double WorthNaming = 0.15; // chance from which a correction is named; assumption

    /// <summary>The correction to expect.</summary>
    public static string LikelyCorrection(InstallFeatures install, double airflow, double charge)
    {
        var parts = new List<string>();
        if (airflow >= WorthNaming)
        {
            parts.Add(DirectionOf(install["p_airflow_high"], install["p_airflow_low"]) switch
            {
                > 0 => "airflow: too much air, blower tap down",
                < 0 => "airflow: too little air, filter, ducts or blower tap",
                _ => "airflow: the start-up reading does not say which way, measure first",
            });
        }

        if (charge >= WorthNaming)
        {
            parts.Add(DirectionOf(install["p_charge_low"], install["p_charge_high"]) switch
            {
                > 0 => "charge: likely low",
                < 0 => "charge: likely high",
                _ => "charge: the start-up reading does not say which way, measure first",
            });
        }

        return parts.Count == 0 ? "none stands out; read the system again" : string.Join("; then ", parts);
    }

    /// <summary>First checks in order: airflow before charge.</summary>
    /// <param name="install">The install.</param>
    /// <param name="charge">Chance of a charge correction.</param>
    /// <param name="tooCold">Whether the month is too cold to check charge by gauges.</param>
    public static string FirstChecks(InstallFeatures install, double charge, bool tooCold)
    {
        var checks = new List<string>
        {
            "filter: in place and clean",
            install.BlowerTap is { } tap ? $"blower tap: written as {tap}, compare with the airflow the size needs" : "blower tap: not written at start-up, note it",
            "static pressure across the air handler",
            "after any airflow change let it run 10 to 15 minutes, then read again",
        };
        if (tooCold)
        {
            checks.Add("charge by gauges waits for 55 °F or more outdoors");
        }
        else if (charge >= WorthNaming)
        {
            checks.Add(install.Category("metering") == "fixed_orifice"
                ? "charge last, by superheat against the target for the wet bulb and outdoor temperature"
                : "charge last, by subcooling against the unit's own target");
        }

        return string.Join("; ", checks);
    }

    /// <summary>What to bring for the correction to expect (common practice, no source).</summary>
    public static string Bring(InstallFeatures install, double airflow, double charge)
    {
        var things = new List<string> { "thermometers for dry and wet bulb", "static pressure probes", "meter and lockout for the blower wiring" };
        if (airflow >= WorthNaming)
        {
            things.Add("a filter of the size written on the old one");
            things.Add("the maker's blower table");
        }

        if (charge >= WorthNaming)
        {
            var refrigerant = install.Category("refrigerant");
            things.Add(refrigerant is null ? "gauges; refrigerant only once the nameplate is read" : $"gauges, scale and {refrigerant}");
            things.Add("recovery machine and cylinder");
        }

        return string.Join("; ", things);
    }

    /// <summary>Cautions that apply here.</summary>
    public static string Cautions(InstallFeatures install, double airflow, double charge)
    {
        var cautions = new List<string> { Caution.PowerOff, Caution.Capacitors };
        if (install.Category("duct_location") is "attic" or null)
        {
            // Where the place is not written down it may be an attic.
            cautions.Add(Caution.Attic);
        }

        if (charge >= WorthNaming)
        {
            cautions.Add(Caution.Refrigerant);
        }

        if (Caution.Of(install.Category("refrigerant")) is { } flammable)
        {
            cautions.Add(flammable);
        }

        if (airflow >= WorthNaming && DirectionOf(install["p_airflow_high"], install["p_airflow_low"]) >= 0)
        {
            cautions.Add(Caution.Freezing);
        }

        cautions.Add(Caution.MakerFirst);
        cautions.Add(Caution.Licensed);
        return string.Join("; ", cautions);
    }

    /// <summary>1 when the first cause leads clearly, −1 when the second does, 0 when neither does; the margin is an assumption.</summary>
    private static int DirectionOf(double first, double second) => Math.Abs(first - second) < 0.05 ? 0 : Math.Sign(first - second);
}
