namespace Revisit.Simulator;

/// <summary>What a crew's probes make of the truth: a bias each crew carries, and noise each reading has. Invented sizes.</summary>
internal sealed class Instruments
{
    private readonly double suction, liquid, line, air, wet;

    /// <summary>The probes of a crew; the same for the whole fleet.</summary>
    /// <param name="settings">Settings.</param>
    /// <param name="crew">Number of the crew.</param>
    /// <param name="scale">1 for install crews, less for better kept probes.</param>
    public Instruments(SimulatorSettings settings, int crew, double scale)
    {
        var rng = new Rng(settings.Seed, crew, 100);
        suction = rng.Normal(0, 1.2 * scale);
        liquid = rng.Normal(0, 2.5 * scale);
        line = rng.Normal(0, 0.6 * scale);
        air = rng.Normal(0, 0.3 * scale);
        wet = rng.Normal(0, 0.5 * scale);
    }

    /// <summary>Fills in every value of a reading as the probes show it.</summary>
    public void Read(Rng rng, Install install, SystemState state, Weather weather, double minutes, double barometer, SimulatedReading reading)
    {
        var refrigerant = Circuit.Find(install.Refrigerant);
        var run = SoundSystem.Run(install, state, weather, minutes, barometer);
        reading.MinutesRunning = minutes;
        reading.BlowerTap = SystemState.Taps[state.Tap];
        reading.FilterState = SystemState.Filters[state.Filter];
        reading.OutdoorDbF = weather.OutdoorF + rng.Normal(0, 1.0);
        reading.ReturnDbF = weather.ReturnF + air + rng.Normal(0, 0.4);
        reading.ReturnWbF = Math.Min(reading.ReturnDbF - 0.2, Air.WetBulb(weather.ReturnF, weather.Ratio, barometer) + wet + rng.Normal(0, 0.6));
        reading.ReturnRhPct = Math.Clamp(Air.RelativeHumidity(weather.ReturnF, weather.Ratio, barometer) + 2 * wet + rng.Normal(0, 2), 5, 98);
        reading.SupplyDbF = run.SupplyDryF + air + rng.Normal(0, 0.5);
        reading.SupplyWbF = Math.Min(reading.SupplyDbF - 0.2, Air.WetBulb(run.SupplyDryF, run.SupplyRatio, barometer) + wet + rng.Normal(0, 0.6));
        reading.SuctionPressurePsig = Circuit.SuctionPsig(refrigerant, run.EvaporatingF, barometer) + suction + rng.Normal(0, 1.0);
        reading.LiquidPressurePsig = Circuit.LiquidPsig(refrigerant, run.CondensingF, barometer) + liquid + rng.Normal(0, 2.0);
        reading.SuctionLineF = run.SuctionF + line + rng.Normal(0, 0.7);
        reading.LiquidLineF = run.LiquidF + line + rng.Normal(0, 0.6);
        reading.DischargeLineF = run.DischargeF + line + rng.Normal(0, 2.5);
        var (supplyStatic, returnStatic) = state.Static();
        reading.SupplyStaticInwc = Math.Max(0.01, supplyStatic + rng.Normal(0, 0.015));
        reading.ReturnStaticInwc = -Math.Max(0.01, returnStatic + rng.Normal(0, 0.015));
        reading.ExternalStaticInwc = reading.SupplyStaticInwc - reading.ReturnStaticInwc;
        var cfm = state.Airflow * 400 * install.Tons;
        var method = rng.Weighted([0.35, 0.15, 0.15, 0.25, 0.10]);
        reading.AirflowMethod = Records.Codes.AirflowMethod[method];
        reading.AirflowCfm = cfm * rng.Normal(1, method switch { 0 => 0.05, 1 => 0.07, 2 => 0.06, 3 => 0.10, _ => 0.12 });
        reading.BlowerPowerW = cfm * (0.28 + 0.22 * (supplyStatic + returnStatic)) * rng.Normal(1, 0.03);
        reading.SystemPowerW = (install.RatedBtuh / install.RatedEer * run.Power * rng.Normal(1, 0.02)) + (0.3 * reading.BlowerPowerW);
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
