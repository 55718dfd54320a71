namespace Revisit.Physics;

/// <summary>The parts of the circuit, each one equation. SI throughout.</summary>
internal static class Cycle
{
    /// <summary>Share of the compressor's work that leaves with the vapour; the rest leaves by the shell (from memory).</summary>
    public const double KeptWork = 0.92;

    /// <summary>Pressure of the standard atmosphere at sea level [Pa].</summary>
    public const double SeaLevelPa = 101_325.0;

    /// <summary>Ratio of the molar masses of water and dry air, as in <see cref="MoistAir"/>.</summary>
    public const double MolarMassRatio = 0.621945;

    /// <summary>Least pressure ratio that a trial step is taken at.</summary>
    public const double LeastRatio = 1.05;

    /// <summary>Width of the rounded corner where the coil starts to dehumidify [kg/kg].</summary>
    private const double DewCorner = 2e-4;

    public static double VolumetricEfficiency(CycleParameters p, double ratio) => Math.Max(0.3, 0.98 - p.VolumetricSlope * (ratio - 1.0));

    /// <summary>Efficiency over its best, at ln of the pressure ratio.</summary>
    public static double EfficiencyShape(CycleParameters p, double logRatio)
    {
        double log = logRatio - p.LogBestPressureRatio;
        return Math.Max(0.3, 1.0 - p.EfficiencyCurve * log * log);
    }

    /// <summary>Work of an ideal compressor [J/kg], at ln of the pressure ratio.</summary>
    public static double IdealWork(double exponent, double suctionPa, double volume, double logRatio)
    {
        double share = (exponent - 1.0) / exponent;
        return suctionPa * volume / share * (Math.Exp(share * logRatio) - 1.0);
    }

    /// <summary>Humidity ratio of air of the same vapour pressure at sea level.</summary>
    public static double SeaLevelHumidity(double humidity, double pa)
    {
        double vapour = pa * humidity / (MolarMassRatio + humidity);
        return MolarMassRatio * vapour / (SeaLevelPa - vapour);
    }

    /// <summary>The inverse of <see cref="SeaLevelHumidity"/>.</summary>
    public static double HumidityAt(double seaLevelHumidity, double pa)
    {
        double vapour = SeaLevelPa * seaLevelHumidity / (MolarMassRatio + seaLevelHumidity);
        return MolarMassRatio * vapour / (pa - vapour);
    }

    /// <summary>Density of outdoor air, taken as dry [kg/m³].</summary>
    public static double AirDensity(double kelvin, double pa) => pa / (287.042 * kelvin);

    /// <summary>Air leaving a coil of which a share <paramref name="contact"/> meets the surface temperature.</summary>
    public static void LeavingAir(double dryC, double humidity, double pa, double surfaceC, double contact, out double leavingC, out double leavingHumidity)
    {
        double excess = humidity - MoistAir.SaturatedHumidityRatio(Math.Clamp(surfaceC, -60.0, 60.0), pa);
        leavingC = dryC - contact * (dryC - surfaceC);
        leavingHumidity = humidity - contact * Positive(excess, DewCorner);
    }

    /// <summary>Flow the metering device lets through [kg/s].</summary>
    public static double MeteredFlow(CycleDesign d, double inletPa, double suctionPa, double enthalpy, double density, double superheatK)
    {
        CycleParameters p = d.Parameters;
        double drop = Positive((inletPa - p.SuctionWeight * suctionPa) / d.PressureDrop, 0.02);
        d.Properties.Inlet(Math.Log(Math.Max(inletPa, 1e4)), out double bubble, out double dew, out double heat);
        double below = bubble - enthalpy;
        double state = below >= 0.0 ? 1.0 + p.SubcoolingGain * below / heat : Math.Exp(p.FlashLoss * below / (dew - bubble));
        double opening = p.StrokeF > 0.0 ? Opening(p, superheatK) : 1.0;
        double flow = p.DropExponent == 0.5 ? Math.Sqrt(density * drop) : Math.Sqrt(density) * Math.Pow(drop, p.DropExponent);
        return d.ValveConstant * opening * flow * state;
    }

    /// <summary>Mean subcooling [K] of the liquid in the outdoor coil, which nears the outdoor air by an exponential.</summary>
    public static double MeanSubcooling(double subcoolingK, double overOutdoorK, double units) => overOutdoorK - subcoolingK / units;

    /// <summary>Refrigerant in the circuit over the right charge.</summary>
    /// <param name="d">The design.</param>
    /// <param name="high">Properties at condensing pressure.</param>
    /// <param name="low">Properties at suction pressure.</param>
    /// <param name="liquid">Density in the liquid line [kg/m³].</param>
    /// <param name="coilLiquidK">Mean temperature of the liquid in the outdoor coil [K].</param>
    /// <param name="liquidShare">Share of the outdoor coil full of liquid; below 0: quality at its outlet.</param>
    /// <param name="superheatShare">Share of the indoor coil that superheats; below 0: liquid in the suction.</param>
    /// <param name="inletQuality">Quality at the indoor coil's inlet.</param>
    public static double Charge(CycleDesign d, in CycleNode high, in CycleNode low, double liquid, double coilLiquidK, double liquidShare, double superheatShare, double inletQuality)
    {
        CycleParameters p = d.Parameters;
        double outletQuality = Math.Max(0.0, -liquidShare), full = Math.Max(0.0, liquidShare);
        d.Properties.Liquid(coilLiquidK, out double inCoil, out _);
        double outdoor = full * inCoil + (1.0 - full) * MeanDensity(high, outletQuality, 1.0);
        double line = liquid * Density(high, outletQuality) / high.LiquidDensity;
        double dry = Math.Max(0.0, superheatShare), wet = Math.Max(0.0, -superheatShare);
        double indoor = dry * low.VapourDensity + (1.0 - dry) * MeanDensity(low, Math.Clamp(inletQuality, 0.0, 0.95), Math.Max(1.0 - wet, 0.96));
        return d.FixedCharge + (p.OutdoorCharge * outdoor + p.LineCharge * line + p.IndoorCharge * indoor) / d.LiquidDensity + p.FloodingCharge * wet;
    }

    /// <summary>Density at a quality.</summary>
    private static double Density(in CycleNode node, double quality)
    {
        double c = node.Slip;
        return node.VapourDensity + c * (1.0 - quality) / (c + (1.0 - c) * quality) * (node.LiquidDensity - node.VapourDensity);
    }

    /// <summary>Density averaged over a range of quality.</summary>
    private static double MeanDensity(in CycleNode node, double from, double to)
    {
        double c = node.Slip;
        double rest = 1.0 - c;
        double liquid = c / rest * (Math.Log((c + rest * to) / (c + rest * from)) / (rest * (to - from)) - 1.0);
        return node.VapourDensity + liquid * (node.LiquidDensity - node.VapourDensity);
    }

    private static double Opening(CycleParameters p, double superheatK)
    {
        const double least = 0.05, corner = 0.04;
        double straight = (1.8 * superheatK - p.ClosedSuperheatF) / p.StrokeF;
        return p.FullOpening - Positive(p.FullOpening - least - Positive(straight - least, corner), corner);
    }

    /// <summary>max(0, x) with a rounded corner.</summary>
    private static double Positive(double x, double corner) => 0.5 * (x + Math.Sqrt(x * x + corner * corner));
}
