using Revisit.Records;

namespace Revisit.Physics;

/// <summary>
/// One ton of a sound system, sized so that at rated conditions it has its rated capacity, power, temperatures and charge. Everything
/// follows in closed form but the indoor coil's surface temperature, which is bisected.
/// </summary>
internal sealed class CycleDesign
{
    /// <summary>Dry air of one scfm [kg/s]: 0.075 lb/ft³.</summary>
    public const double AirPerScfm = 0.075 * Units.KilogramPerCubicMetrePerLbFt3 * Units.CubicMetrePerSecondPerCfm;

    /// <summary>Airflow of the rating [scfm/ton].</summary>
    public const double RatedAirflow = 400.0;

    /// <summary>Outdoor fan over rated power (from memory).</summary>
    private const double FanShare = 0.053;

    /// <summary>Drop along a sound liquid line at rated flow, as a share of the rated drop from liquid to suction pressure (from memory).</summary>
    public const double LineDrop = 40.0 / 1689.0;

    /// <summary>Partial pressure of non-condensables of 1, as a share of the same drop (from memory).</summary>
    public const double GasPressure = 390.0 / 1689.0;

    public readonly CycleParameters Parameters;
    public readonly CycleProperties Properties;
    public readonly double Exponent, Flow, Heat, RatedPower, FanPower, Displacement, Efficiency, PressureDrop, LiquidDensity, ValveConstant, FixedCharge;
    public readonly double IndoorConductance, SuperheatConductance, OutdoorAir, OutdoorConductance, SubcoolConductance;
    public readonly double LiquidShare, LogEvaporating, LogCondensing, OutdoorDensity;

    public CycleDesign(Refrigerant refrigerant, CycleParameters parameters, double eer, double targetSubcoolingF)
    {
        (Parameters, Properties, Exponent) = (parameters, refrigerant.Cycle, refrigerant.IsentropicExponent);
        Heat = Units.BtuhPerTon * Units.WattPerBtuh;
        double power = RatedPower = Units.BtuhPerTon / eer;
        FanPower = FanShare * power;

        // A more efficient unit has the larger outdoor coil: 1.5 °F less a point of EER (from memory). Liquid cannot leave below the
        // outdoor air, so a high subcooling target asks for a higher condensing temperature.
        bool valve = parameters.StrokeF > 0.0;
        double subcooling = (valve ? targetSubcoolingF : parameters.SubcoolingF) / 1.8;
        double over = Math.Max(parameters.CondensingOverOutdoorF * 12.0 / eer, 1.3 * 1.8 * subcooling) / 1.8;
        double outdoor = Units.KelvinFromFahrenheit(95.0), indoor = Units.KelvinFromFahrenheit(80.0);
        double condensing = outdoor + over, evaporating = Units.KelvinFromFahrenheit(parameters.EvaporatingF), superheat = parameters.SuperheatF / 1.8;
        double suctionPa = refrigerant.DewPressure(evaporating), liquidPa = refrigerant.BubblePressure(condensing);
        LogEvaporating = Math.Log(suctionPa);
        LogCondensing = Math.Log(liquidPa);
        PressureDrop = liquidPa - suctionPa;
        Properties.At(LogEvaporating, out CycleNode low);
        Properties.At(LogCondensing, out CycleNode high);
        LiquidDensity = high.LiquidDensity;

        // Circuit
        double vapour = low.SuperheatedEnthalpy(superheat);
        Properties.Liquid(high.BubbleK - subcooling, out double density, out double liquid);
        Flow = Heat / (vapour - liquid);
        double volume = low.SuperheatedVolume(superheat), ratio = liquidPa / suctionPa;
        Displacement = Flow * volume / Cycle.VolumetricEfficiency(parameters, ratio);
        double work = Cycle.IdealWork(Exponent, suctionPa, volume, Math.Log(ratio));
        Efficiency = Flow * work / ((power - FanPower) * Cycle.EfficiencyShape(parameters, Math.Log(ratio)));
        double discharge = vapour + Cycle.KeptWork * (power - FanPower) / Flow;

        // Outdoor coil. A target other than the usual is more or less liquid in it.
        double fill(double kelvin) => Math.Log(1.0 - kelvin / over);
        LiquidShare = valve ? Math.Min(0.4, parameters.LiquidShare * fill(subcooling) / Math.Log(1.0 - parameters.SubcoolingF / parameters.CondensingOverOutdoorF)) : parameters.LiquidShare;
        double effectiveness = 1.0 - Math.Exp(-parameters.OutdoorUnits);
        OutdoorAir = Flow * (discharge - high.BubbleEnthalpy) / (effectiveness * (over + 0.5 * high.Glide));
        OutdoorConductance = parameters.OutdoorUnits * OutdoorAir / (1.0 - LiquidShare);
        SubcoolConductance = -Flow * high.LiquidHeat * fill(subcooling) / LiquidShare;
        OutdoorDensity = Cycle.AirDensity(outdoor, Cycle.SeaLevelPa);

        // Indoor coil
        double pa = Cycle.SeaLevelPa, dryC = Units.CelsiusFromFahrenheit(80.0);
        double humidity = MoistAir.HumidityRatioFromWetBulb(dryC, Units.CelsiusFromFahrenheit(67.0), pa);
        double share = parameters.SuperheatShare, inlet = (liquid - low.BubbleEnthalpy) / low.Latent;
        double contact = 1.0 - Math.Exp(-parameters.IndoorUnits);
        double coldest = -20.0, warmest = dryC;
        for (int i = 0; i < 60; i++)
        {
            double middle = 0.5 * (coldest + warmest);
            Cycle.LeavingAir(dryC, humidity, pa, middle, contact, out double outC, out double outW);
            double heat = RatedAirflow * AirPerScfm * (MoistAir.EnthalpyUnchecked(dryC, humidity) - MoistAir.EnthalpyUnchecked(outC, outW));
            if (heat > Heat) coldest = middle;
            else warmest = middle;
        }

        double surface = 0.5 * (coldest + warmest) + 273.15, boiling = low.DewK - 0.5 * (1.0 - inlet) * low.Glide;
        IndoorConductance = Heat / ((1.0 - share) * (surface - boiling));
        SuperheatConductance = -Flow * volume * low.VapourDensity * low.VapourHeat * Math.Log(1.0 - superheat / (indoor - evaporating)) / share;

        // Metering device and charge
        ValveConstant = 1.0;
        double drop = LineDrop * PressureDrop * high.LiquidDensity / density;
        ValveConstant = Flow / Cycle.MeteredFlow(this, liquidPa - drop, suctionPa, liquid, density, superheat);
        FixedCharge = 1.0 - Cycle.Charge(this, high, low, density, condensing - Cycle.MeanSubcooling(subcooling, over, -fill(subcooling)), LiquidShare, share, inlet);
    }
}
