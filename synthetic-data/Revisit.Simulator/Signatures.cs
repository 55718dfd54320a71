namespace Revisit.Simulator;

/// <summary>What a fault adds to the readings of a sound system: °F, and capacity as a change of ratio.</summary>
internal readonly record struct Shift(double Split, double Evaporating, double Superheat, double Subcooling, double Condensing, double Discharge, double Capacity)
{
    public static Shift operator +(Shift a, Shift b) => new(
        a.Split + b.Split, a.Evaporating + b.Evaporating, a.Superheat + b.Superheat, a.Subcooling + b.Subcooling,
        a.Condensing + b.Condensing, a.Discharge + b.Discharge, a.Capacity + b.Capacity);

    public static Shift operator *(Shift a, double k) => new(
        a.Split * k, a.Evaporating * k, a.Superheat * k, a.Subcooling * k, a.Condensing * k, a.Discharge * k, a.Capacity * k);
}

/// <summary>The shift at one severity, at 82 and at 95 °F outdoors.</summary>
internal readonly record struct Knot(double Severity, Shift At82, Shift At95);

/// <summary>
/// Fault signatures as knots over severity, read off finite steps of a steady-state model of a split system at 80/67 °F indoors.
/// They are a model's, not a measurement; knots marked "extended" continue a table by hand. Airflow carries no split: the coil model gives it.
/// </summary>
internal sealed class Signatures
{
    private readonly Knot[] chargeLow, chargeHigh, airLow, airHigh, condenserAir, restriction, nonCondensable, leak;

    private Signatures(Knot[] chargeLow, Knot[] chargeHigh, Knot[] airLow, Knot[] airHigh, Knot[] condenserAir, Knot[] restriction, Knot[] nonCondensable, Knot[] leak)
    {
        this.chargeLow = chargeLow;
        this.chargeHigh = chargeHigh;
        this.airLow = airLow;
        this.airHigh = airHigh;
        this.condenserAir = condenserAir;
        this.restriction = restriction;
        this.nonCondensable = nonCondensable;
        this.leak = leak;
    }

