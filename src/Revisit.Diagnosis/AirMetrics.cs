using Revisit.Physics;
using Revisit.Records;

namespace Revisit.Diagnosis;

/// <summary>The air side of <see cref="ReadingMetrics"/>: return air, split, airflow and capacity.</summary>
internal static class AirMetrics
{
    private const double DegreeC = InstrumentAccuracy.ThermometerSdF / 1.8;

    // Air off a wet coil is usually near 90 % humid (common practice, no source).
    private const double AssumedSupplyHumidity = 0.89;
    private const double AssumedSupplyHumiditySd = 0.03;

    private const string NotModelled = "no steady state is known for these conditions";

    // What rated capacity says of the capacity now: unit to unit, gross against net (judgement).
    private const double CapacityKnownShare = 0.10;

    /// <summary>Fills in the return air and gives it back; meaningless where the humidity ratio is missing.</summary>
    public static MoistState ReturnAir(in ReadingInputs x, double barometer, double barometerSd, MetricSet m)
    {
        MoistState air = default;
        var reason = double.IsNaN(x.ReturnDb) ? "return_db_f missing"
            : double.IsNaN(x.ReturnWb) && double.IsNaN(x.ReturnRh) ? "return_wb_f and return_rh_pct missing"
            : null;
        var measured = reason is null;
        if (measured && !MoistState.TryMeasured(x.ReturnDb, x.ReturnWb, x.ReturnRh, barometer, out air))
        {
            reason = "return wet bulb and dry bulb do not go together";
        }

        if (reason is not null)
        {
            foreach (var id in (ReadOnlySpan<MetricId>)[MetricId.ReturnWetBulb, MetricId.ReturnHumidity, MetricId.HumidityRatio, MetricId.Enthalpy, MetricId.DewPoint, MetricId.AirDensity])
            {
                m.Lack(id, reason);
            }

            // A wet bulb or humidity measured alone still stands as measured.
            if (!measured && !double.IsNaN(x.ReturnWb))
            {
                m.Set(MetricId.ReturnWetBulb, x.ReturnWb, InstrumentAccuracy.WetBulbSdF);
            }

            if (!measured && !double.IsNaN(x.ReturnRh))
            {
                m.Set(MetricId.ReturnHumidity, x.ReturnRh, InstrumentAccuracy.HumiditySdPct);
            }

            return air;
        }

        var dry = air.DryC;
        if (double.IsNaN(x.ReturnWb))
        {
            // At room conditions a point of humidity is worth about 0.16 °F, a degree of dry bulb about 0.75 °F of wet bulb.
            m.Set(MetricId.ReturnWetBulb, Units.FahrenheitFromCelsius(MoistAir.WetBulb(dry, air.W, barometer)),
                Spread.Root(0.16 * InstrumentAccuracy.HumiditySdPct, 0.75 * InstrumentAccuracy.ThermometerSdF));
            m.Set(MetricId.ReturnHumidity, x.ReturnRh, InstrumentAccuracy.HumiditySdPct);
        }
        else
        {
            m.Set(MetricId.ReturnWetBulb, x.ReturnWb, InstrumentAccuracy.WetBulbSdF);
            var humidity = MoistAir.RelativeHumidity(dry, air.W, barometer, out var perDryK, out var perRatio);
            m.Set(MetricId.ReturnHumidity, humidity * 100, 100 * Spread.Root(Math.Min(humidity, perRatio * air.WSd), perDryK * DegreeC));
        }

        m.Set(MetricId.HumidityRatio, air.W, air.WSd);
        m.Set(MetricId.Enthalpy, MoistAir.EnthalpyBtuLb(x.ReturnDb, air.W), air.EnthalpySd() / Units.JoulePerKilogramPerBtuLb);
        if (air.W > 1e-5)
        {
            var dew = MoistAir.DewPoint(dry, air.W, barometer, out var perRatio);
            m.Set(MetricId.DewPoint, Units.FahrenheitFromCelsius(dew), perRatio * Math.Min(air.WSd, 0.5 * air.W) * 1.8);
        }
        else
        {
            m.Lack(MetricId.DewPoint, "return air too dry for a dew point");
        }

        var density = MoistAir.Density(dry, air.W, barometer);
        m.Set(MetricId.AirDensity, density / Units.KilogramPerCubicMetrePerLbFt3,
            density / Units.KilogramPerCubicMetrePerLbFt3 * Spread.Root(barometerSd / barometer, DegreeC / (dry + 273.15)));
        return air;
    }

