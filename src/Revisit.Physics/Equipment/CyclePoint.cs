using Revisit.Records;

namespace Revisit.Physics;

/// <summary>What one ton of equipment runs in, in SI.</summary>
internal readonly struct CycleInputs
{
    public readonly double OutdoorK, ReturnK, Humidity, ReturnEnthalpy, BarometerPa, Air, Charge, OutdoorRatio, Restriction, Gas, Leak, Loss;

    // Powers that do not change during a solve.
    public readonly double IndoorUnits, OutdoorAir, OutdoorConductance, SubcoolConductance;

    public CycleInputs(CycleDesign d, double outdoorK, double returnK, double humidity, double barometerPa, double scfmPerTon, Faults faults)
    {
        (OutdoorK, ReturnK, Humidity, BarometerPa) = (outdoorK, returnK, humidity, barometerPa);
        (Charge, Restriction, Gas, Leak, Loss) = (faults.ChargeRatio, faults.Restriction, faults.NonCondensables, faults.ValveLeak, faults.EfficiencyLoss);
        ReturnEnthalpy = MoistAir.EnthalpyUnchecked(returnK - 273.15, humidity);
        Air = scfmPerTon * CycleDesign.AirPerScfm;
        CycleParameters p = d.Parameters;
        IndoorUnits = p.IndoorUnits / (1.0 - p.SuperheatShare) * Math.Pow(scfmPerTon / CycleDesign.RatedAirflow, p.IndoorAirExponent - 1.0);

        // The fan moves a volume; the coil feels a mass. Gas that does not condense covers tubes: 0.1; liquid side by the 0.7th power of
        // airflow (both from memory).
        OutdoorRatio = faults.OutdoorAirRatio * Cycle.AirDensity(outdoorK, barometerPa) / d.OutdoorDensity;
        OutdoorAir = d.OutdoorAir * OutdoorRatio;
        double logRatio = Math.Log(OutdoorRatio);
        OutdoorConductance = d.OutdoorConductance * Math.Exp(p.OutdoorAirExponent * logRatio) / (1.0 + 0.1 * Gas);
        SubcoolConductance = d.SubcoolConductance * Math.Exp(0.7 * logRatio);
    }
}

/// <summary>
/// The circuit at four trial values: ln of both pressures [Pa], the share of the outdoor coil full of liquid (below 0: liquid leaves
/// with that quality) and the share of the indoor coil that superheats (below 0: suction is wet by that much).
/// </summary>
internal struct CyclePoint
{
    public double SuctionPa, CondenserPa, LiquidPa, SuperheatK, SubcoolingK, SuctionEnthalpy, LiquidEnthalpy, DischargeEnthalpy, LiquidQuality;
    public double Flow, Heat, CompressorPower, SurfaceC, LeavingC, LeavingHumidity;
    public CycleNode Low, High;

    /// <summary>Unbalanced: flow, indoor coil, outdoor coil, charge; each over its rated value.</summary>
    public double Miss0, Miss1, Miss2, Miss3;

    public readonly double Worst => Math.Max(Math.Max(Math.Abs(Miss0), Math.Abs(Miss1)), Math.Max(Math.Abs(Miss2), Math.Abs(Miss3)));

    public readonly double SumOfSquares => Miss0 * Miss0 + Miss1 * Miss1 + Miss2 * Miss2 + Miss3 * Miss3;

    /// <summary>Gives the four balances.</summary>
    public readonly void Misses(Span<double> misses) => (misses[0], misses[1], misses[2], misses[3]) = (Miss0, Miss1, Miss2, Miss3);