    /// <summary>With a thermostatic or electronic expansion valve.</summary>
    public static Signatures Valve { get; } = new(
        chargeLow:
        [
            new(0.02, new(-0.06, 0.1, 0.2, -1.4, -0.16, -0.1, -0.005), new(-0.06, 0.1, 0.2, -1.5, -0.18, -0.16, -0.006)),
            new(0.10, new(-0.6, -0.1, 6.6, -8.1, -0.8, 6.3, -0.044), new(-0.5, 0.7, 1.5, -9.6, -0.7, 0.0, -0.043)),
            new(0.20, new(-2.8, -4.4, 21.9, -10.0, -2.3, 24.6, -0.139), new(-1.8, -1.6, 15.0, -10.0, -1.7, 15.7, -0.109)),
            new(0.35, new(-5.6, -9.0, 30.0, -10.5, -4.0, 37.0, -0.26), new(-4.6, -5.0, 26.0, -10.5, -3.2, 29.0, -0.24)), // extended
        ],
        chargeHigh:
        [
            new(0.10, new(0.3, -0.4, -0.8, 6.4, 0.9, 0.8, 0.019), new(0.3, -0.5, -0.8, 6.8, 1.0, 1.0, 0.019)),
            new(0.30, new(0.5, -0.9, -1.6, 16.0, 3.2, 3.0, 0.028), new(0.5, -1.0, -1.6, 17.0, 3.4, 3.4, 0.028)), // extended
        ],
        airLow:
        [
            new(0.10, new(0, -0.9, -0.1, 0.0, -0.2, 0.2, -0.015), new(0, -0.8, -0.1, 0.0, -0.2, 0.2, -0.014)),
            new(0.25, new(0, -2.6, -0.3, 0.0, -0.5, 0.5, -0.046), new(0, -2.4, -0.3, 0.0, -0.5, 0.5, -0.044)),
            new(0.60, new(0, -8.5, -1.0, 0.1, -1.6, 2.5, -0.17), new(0, -8.0, -1.0, 0.1, -1.6, 2.6, -0.17)), // extended
        ],
        airHigh: [new(0.25, new(0, 1.7, 0.2, -0.1, 0.4, -0.3, 0.030), new(0, 1.6, 0.2, -0.1, 0.4, -0.4, 0.028)), new(0.6, new(0, 3.3, 0.4, -0.2, 0.8, -0.7, 0.05), new(0, 3.1, 0.4, -0.2, 0.8, -0.8, 0.05))],
        condenserAir:
        [
            new(0.10, new(-0.1, 0.1, -0.1, 0.3, 1.4, 2.1, -0.005), new(-0.1, 0.1, -0.1, 0.3, 1.4, 2.1, -0.006)),
            new(0.28, new(-0.3, 0.5, -0.3, 0.9, 5.4, 8.0, -0.02), new(-0.3, 0.5, -0.3, 0.8, 5.4, 8.0, -0.025)),
            new(0.50, new(-0.7, 1.3, -0.7, 1.9, 13.3, 19.3, -0.054), new(-0.7, 1.4, -0.5, 1.4, 13.0, 19.3, -0.065)),
        ],
        restriction:
        [
            new(0.10, new(-0.05, -0.1, 0.8, 0.1, 0.0, 1.0, -0.002), new(0, 0, 0.4, 0.1, 0.0, 0.6, -0.001)),
            new(0.30, new(-1.7, -4.8, 21.0, 2.3, -1.0, 26.0, -0.077), new(-0.7, -2.4, 13.8, 1.5, -0.4, 17.2, -0.035)),
            new(0.60, new(-4.5, -11.0, 33.0, 5.0, -2.8, 42.0, -0.20), new(-3.2, -8.0, 29.0, 4.2, -2.0, 36.0, -0.14)), // extended
        ],
        nonCondensable: [new(0.60, new(0.0, 0.0, -0.6, 7.8, 8.4, 6.6, -0.006), new(0.0, 0.0, -0.6, 6.6, 7.2, 6.0, -0.006))],
        leak: [new(0.30, new(-2.7, 3.9, -0.9, -1.2, -3.6, 1.2, -0.21), new(-2.4, 3.6, -0.9, -0.9, -3.6, 3.0, -0.21))]);

