namespace Revisit.Simulator;

/// <summary>
/// What a technician's probes make of the truth: a bias each technician carries and noise each reading has, together within the limits of the
/// instruments: ±1 °F for thermometers and wet bulb, ±1 psi or ±1 % for gauges (common practice, no source). Other sizes are invented.
/// </summary>
internal sealed class Instruments
{
    private readonly double suction, liquid, line, air, wet, outdoor;

    /// <summary>The probes of a technician; the same for the whole fleet.</summary>
    /// <param name="settings">Settings.</param>
    /// <param name="technician">Number of the technician.</param>
    /// <param name="scale">1 for install crews, less for better kept probes.</param>
    public Instruments(SimulatorSettings settings, int technician, double scale)
    {
        var rng = new Rng(settings.Seed, technician, 100);
        double Bias() => rng.Normal(0, 0.4 * scale);
        (suction, liquid, line, air, wet, outdoor) = (Bias(), Bias(), Bias(), Bias(), Bias(), Bias());
    }

    /// <summary>Fills in every value of a reading as the probes show it.</summary>
    /// <returns>False if the system does not keep running: then only the air was read.</returns>
    public bool Read(Rng rng, Install install, SystemState state, Weather weather, double minutes, double barometer, SimulatedReading reading)
    {
        static double Shown(Rng rng, double value, double bias, double limit) => value + limit * Math.Clamp(bias + rng.Normal(0, 0.3), -1, 1);
        reading.MinutesRunning = minutes;
        reading.BlowerTap = SystemState.Taps[state.Tap];
        reading.FilterState = SystemState.Filters[state.Filter];
        reading.OutdoorDbF = Shown(rng, weather.OutdoorF, outdoor, 1);
        reading.ReturnDbF = Shown(rng, weather.ReturnF, air, 1);
        reading.ReturnWbF = Math.Min(reading.ReturnDbF - 0.2, Shown(rng, Air.WetBulb(weather.ReturnF, weather.Ratio, barometer), wet, 1));
        reading.ReturnRhPct = Math.Clamp(Shown(rng, Air.RelativeHumidity(weather.ReturnF, weather.Ratio, barometer), wet, 4), 5, 98);
        var (supplyStatic, returnStatic) = state.Static();
        reading.SupplyStaticInwc = Math.Max(0.01, supplyStatic + rng.Normal(0, 0.015));
        reading.ReturnStaticInwc = -Math.Max(0.01, returnStatic + rng.Normal(0, 0.015));
        reading.ExternalStaticInwc = reading.SupplyStaticInwc - reading.ReturnStaticInwc;
        var cfm = state.Cfm(install.Tons);
        var method = rng.Weighted([0.35, 0.15, 0.15, 0.25, 0.10]);
        reading.AirflowMethod = Records.Codes.AirflowMethod[method];
        reading.AirflowCfm = cfm * rng.Normal(1, method switch { 0 => 0.05, 1 => 0.07, 2 => 0.06, 3 => 0.10, _ => 0.12 });
        reading.BlowerPowerW = cfm * (0.28 + 0.22 * (supplyStatic + returnStatic)) * rng.Normal(1, 0.03);
        // Saturation tables end at 150 °F; a system that condenses beyond is near its pressure switch and is read without its circuit.
        if (!Running.TryRun(install, state, weather, minutes, barometer, out var run) || run.CondensingF > 150)
            return false;

        double Gauge(double psig, double bias) => Shown(rng, psig, bias, Math.Max(1, 0.01 * psig));
        var refrigerant = install.Equipment.Refrigerant;
        reading.SupplyDbF = Shown(rng, run.SupplyDryF, air, 1);
        reading.SupplyWbF = Math.Min(reading.SupplyDbF - 0.2, Shown(rng, Air.WetBulb(run.SupplyDryF, run.SupplyRatio, barometer), wet, 1));
        reading.SuctionPressurePsig = Gauge(Circuit.SuctionPsig(refrigerant, run.EvaporatingF, barometer), suction);
        reading.LiquidPressurePsig = Gauge(Circuit.LiquidPsig(refrigerant, run.CondensingF, barometer), liquid);
        reading.SuctionLineF = Shown(rng, run.SuctionF, line, 1);
        reading.LiquidLineF = Shown(rng, run.LiquidF, line, 1);
        reading.DischargeLineF = Shown(rng, run.DischargeF, line, 3);
        reading.SystemPowerW = run.PowerW * rng.Normal(1, 0.02) + reading.BlowerPowerW;
        return true;
    }

    /// <summary>Takes away what this technician did not take. Returns whether every core value stands.</summary>
    public static bool Drop(Rng rng, SimulatorSettings settings, SimulatedReading reading, double noWetBulb, bool humidityProbe)
    {
        var complete = true;
        double Keep(double value, double share, bool core = false)
        {
            if (!rng.Chance(1 - share))
                return value;
            complete &= !core;
            return double.NaN;
        }

        var take = 1 - settings.MissingShare;
        var gauges = reading.OutdoorDbF >= 50 || rng.Chance(0.35) ? take : 0; // most put no gauges on in the cold
        var wet = rng.Chance(noWetBulb) ? 0 : take;
        reading.ReturnWbF = Keep(reading.ReturnWbF, humidityProbe ? 0 : wet);
        reading.ReturnRhPct = Keep(reading.ReturnRhPct, humidityProbe ? wet : 0);
        complete &= !(double.IsNaN(reading.ReturnWbF) && double.IsNaN(reading.ReturnRhPct));
        reading.MinutesRunning = Keep(reading.MinutesRunning, take);
        reading.OutdoorDbF = Keep(reading.OutdoorDbF, take, core: true);
        reading.ReturnDbF = Keep(reading.ReturnDbF, take, core: true);
        reading.SupplyDbF = Keep(reading.SupplyDbF, take, core: true);
        reading.SupplyWbF = Keep(reading.SupplyWbF, humidityProbe ? 0 : 0.3);
        reading.SuctionPressurePsig = Keep(reading.SuctionPressurePsig, gauges, core: true);
        reading.LiquidPressurePsig = Keep(reading.LiquidPressurePsig, gauges, core: true);
        reading.SuctionLineF = Keep(reading.SuctionLineF, gauges, core: true);
        reading.LiquidLineF = Keep(reading.LiquidLineF, gauges, core: true);
        reading.DischargeLineF = Keep(reading.DischargeLineF, 0.25 * gauges);
        reading.ExternalStaticInwc = Keep(reading.ExternalStaticInwc, 0.85);
        reading.ReturnStaticInwc = Keep(reading.ReturnStaticInwc, 0.3);
        reading.SupplyStaticInwc = double.IsNaN(reading.ReturnStaticInwc) ? double.NaN : reading.SupplyStaticInwc;
        reading.AirflowCfm = Keep(reading.AirflowCfm, 0.2);
        reading.AirflowMethod = double.IsNaN(reading.AirflowCfm) ? null : reading.AirflowMethod;
        reading.SystemPowerW = Keep(reading.SystemPowerW, 0.12);
        reading.BlowerPowerW = Keep(reading.BlowerPowerW, 0.12);
        reading.BlowerTap = rng.Chance(0.94) ? reading.BlowerTap : null;
        reading.FilterState = rng.Chance(0.95) ? reading.FilterState : null;
        return complete;
    }
}
