using Revisit.Records;

namespace Revisit.Physics;

/// <summary>
/// A compact steady-state model of a split system in cooling: compressor, wet indoor coil, outdoor coil, valve or fixed orifice, charge.
/// It says what a sound system reads, what a fault changes, and what a correction would change.
/// </summary>
/// <remarks>
/// <para>Four balances (flow, indoor coil, outdoor coil, charge) in four unknowns, solved by Newton's method; everything is per ton, so
/// size scales capacity and power only. The equations stand in <see cref="CyclePoint"/> and <see cref="Cycle"/>, the numbers and what
/// they were fitted to in <see cref="CycleParameters"/>, the agreement with published results in the tests.</para>
/// <para>An input that can be is solved, or the result says why not. Only an argument outside its range throws.</para>
/// </remarks>
public static class EquipmentModel
{
    /// <summary>What a sound system reads.</summary>
    /// <param name="conditions">What it runs in.</param>
    /// <param name="equipment">The system.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value outside its range; the message holds both.</exception>
    public static EquipmentResult Expected(in EquipmentConditions conditions, Equipment equipment) => Solve(conditions, equipment, Faults.None);

    /// <summary>What a system with faults reads.</summary>
    /// <param name="conditions">What it runs in.</param>
    /// <param name="equipment">The system.</param>
    /// <param name="faults">What is wrong with it.</param>
    /// <param name="variation">How this unit differs from the usual one; null for the usual one.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value outside its range; the message holds both.</exception>
    public static EquipmentResult Solve(in EquipmentConditions conditions, Equipment equipment, Faults faults, EquipmentVariation? variation = null)
    {
        EquipmentLimits.Check(equipment);
        EquipmentLimits.Check(conditions);
        EquipmentLimits.Check(equipment, faults);
        return Solve(conditions, equipment, faults, new CycleDesign(equipment.Refrigerant, (variation ?? EquipmentVariation.None).Of(CycleParameters.Of(equipment.Metering)), equipment.RatedEer, equipment.TargetSubcoolingF));
    }

    /// <summary>What one fault changes, at one severity.</summary>
    /// <param name="conditions">What the system runs in.</param>
    /// <param name="equipment">The system.</param>
    /// <param name="fault">The fault.</param>
    /// <param name="severity">How bad, as <see cref="FaultKind"/> counts it; 0 is sound.</param>
    /// <param name="shift">Readings with the fault less readings of the sound system.</param>
    /// <returns>False if one of the two has no steady state.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A value outside its range; the message holds both.</exception>
    public static bool Signature(in EquipmentConditions conditions, Equipment equipment, FaultKind fault, double severity, out EquipmentShift shift) =>
        WhatIf(conditions, equipment, Faults.None, Faults.Of(fault, severity), out shift);

    /// <summary>What a correction would change: the next blower tap down is another airflow ratio, ounces are <see cref="Faults.WithChargeAdded"/>.</summary>
    /// <param name="conditions">What the system runs in.</param>
    /// <param name="equipment">The system.</param>
    /// <param name="now">The faults as they are believed to be.</param>
    /// <param name="then">The faults after the correction.</param>
    /// <param name="shift">Readings then less readings now.</param>
    /// <returns>False if one of the two has no steady state.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A value outside its range; the message holds both.</exception>
    public static bool WhatIf(in EquipmentConditions conditions, Equipment equipment, Faults now, Faults then, out EquipmentShift shift)
    {
        bool both = Solve(conditions, equipment, now).TryGet(out EquipmentState before) & Solve(conditions, equipment, then).TryGet(out EquipmentState after);
        shift = both ? after.Minus(before) : default;
        return both;
    }

    internal static EquipmentResult Solve(in EquipmentConditions conditions, Equipment equipment, Faults faults, CycleDesign design)
    {
        CycleInputs inputs = Inputs(conditions, equipment.AirflowScfmPerTon, faults, design);
        Span<double> x = stackalloc double[4];
        Start(design, inputs, x);
        EquipmentOutcome outcome = CycleSolver.Solve(design, inputs, x, out CyclePoint point)
            ? Limit(equipment.Refrigerant, point)
            : Approach(conditions, equipment, faults, design, out point);
        return new EquipmentResult(outcome, outcome == EquipmentOutcome.Solved ? State(equipment, inputs, design, point) : default);
    }

    /// <summary>Share of the pressure of 150 °F, about 138 °F, from which a path that ends is taken to have run into the limit.</summary>
    private const double RunAway = 0.85;

    /// <summary>Lets the faults grow from nothing: about one input in a thousand needs it, most of them to find the pressure limit on the way.</summary>
    private static EquipmentOutcome Approach(in EquipmentConditions conditions, Equipment equipment, Faults faults, CycleDesign design, out CyclePoint point)
    {
        Span<double> x = stackalloc double[4], trial = stackalloc double[4];
        CycleInputs inputs = Inputs(conditions, equipment.AirflowScfmPerTon, Faults.None, design);
        Start(design, inputs, x);
        if (!CycleSolver.Solve(design, inputs, x, out point)) return EquipmentOutcome.NotFound;
        double reached = 0.0, step = 0.25;
        while (reached < 1.0)
        {
            double next = Math.Min(1.0, reached + step);
            x.CopyTo(trial);
            inputs = Inputs(conditions, equipment.AirflowScfmPerTon, faults.Partly(next), design);
            if (CycleSolver.Solve(design, inputs, trial, out CyclePoint here))
            {
                EquipmentOutcome outcome = Limit(equipment.Refrigerant, here);
                if (outcome != EquipmentOutcome.Solved) return outcome;
                trial.CopyTo(x);
                (point, reached) = (here, next);
            }
            else
            {
                // Shortly before the limit a flooded outdoor coil runs away: pressure climbs the faster the nearer it is.
                step *= 0.5;
                if (step < 1e-3) return point.LiquidPa > RunAway * equipment.Refrigerant.MaxBubblePressurePa ? EquipmentOutcome.BeyondHighPressureLimit : EquipmentOutcome.NotFound;
            }
        }

        return EquipmentOutcome.Solved;
    }