    /// <summary>With a fixed orifice.</summary>
    public static Signatures Orifice { get; } = new(
        chargeLow:
        [
            new(0.10, new(-1.4, -2.6, 12.0, -4.5, -1.7, 12.0, -0.06), new(-1.0, -2.2, 15.0, -4.3, -1.7, 16.0, -0.06)),
            new(0.20, new(-5.4, -11.6, 23.9, -6.7, -4.4, 28.9, -0.228), new(-5.6, -12.0, 31.5, -6.0, -4.4, 38.7, -0.241)),
            new(0.35, new(-9.0, -19.0, 30.0, -6.7, -7.0, 38.0, -0.42), new(-9.0, -19.0, 38.0, -6.0, -7.0, 50.0, -0.42)), // extended
        ],
        chargeHigh:
        [
            new(0.10, new(0.5, 1.1, -10.1, 4.3, 1.7, -9.4, 0.02), new(0.0, 0.4, -10.0, 4.7, 1.6, -10.0, 0.02)),
            new(0.30, new(0.9, 2.4, -19.0, 12.0, 5.0, -17.0, 0.018), new(0.0, 1.4, -14.0, 13.0, 4.8, -14.0, 0.015)), // extended
        ],
        airLow:
        [
            new(0.10, new(0, -0.5, -1.9, -0.1, -0.1, -2.0, -0.008), new(0, -0.6, -2.5, -0.1, -0.2, -2.6, -0.011)),
            new(0.25, new(0, -1.4, -4.8, -0.2, -0.3, -5.0, -0.038), new(0, -1.6, -6.2, -0.2, -0.5, -6.4, -0.041)),
            new(0.60, new(0, -6.0, -13.0, -0.5, -1.0, -13.0, -0.17), new(0, -6.0, -14.0, -0.5, -1.2, -14.0, -0.17)), // extended
        ],
        airHigh: [new(0.25, new(0, 0.8, 3.1, 0.2, 0.3, 3.2, 0.015), new(0, 1.1, 4.4, 0.2, 0.3, 4.6, 0.021)), new(0.6, new(0, 1.6, 6.4, 0.4, 0.6, 6.6, 0.03), new(0, 2.2, 9.0, 0.4, 0.6, 9.4, 0.04))],
        condenserAir:
        [
            new(0.10, new(0.0, 0.3, -1.3, 0.1, 1.5, 0.6, -0.003), new(-0.1, 0.2, -1.2, 0.0, 1.4, 0.6, -0.006)),
            new(0.28, new(-0.3, 0.9, -4.8, 0.1, 5.2, 2.4, -0.018), new(-0.4, 0.8, -4.0, -0.1, 5.1, 3.0, -0.028)),
            new(0.50, new(-0.6, 2.5, -11.6, 0.1, 13.3, 6.1, -0.044), new(-1.0, 2.0, -9.4, -0.2, 12.9, 8.1, -0.069)),
        ],
        restriction:
        [
            new(0.30, new(-3.3, -8.0, 19.5, 1.7, -1.7, 25.3, -0.129), new(-2.6, -6.9, 25.0, 1.9, -1.3, 31.8, -0.107)),
            new(0.60, new(-6.5, -15.0, 29.0, 3.2, -3.4, 38.0, -0.26), new(-5.4, -13.5, 36.0, 3.6, -2.7, 47.0, -0.22)), // extended
        ],
        nonCondensable: [new(0.60, new(0.3, 1.4, -9.0, 7.2, 8.4, -4.8, 0.01), new(0.0, 0.6, -8.0, 6.0, 7.2, -6.0, 0.0))],
        leak: [new(0.30, new(-1.5, 8.1, -18.0, -2.4, -3.0, -18.0, -0.138), new(-2.7, 5.7, -11.0, -2.1, -3.3, -14.0, -0.177))]);

    /// <summary>The shift of airflow: 1 is 400 standard cfm per ton.</summary>
    public Shift OfAirflow(double massAirflow, double outdoorF) =>
        massAirflow < 1 ? At(airLow, 1 - massAirflow, outdoorF) : At(airHigh, massAirflow - 1, outdoorF);

    /// <summary>The shift of charge and of the other fault.</summary>
    public Shift OfRest(SystemState state, double outdoorF)
    {
        var charge = state.Charge < 1 ? At(chargeLow, 1 - state.Charge, outdoorF) : At(chargeHigh, state.Charge - 1, outdoorF);
        return state.Other switch
        {
            OtherFault.LiquidRestriction => charge + At(restriction, state.Severity, outdoorF),
            OtherFault.CondenserAirflowLow => charge + At(condenserAir, state.Severity, outdoorF),
            OtherFault.NonCondensables => charge + At(nonCondensable, state.Severity, outdoorF),
            OtherFault.CompressorWeak => charge + At(leak, state.Severity, outdoorF),
            _ => charge,
        };
    }

    private static Shift At(Knot[] knots, double severity, double outdoorF)
    {
        var warm = Math.Clamp((outdoorF - 82) / 13, -0.8, 1.8);
        var before = default(Knot);
        foreach (var knot in knots)
        {
            if (severity <= knot.Severity || knot.Severity == knots[^1].Severity)
            {
                var share = Math.Min(1.2, (severity - before.Severity) / (knot.Severity - before.Severity));
                return Mix(before, warm) * (1 - share) + Mix(knot, warm) * share;
            }

            before = knot;
        }

        return default;
    }

    private static Shift Mix(Knot knot, double warm) => knot.At82 * (1 - warm) + knot.At95 * warm;
}
