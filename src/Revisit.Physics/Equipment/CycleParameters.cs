namespace Revisit.Physics;

/// <summary>The numbers of the model that the rated point does not give.</summary>
internal sealed record CycleParameters
{
    /// <summary>Evaporating dew temperature at rated conditions [°F].</summary>
    public double EvaporatingF { get; init; } = 48.0;

    /// <summary>Condensing bubble over outdoor temperature at rated conditions and an EER of 12 [°F].</summary>
    public double CondensingOverOutdoorF { get; init; } = 18.15;

    /// <summary>Superheat at rated conditions [°F].</summary>
    public required double SuperheatF { get; init; }

    /// <summary>Subcooling at rated conditions [°F]; with a valve at <see cref="LiquidShare"/>.</summary>
    public required double SubcoolingF { get; init; }

    /// <summary>Share of the outdoor coil full of liquid at rated conditions.</summary>
    public required double LiquidShare { get; init; }

    /// <summary>Share of the indoor coil that superheats at rated conditions.</summary>
    public required double SuperheatShare { get; init; }

    /// <summary>Transfer units of the indoor coil's air side at rated conditions.</summary>
    public double IndoorUnits { get; init; } = 1.74;

    /// <summary>Exponent of airflow in the indoor coil's air-side conductance.</summary>
    public double IndoorAirExponent { get; init; } = 0.576;

    /// <summary>Exponent of refrigerant flow in the indoor coil's inner conductance.</summary>
    public double IndoorFlowExponent { get; init; } = 0.61;

    /// <summary>Transfer units of the outdoor coil at rated conditions.</summary>
    public double OutdoorUnits { get; init; } = 1.625;

    /// <summary>Exponent of airflow in the outdoor coil's conductance.</summary>
    public double OutdoorAirExponent { get; init; } = 0.557;

    /// <summary>Loss of volumetric efficiency per pressure ratio.</summary>
    public double VolumetricSlope { get; init; } = 0.032;

    /// <summary>Loss of efficiency by ln² of the pressure ratio over its best.</summary>
    public double EfficiencyCurve { get; init; } = 0.288;

    /// <summary>Pressure ratio of best efficiency.</summary>
    public double BestPressureRatio { get; init; } = 2.69;

    /// <summary>Charge in the outdoor coil over all charge, if it were full of liquid.</summary>
    public required double OutdoorCharge { get; init; }

    /// <summary>Charge in the liquid line over all charge.</summary>
    public required double LineCharge { get; init; }

    /// <summary>Charge in the indoor coil over all charge, if it were full of liquid.</summary>
    public required double IndoorCharge { get; init; }

    /// <summary>Extra charge per share of suction that is liquid.</summary>
    public double FloodingCharge { get; init; } = 2.0;

    /// <summary>Gain of flow through the metering device per kelvin of subcooling at its inlet.</summary>
    public required double SubcoolingGain { get; init; }

    /// <summary>Loss of flow with vapour at the inlet: exponent per quality.</summary>
    public required double FlashLoss { get; init; }

    /// <summary>Exponent of the pressure drop over the metering device.</summary>
    public required double DropExponent { get; init; }

    /// <summary>Share of suction pressure that counts against the drop.</summary>
    public required double SuctionWeight { get; init; }

    /// <summary>Superheat at which a valve is closed [°F]; not used with an orifice.</summary>
    public double ClosedSuperheatF { get; init; } = 5.18;

    /// <summary>Superheat from closed to the valve's full stroke [°F]; 0 for an orifice.</summary>
    public double StrokeF { get; init; }

    /// <summary>Largest opening of a valve.</summary>
    public double FullOpening { get; init; } = 1.021;

    /// <summary>Parameters of a thermostatic valve.</summary>
    public static CycleParameters Valve { get; } = new()
    {
        SuperheatF = 10.0,
        SubcoolingF = 10.0,
        LiquidShare = 0.118,
        SuperheatShare = 0.111,
        OutdoorCharge = 1.085,
        LineCharge = 0.45,
        IndoorCharge = 0.836,
        SubcoolingGain = 0.048,
        FlashLoss = 0.0,
        DropExponent = 0.5,
        SuctionWeight = 1.0,
        StrokeF = 6.27,
    };

    /// <summary>Parameters of a fixed orifice.</summary>
    public static CycleParameters Orifice { get; } = new()
    {
        SuperheatF = 12.0,
        SubcoolingF = 6.0,
        LiquidShare = 0.160,
        SuperheatShare = 0.102,
        OutdoorCharge = 0.90,
        LineCharge = 0.25,
        IndoorCharge = 0.64,
        SubcoolingGain = 0.018,
        FlashLoss = 1.8,
        DropExponent = 0.54,
        SuctionWeight = 0.04,
    };

    /// <summary>The parameters of a metering device.</summary>
    public static CycleParameters Of(Metering metering) => metering == Metering.FixedOrifice ? Orifice : Valve;
}
