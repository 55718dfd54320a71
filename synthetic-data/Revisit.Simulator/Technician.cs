using System.Globalization;

namespace Revisit.Simulator;

/// <summary>One correction as a row tells it.</summary>
internal sealed record Correction(string Code, string? From, string? To, double ChargeOz);

/// <summary>The service technician who goes back: sees imperfectly, corrects imperfectly, air before charge.</summary>
internal static class Technician
{
    /// <summary>Technicians of a crew.</summary>
    public const int PerCrew = 3;

    /// <summary>Corrects filter, blower tap, ducts and outdoor coil; the state changes.</summary>
    public static List<Correction> CorrectAir(Rng rng, SystemState state, double skill)
    {
        List<Correction> done = [];
        if (state.Filter >= 2 && rng.Chance(0.92))
        {
            done.Add(new("filter", SystemState.Filters[state.Filter], "clean", double.NaN));
            state.Filter = 0;
        }

        if (state.Other == OtherFault.CondenserAirflowLow && rng.Chance(skill))
        {
            done.Add(new("coil_clean", null, null, double.NaN));
            state.Severity *= rng.Between(0, 0.3);
            if (state.Severity < 0.08)
                (state.Other, state.Severity) = (OtherFault.None, 0);
        }

        var seen = state.Airflow + rng.Normal(0, 0.10 - 0.06 * skill);
        if (seen > 1.18 && state.Tap > 0 && rng.Chance(skill))
            Move(state, done, Math.Max(0, state.Tap - (seen > 1.36 ? 2 : 1)));
        else if (seen < 0.82 && state.Ducts > 1.35 && rng.Chance(0.4 * skill))
        {
            done.Add(new("duct", null, null, double.NaN));
            state.Ducts *= rng.Between(0.6, 0.85);
        }
        else if (seen < 0.82 && state.Tap < SystemState.Taps.Length - 1 && rng.Chance(skill))
            Move(state, done, state.Tap + 1);
        return done;
    }

    /// <summary>Corrects charge, and opens the circuit where a restriction or non-condensables are suspected; the state changes.</summary>
    public static List<Correction> CorrectCircuit(Rng rng, Install install, SystemState state, double skill, double outdoorF)
    {
        List<Correction> done = [];
        if (outdoorF < 55 && !rng.Chance(0.12))
            return done; // too cold to judge charge by gauges

        if (state.Other is OtherFault.LiquidRestriction or OtherFault.NonCondensables && rng.Chance(0.55 * skill))
        {
            done.Add(new(state.Other == OtherFault.LiquidRestriction ? "metering" : "other", null, null, double.NaN));
            (state.Other, state.Severity) = (OtherFault.None, 0);
            state.Charge = rng.Normal(1, 0.02);
            return done;
        }

        var seen = state.Charge + rng.Normal(0, 0.06 - 0.03 * skill);
        if (seen is > 0.90 and < 1.10 || !rng.Chance(skill))
            return done;
        var wanted = 1 - seen + rng.Normal(0, 0.035 - 0.02 * skill);
        var oz = Math.Round(Math.Clamp(wanted, -0.3, 0.35) * install.ChargeOz);
        if (oz == 0)
            return done;
        state.Charge = Math.Clamp(state.Charge + oz / install.ChargeOz, 0.55, 1.45);
        done.Add(new(oz > 0 ? "charge_added" : "charge_removed", null, null, oz));
        return done;
    }

    /// <summary>Writes corrections into the row of the reading that follows them.</summary>
    public static void Note(SimulatedReading reading, IReadOnlyList<Correction> done)
    {
        if (done.Count == 0)
            return;
        reading.Correction = string.Join('+', done.Select(c => c.Code));
        var setting = done.FirstOrDefault(c => c.Code == "blower_tap") ?? done.FirstOrDefault(c => c.From is not null);
        reading.CorrectionFrom = setting?.From;
        reading.CorrectionTo = setting?.To;
        reading.ChargeChangeOz = done.Where(c => !double.IsNaN(c.ChargeOz)).Select(c => c.ChargeOz).DefaultIfEmpty(double.NaN).First();
    }

    /// <summary>A crew's technician, by number.</summary>
    public static string Id(string crew, int number) => string.Create(CultureInfo.InvariantCulture, $"{crew}-{number}");

    private static void Move(SystemState state, List<Correction> done, int tap)
    {
        done.Add(new("blower_tap", SystemState.Taps[state.Tap], SystemState.Taps[tap], double.NaN));
        state.Tap = tap;
    }
}
