namespace Revisit.Physics;

/// <summary>The numbers of the model that the rated point does not give.</summary>
/// <remarks>
/// <para>Fitted by least squares, R-410A, EER 12. With a valve to: capacity and EIR of the one-speed curves of cutler_curves.csv, 57…72 °F
/// wet bulb, 75…115 °F outdoors; cutler_airflow.csv at 50, 75 and 125 % (50 and 125 % loosely); fault_charge_nist.csv, −30…+20 %, 95 °F
/// closely and 82 °F loosely; splits of cooling_acm.csv and hpdm_two_stage_r410a.csv, loosely; EIR and condensing temperature at 75 and
/// 50 % outdoor air (from memory).</para>
/// <para>The orifice shares the coils and the compressor; its own numbers were fitted to rule_target_superheat.csv (75…110 °F outdoors,
/// 58…74 °F wet bulb, 80 °F dry bulb), the capacity curves, the rooftop undercharge row of fault_cheung_braun.csv, and superheat
/// +12/−10 °F for ∓10 % of charge (an assumption). Its flow came out free of suction pressure, as a choked orifice's is.</para>
/// <para>Four numbers stand at limits set beforehand: <see cref="EfficiencyCurve"/>, and the orifice's <see cref="OutdoorCharge"/>,
/// <see cref="SubcoolingF"/> and <see cref="SubcoolingGain"/>, where wider limits met the charge row more closely with a subcooling that
/// hardly moves with charge, and non-condensables that flood the coil.</para>
/// <para>Which numbers were fitted to and which never seen is marked in the agreement table of the tests.</para>
/// </remarks>
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
    public double IndoorUnits { get; init; } = 1.9453;

    /// <summary>Exponent of airflow in the indoor coil's air-side conductance.</summary>
    public double IndoorAirExponent { get; init; } = 0.6084;

    /// <summary>Exponent of refrigerant flow in the indoor coil's inner conductance.</summary>
    public double IndoorFlowExponent { get; init; } = 0.3901;

    /// <summary>Transfer units of the outdoor coil at rated conditions.</summary>
    public double OutdoorUnits { get; init; } = 1.7745;

    /// <summary>Exponent of airflow in the outdoor coil's conductance.</summary>
    public double OutdoorAirExponent { get; init; } = 0.4193;

    /// <summary>Loss of volumetric efficiency per pressure ratio.</summary>
    public double VolumetricSlope { get; init; } = 0.0291;

    /// <summary>Loss of efficiency by ln² of the pressure ratio over its best.</summary>
    public double EfficiencyCurve { get; init; } = 0.500;

    /// <summary>Ln of the pressure ratio of best efficiency, 2.5988.</summary>
    public double LogBestPressureRatio { get; init; } = Math.Log(2.5988);

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
    public double ClosedSuperheatF { get; init; }

    /// <summary>Superheat from closed to the valve's full stroke [°F]; 0 for an orifice.</summary>
    public double StrokeF { get; init; }

    /// <summary>Largest opening of a valve.</summary>
    public double FullOpening { get; init; }

    /// <summary>Parameters of a thermostatic valve.</summary>
    public static CycleParameters Valve { get; } = new()
    {
        SuperheatF = 10.0,
        SubcoolingF = 10.0,
        LiquidShare = 0.1363,
        SuperheatShare = 0.0774,
        OutdoorCharge = 1.0059,
        LineCharge = 0.1847,
        IndoorCharge = 1.0602,
        SubcoolingGain = 0.0694,
        FlashLoss = 0.6046,
        DropExponent = 0.5,
        SuctionWeight = 1.0,
        ClosedSuperheatF = 5.605,
        StrokeF = 6.023,
        FullOpening = 0.9978,
    };

    /// <summary>Parameters of a fixed orifice.</summary>
    public static CycleParameters Orifice { get; } = new()
    {
        SuperheatF = 12.0,
        SubcoolingF = 8.0,
        LiquidShare = 0.1732,
        SuperheatShare = 0.0782,
        OutdoorCharge = 1.200,
        LineCharge = 0.2296,
        IndoorCharge = 1.2248,
        FloodingCharge = 1.6409,
        SubcoolingGain = 0.030,
        FlashLoss = 0.9574,
        DropExponent = 0.5249,
        SuctionWeight = 0.0,
    };

    /// <summary>The parameters of a metering device.</summary>
    public static CycleParameters Of(Metering metering) => metering == Metering.FixedOrifice ? Orifice : Valve;
}