    internal static CycleInputs Inputs(in EquipmentConditions conditions, double scfmPerTon, Faults faults, CycleDesign design)
    {
        double pa = Units.StandardBarometerPascal(conditions.ElevationFt * Units.MetrePerFoot);
        double humidity = MoistAir.HumidityRatioFromWetBulb(Units.CelsiusFromFahrenheit(conditions.ReturnDbF), Units.CelsiusFromFahrenheit(conditions.ReturnWbF), pa);
        return new CycleInputs(design, Units.KelvinFromFahrenheit(conditions.OutdoorDbF), Units.KelvinFromFahrenheit(conditions.ReturnDbF), humidity, pa, scfmPerTon * faults.AirflowRatio, faults);
    }

    /// <summary>The rated state moved by most of the outdoor, and some of the return, temperature's distance from rated.</summary>
    internal static void Start(CycleDesign design, in CycleInputs inputs, Span<double> x)
    {
        const double logPerKelvin = 0.026;
        x[0] = design.LogEvaporating + 0.35 * logPerKelvin * (inputs.ReturnK - Units.KelvinFromFahrenheit(80.0));
        x[1] = design.LogCondensing + 0.97 * logPerKelvin * (inputs.OutdoorK - Units.KelvinFromFahrenheit(95.0));
        x[2] = design.LiquidShare;
        x[3] = design.Parameters.SuperheatShare;
    }

    private static EquipmentOutcome Limit(Refrigerant refrigerant, in CyclePoint point) =>
        point.LiquidPa > refrigerant.CycleMaxPa ? EquipmentOutcome.BeyondHighPressureLimit
        : point.SuctionPa < refrigerant.MinDewPressurePa ? EquipmentOutcome.BeyondLowPressureLimit
        : EquipmentOutcome.Solved;

    private static EquipmentState State(Equipment equipment, in CycleInputs inputs, CycleDesign design, in CyclePoint point)
    {
        double outdoorF = Units.FahrenheitFromKelvin(inputs.OutdoorK), returnF = Units.FahrenheitFromKelvin(inputs.ReturnK);
        double liquidF = Units.FahrenheitFromKelvin(point.High.BubbleK - point.SubcoolingK + point.LiquidQuality * point.High.Glide);
        double condensingF = Units.FahrenheitFromKelvin(equipment.Refrigerant.CycleBubbleTemperature(point.LiquidPa));
        double supplyF = Units.FahrenheitFromCelsius(point.LeavingC);

        // Air mixed from the return and the surface can hold a trace more than saturated air: the wet bulb is then the dry bulb.
        double humidity = Math.Min(point.LeavingHumidity, MoistAir.SaturatedHumidityRatio(point.LeavingC, inputs.BarometerPa));
        double wetBulbF = Units.FahrenheitFromCelsius(MoistAir.WetBulb(point.LeavingC, humidity, inputs.BarometerPa));
        double sensible = inputs.Air * (1006.0 + 1860.0 * inputs.Humidity) * (inputs.ReturnK - 273.15 - point.LeavingC);
        double power = point.CompressorPower + design.FanPower, btuh = equipment.NominalTons / Units.WattPerBtuh;
        EquipmentFlags flags = (Units.FahrenheitFromKelvin(point.Low.DewK) < 32.0 ? EquipmentFlags.CoilBelowFreezing : 0)
            | (point.SuperheatK <= 0.0 ? EquipmentFlags.FloodedSuction : 0)
            | (point.LiquidQuality > 0.0 ? EquipmentFlags.VapourInLiquid : 0)
            | (point.LiquidPa > equipment.Refrigerant.MaxBubblePressurePa ? EquipmentFlags.OverCutOut : 0);
        return new EquipmentState(
            EvaporatingF: Units.FahrenheitFromKelvin(point.Low.DewK),
            CondensingF: condensingF,
            SuperheatF: 1.8 * point.SuperheatK,
            SubcoolingF: condensingF - liquidF,
            DischargeLineF: Units.FahrenheitFromKelvin(point.High.DewK + point.High.Superheat(point.DischargeEnthalpy)),
            SupplyDbF: supplyF,
            SupplyWbF: wetBulbF,
            TemperatureSplitF: returnF - supplyF,
            CondensingOverOutdoorF: condensingF - outdoorF,
            LiquidOverOutdoorF: liquidF - outdoorF,
            SuctionPressurePsig: (point.SuctionPa - inputs.BarometerPa) / Units.PascalPerPsi,
            LiquidPressurePsig: (point.LiquidPa - inputs.BarometerPa) / Units.PascalPerPsi,
            TotalCapacityBtuh: point.Heat * btuh,
            SensibleCapacityBtuh: Math.Min(sensible, point.Heat) * btuh,
            PowerW: power * equipment.NominalTons,
            CapacityRatio: point.Heat / design.Heat,
            PowerRatio: power / design.RatedPower,
            Flags: flags);
    }
}