    public static void Split(in ReadingInputs x, double barometer, MetricSet m)
    {
        const double Sd = InstrumentAccuracy.ThermometerSdF;
        ReadingMetrics.Difference(m, MetricId.Split,
            ReadingMetrics.Reading(x.ReturnDb, Sd, "return_db_f missing"), ReadingMetrics.Reading(x.SupplyDb, Sd, "supply_db_f missing"));
        var reason = m[MetricId.HumidityRatio].Missing ?? m[MetricId.ReturnWetBulb].Missing ?? (double.IsNaN(x.OutdoorDb) ? "outdoor_db_f missing" : null);
        if (reason is not null || !m.Sound.Known)
        {
            m.Lack(MetricId.ExpectedSplit, reason ?? NotModelled);
        }
        else
        {
            Span<double> spread = stackalloc double[ResidualSet.Count];
            SoundSpread.Of(x, spread);
            var slopes = m.Equipment!.SlopesNear(m.Conditions);
            const int Split = (int)Residual.Split;
            m.Set(MetricId.ExpectedSplit, m.Sound.TemperatureSplitF - SoundSystem.BlowerHeatF,
                Spread.Root(spread[Split], slopes.ReturnWet[Split] * m[MetricId.ReturnWetBulb].Sd, (1 - slopes.ReturnDry[Split]) * Sd, slopes.Outdoor[Split] * Sd));
        }

        ReadingMetrics.Difference(m, MetricId.SplitError, m[MetricId.Split], m[MetricId.ExpectedSplit]);
    }

    public static void Capacity(in ReadingInputs x, in MoistState back, double barometer, MetricSet m)
    {
        var rated = !double.IsNaN(x.RatedCooling) ? x.RatedCooling : x.NominalTons * Units.BtuhPerTon;
        var flowShare = InstrumentAccuracy.AirflowSdShare(x.AirflowMethod);
        var noFlow = double.IsNaN(x.Airflow) ? "airflow_cfm missing" : null;
        if ((noFlow ?? (double.IsNaN(x.NominalTons) ? "nominal_tons missing" : null)) is { } lack)
        {
            m.Lack(MetricId.MeasuredAirflow, lack);
        }
        else
        {
            var perTon = x.Airflow / x.NominalTons;
            m.Set(MetricId.MeasuredAirflow, perTon, perTon * flowShare);
        }

        var noAir = m[MetricId.HumidityRatio].Missing ?? (double.IsNaN(x.SupplyDb) ? "supply_db_f missing" : null);
        if (noAir is not null)
        {
            m.Lack(MetricId.ImpliedAirflow, noAir);
            m.Lack(MetricId.SensibleCapacity, noFlow ?? noAir);
            m.Lack(MetricId.TotalCapacity, noFlow ?? noAir);
            m.Lack(MetricId.CapacityRatio, noFlow ?? noAir);
            return;
        }

        // The humidity ratio stands, so the return air is known to be air.
        var supply = Supply(x, x.SupplyDb, back, barometer);
        var dropSd = Spread.Root(back.EnthalpySd(), supply.EnthalpySd());
        Implied(x, back, barometer, m, rated, dropSd);
        if (noFlow is not null)
        {
            m.Lack(MetricId.SensibleCapacity, noFlow);
            m.Lack(MetricId.TotalCapacity, noFlow);
            m.Lack(MetricId.CapacityRatio, noFlow);
            return;
        }

        var flow = x.Airflow * Units.CubicMetrePerSecondPerCfm / MoistAir.SpecificVolume(back.DryC, back.W, barometer);
        var sensible = flow * (MoistAir.Enthalpy(back.DryC, supply.W) - MoistAir.Enthalpy(supply.DryC, supply.W)) / Units.WattPerBtuh;
        var split = back.DryC - supply.DryC;
        m.Set(MetricId.SensibleCapacity, sensible, Math.Abs(sensible) * Spread.Root(flowShare, Spread.Root(DegreeC, DegreeC) / Math.Max(0.5, Math.Abs(split))));
        var drop = MoistAir.Enthalpy(back.DryC, back.W) - MoistAir.Enthalpy(supply.DryC, supply.W);
        var total = flow * drop / Units.WattPerBtuh;
        var totalSd = Math.Abs(total) * Spread.Root(flowShare, dropSd / Math.Max(500, Math.Abs(drop)));
        m.Set(MetricId.TotalCapacity, total, totalSd);
        if (double.IsNaN(rated))
        {
            m.Lack(MetricId.CapacityRatio, "rated_cooling_btuh and nominal_tons missing");
        }
        else
        {
            m.Set(MetricId.CapacityRatio, total / rated, totalSd / rated);
        }
    }

