namespace Revisit.Simulator;

/// <summary>True values at the ports and grilles of a running system, °F; capacity and power over rated.</summary>
internal readonly record struct Running(
    double SupplyDryF, double SupplyRatio, double EvaporatingF, double SuctionF, double CondensingF, double LiquidF, double DischargeF, double Capacity, double Power);

/// <summary>
/// A system in steady state: base values at 80/67 °F indoors, 82 and 95 °F outdoors, carried over humidity, outdoor air, density and airflow;
/// the supply air from a coil of one surface temperature; faults as shifts. Deliberately another calculation than the one that judges readings.
/// </summary>
internal static class SoundSystem
{
    /// <summary>The running state of an install.</summary>
    /// <param name="install">The system; its own offsets are added.</param>
    /// <param name="state">Its state.</param>
    /// <param name="weather">Outdoor and return air.</param>
    /// <param name="minutes">Minutes running; the first quarter of an hour is not steady.</param>
    /// <param name="barometer">Barometric pressure [Pa].</param>
    public static Running Run(Install install, SystemState state, Weather weather, double minutes, double barometer)
    {
        var wet = Air.WetBulb(weather.ReturnF, weather.Ratio, barometer);
        var coilWet = Math.Max(wet, 57 + 0.45 * (weather.ReturnF - 75)); // below this the coil runs dry and humidity no longer matters
        var mass = state.Airflow * Air.Density(weather.ReturnF, weather.Ratio, barometer) / Air.StandardDensity;
        var signatures = install.FixedOrifice ? Signatures.Orifice : Signatures.Valve;
        var rest = signatures.OfRest(state, weather.OutdoorF);
        var shift = signatures.OfAirflow(mass, weather.OutdoorF) + rest + install.Own;

        var hot = weather.OutdoorF - 95;
        var cold = Math.Max(0, 60 - weather.OutdoorF);
        var capacity = Math.Max(0.2, 1 + 0.016 * (coilWet - 67) - 0.005 * hot + shift.Capacity);
        double evaporating, superheat, subcooling;
        if (install.FixedOrifice)
        {
            evaporating = 48 + 0.185 * hot + 0.50 * (coilWet - 67);
            superheat = SoftFloor(12 - 0.60 * hot + 1.5 * (coilWet - 67) + shift.Superheat + 0.5 * cold, 1.0);
            subcooling = 6 - 0.054 * hot + 0.1 * (coilWet - 67);
        }
        else
        {
            evaporating = 48 + 0.108 * hot + 0.60 * (coilWet - 67);
            superheat = SoftFloor(10 - 0.04 * hot + 0.05 * (coilWet - 67) + shift.Superheat + 0.4 * cold, 1.5);
            subcooling = install.TargetSubcooling;
        }

        evaporating += shift.Evaporating - 0.25 * cold;
        subcooling = SoftFloor(subcooling + shift.Subcooling - 0.15 * cold, 0.6);
        var over = Math.Max(5, 18.1 * Math.Max(0.4, capacity / (1 - 0.005 * hot)) + shift.Condensing - 18.1 * shift.Capacity);

        // Warming up: the circuit settles within about a quarter of an hour.
        var unsettled = Math.Exp(-minutes / 5.5);
        evaporating += 4 * unsettled;
        superheat += 9 * unsettled;
        subcooling *= 1 - 0.8 * unsettled;
        over *= 1 - 0.45 * unsettled;
        over = Math.Max(over, evaporating + 22 - weather.OutdoorF); // in the cold the compressor still holds a little lift

        // The coil gives the split of air, humidity and density; the tables give that of the other faults, which would otherwise count twice.
        var (supply, supplyRatio) = Supply(weather, barometer, mass, Math.Max(0.3, capacity - rest.Capacity) * (1 - 0.35 * unsettled));
        supply -= shift.Split * (1 - unsettled);
        supply = Math.Clamp(supply, 34, weather.ReturnF - 1);
        var condensing = Math.Min(149, weather.OutdoorF + over); // above it a high-pressure switch opens and there is no reading
        evaporating = Math.Max(5, evaporating);
        var suction = Math.Min(evaporating + superheat, Math.Max(weather.ReturnF, evaporating + 3) + 4);
        var discharge = 170 + 1.45 * hot + shift.Discharge + 0.6 * (coilWet - 67);
        var power = Math.Max(0.3, 1 + 0.011 * hot + 0.006 * (coilWet - 67) + 0.013 * (over - 18.1));
        return new Running(
            supply, Math.Min(supplyRatio, Air.SaturatedRatio(supply, barometer)), evaporating, suction, condensing, condensing - subcooling,
            Math.Max(discharge, condensing + 15), capacity, power);
    }

    private static (double DryF, double Ratio) Supply(Weather weather, double barometer, double mass, double capacity)
    {
        const double transferUnits = 1.74; // at 400 standard cfm per ton
        var contact = 1 - Math.Exp(-transferUnits * Math.Pow(mass, 0.576 - 1));
        var entering = Air.Enthalpy(weather.ReturnF, weather.Ratio);
        var drop = 12_000 * capacity / (4.5 * 400 * mass);
        var surface = Air.SaturatedAt(entering - drop / contact, barometer);
        var surfaceRatio = Air.SaturatedRatio(surface, barometer);
        return surfaceRatio >= weather.Ratio
            ? (weather.ReturnF - drop / (0.240 + 0.444 * weather.Ratio), weather.Ratio)
            : (weather.ReturnF - contact * (weather.ReturnF - surface), weather.Ratio - contact * (weather.Ratio - surfaceRatio));
    }

    /// <summary>Keeps a value above a floor without a corner.</summary>
    private static double SoftFloor(double value, double floor) =>
        value > floor + 20 ? value : floor + Math.Log(1 + Math.Exp((value - floor) / 1.5)) * 1.5;
}