    public void Evaluate(CycleDesign d, in CycleInputs c, double logSuction, double logCondenser, double liquidShare, double superheatShare)
    {
        CycleParameters p = d.Parameters;
        d.Properties.At(logSuction, out Low);
        d.Properties.At(logCondenser, out High);
        SuctionPa = Math.Exp(logSuction);
        CondenserPa = Math.Exp(logCondenser);
        LiquidPa = CondenserPa + c.Gas * CycleDesign.GasPressure * d.PressureDrop;
        double wetShare = 1.0 - Math.Max(superheatShare, 0.0), full = Math.Max(liquidShare, 0.0);

        // Compressor. The superheating share is taken to feel the flow of vapour at its dew point, which spares an iteration.
        double ratio = Math.Max(LiquidPa / SuctionPa, Cycle.LeastRatio), logRatio = c.Gas > 0.0 || ratio <= Cycle.LeastRatio ? Math.Log(ratio) : logCondenser - logSuction;
        double swept = d.Displacement * Cycle.VolumetricEfficiency(p, ratio) * (1.0 - c.Leak);
        double drive = c.ReturnK - Low.DewK, valveSuperheat, volume;
        if (superheatShare >= 0.0)
        {
            SuperheatK = drive * (1.0 - Math.Exp(-superheatShare * d.SuperheatConductance / (swept * Low.VapourDensity * Low.VapourHeat)));
            double bend = CycleNode.Bend(SuperheatK);
            volume = Low.SuperheatedVolume(SuperheatK, bend);
            valveSuperheat = SuperheatK;
            SuctionEnthalpy = Low.SuperheatedEnthalpy(SuperheatK, bend);
        }
        else
        {
            SuperheatK = 0.0;
            volume = (1.0 + superheatShare) / Low.VapourDensity - superheatShare / Low.LiquidDensity;
            SuctionEnthalpy = Low.DewEnthalpy + superheatShare * Low.Latent;
            valveSuperheat = drive * superheatShare * d.SuperheatConductance / (d.Flow * Low.VapourHeat);
        }

        Flow = swept / volume;

        // Vapour that leaks back is compressed again: 0.7 of the leak's share shows in power (from memory).
        double work = Cycle.IdealWork(d.Exponent, SuctionPa, volume, logRatio);
        double efficiency = d.Efficiency * (1.0 - c.Loss) * Cycle.EfficiencyShape(p, logRatio);
        CompressorPower = Flow * work / (efficiency * (1.0 - 0.7 * c.Leak));
        DischargeEnthalpy = SuctionEnthalpy + Cycle.KeptWork * CompressorPower / Flow;

        // Outdoor coil: desuperheating is lumped in, subcooling on top
        double over = High.BubbleK + 0.5 * High.Glide - c.OutdoorK;
        LiquidQuality = Math.Max(0.0, -liquidShare);
        double units = full * c.SubcoolConductance / (Flow * High.LiquidHeat);
        SubcoolingK = (High.BubbleK - c.OutdoorK) * (1.0 - Math.Exp(-units));
        double meanK = full > 0.0 ? High.BubbleK - Cycle.MeanSubcooling(SubcoolingK, High.BubbleK - c.OutdoorK, units) : High.BubbleK;
        d.Properties.Liquid(High.BubbleK - SubcoolingK, out double density, out LiquidEnthalpy);
        LiquidEnthalpy += LiquidQuality * High.Latent;
        double rejected = c.OutdoorAir * (1.0 - Math.Exp(-c.OutdoorConductance * (1.0 - full) / c.OutdoorAir)) * over;
        Miss2 = (rejected - Flow * (DischargeEnthalpy - High.BubbleEnthalpy - LiquidQuality * High.Latent)) / d.Heat;

        // Indoor coil: the heat the refrigerant takes sets the surface, the surface sets the heat the air gives
        Heat = Flow * (SuctionEnthalpy - LiquidEnthalpy);
        double inlet = Math.Clamp((LiquidEnthalpy - Low.BubbleEnthalpy) / Low.Latent, 0.0, 1.0);
        double boiling = Low.DewK - 0.5 * (1.0 - inlet) * Low.Glide;
        double conductance = d.IndoorConductance * Math.Pow(Flow / d.Flow, p.IndoorFlowExponent) * Math.Max(wetShare, 0.01);
        SurfaceC = boiling + Heat / conductance - 273.15;
        double contact = 1.0 - Math.Exp(-c.IndoorUnits * wetShare);
        Cycle.LeavingAir(c.ReturnK - 273.15, c.Humidity, c.BarometerPa, SurfaceC, contact, out LeavingC, out LeavingHumidity);
        Miss1 = (c.Air * (c.ReturnEnthalpy - MoistAir.EnthalpyUnchecked(LeavingC, LeavingHumidity)) - Heat) / d.Heat;

        // Liquid line and metering device
        double relative = Flow / d.Flow;
        double drop = (CycleDesign.LineDrop + c.Restriction) * d.PressureDrop * relative * relative * d.LiquidDensity / density;
        Miss0 = (Flow - Cycle.MeteredFlow(d, LiquidPa - drop, SuctionPa, LiquidEnthalpy, density, valveSuperheat)) / d.Flow;

        Miss3 = Cycle.Charge(d, High, Low, density, meanK, liquidShare, superheatShare, inlet) - c.Charge;
    }

    /// <summary>Readings of this point in the order of <see cref="ExpectedReading"/>; superheat and subcooling go on straight below 0.</summary>
    public readonly void Read(CycleDesign d, Refrigerant refrigerant, in CycleInputs c, ReadOnlySpan<double> x, Span<double> readings)
    {
        double gas = 0.0;
        if (c.Gas > 0.0) gas = refrigerant.CycleBubbleTemperature(Math.Clamp(LiquidPa, refrigerant.MinBubblePressurePa, refrigerant.CycleMaxPa)) - High.BubbleK;
        double lacking = x[2] >= 0.0 ? 0.0 : (High.BubbleK - c.OutdoorK) * x[2] * c.SubcoolConductance / (Flow * High.LiquidHeat) - LiquidQuality * High.Glide;
        double wet = x[3] >= 0.0 ? 0.0 : (c.ReturnK - Low.DewK) * x[3] * d.SuperheatConductance / (d.Flow * Low.VapourHeat);
        readings[0] = Units.FahrenheitFromKelvin(Low.DewK);
        readings[1] = 1.8 * (High.BubbleK + gas - c.OutdoorK);
        readings[2] = 1.8 * (SuperheatK + wet);
        readings[3] = 1.8 * (gas + SubcoolingK + lacking);
        readings[4] = Units.FahrenheitFromKelvin(High.DewK + High.Superheat(DischargeEnthalpy));
        readings[5] = 1.8 * (c.ReturnK - 273.15 - LeavingC);
        readings[6] = Heat / d.Heat;
        readings[7] = (CompressorPower + d.FanPower) / d.RatedPower;
    }
}