    private static void Implied(in ReadingInputs x, in MoistState back, double barometer, MetricSet m, double rated, double dropSd)
    {
        var reason = double.IsNaN(rated) ? "rated_cooling_btuh and nominal_tons missing"
            : double.IsNaN(x.NominalTons) ? "nominal_tons missing"
            : double.IsNaN(x.OutdoorDb) ? "outdoor_db_f missing"
            : !m.Sound.Known ? NotModelled
            : null;
        double drop = 0;
        if (reason is null)
        {
            // The coil's own leaving air stands before the blower's heat.
            var leaving = Supply(x, x.SupplyDb - SoundSystem.BlowerHeatF, back, barometer);
            drop = MoistAir.Enthalpy(back.DryC, back.W) - MoistAir.Enthalpy(leaving.DryC, leaving.W);
            reason = drop < 3 * dropSd ? "supply air too close to return air to imply an airflow" : null;
        }

        if (reason is not null)
        {
            m.Lack(MetricId.ImpliedAirflow, reason);
            return;
        }

        var capacity = rated * m.Sound.CapacityRatio * Units.WattPerBtuh;
        var perTon = capacity / drop * MoistAir.SpecificVolume(back.DryC, back.W, barometer) / Units.CubicMetrePerSecondPerCfm / x.NominalTons;
        m.Set(MetricId.ImpliedAirflow, perTon, perTon * Spread.Root(CapacityKnownShare, dropSd / drop));
    }

    private static MoistState Supply(in ReadingInputs x, double supplyDb, in MoistState back, double barometer)
    {
        if ((!double.IsNaN(x.SupplyWb) || !double.IsNaN(x.SupplyRh))
            && MoistState.TryMeasured(supplyDb, x.SupplyWb, x.SupplyRh, barometer, out var measured))
        {
            return measured;
        }

        // Not measured: 90 to 95 % humid off a wet coil, or no moisture lost where the return air is drier than that.
        var dryC = Units.CelsiusFromFahrenheit(supplyDb);
        var wet = MoistAir.HumidityRatioFromRelativeHumidity(dryC, AssumedSupplyHumidity, barometer, out var slope);
        var step = wet * AssumedSupplyHumiditySd / AssumedSupplyHumidity;
        return wet < back.W
            ? new(dryC, wet, Spread.Root(step, slope * DegreeC), slope, step)
            : new(dryC, back.W, back.WSd, 0, back.WSd);
    }
}
