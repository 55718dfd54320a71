using Revisit.Physics;
using Revisit.Records;

namespace Revisit.Diagnosis;

/// <summary>
/// Made readings for scoring the method where no fleet with known truth is at hand: the equipment model, but every unit with its own
/// coils, settings and tolerances, and every reading with its own instrument errors, so that the method is not graded by its twin. The
/// spreads are judgement; what is scored on them holds for them, not for the field.
/// </summary>
public sealed class PerturbedSample(ulong seed)
{
    private static readonly string[] Designations = ["R-410A", "R-410A", "R-410A", "R-454B", "R-32"];
    private static readonly double[] Elevations = [0, 0, 800, 2_500, 5_200];
    private ulong state = seed;

    /// <summary>A sound system, or one with a fault.</summary>
    /// <param name="kind">The fault; null for a sound system.</param>
    /// <param name="severity">How bad, as <see cref="FaultKind"/> counts it.</param>
    public SampleReading Next(FaultKind? kind, double severity)
    {
        while (true)
        {
            if (TryMake(kind, severity, out var reading))
            {
                return new(reading, kind is { } k && severity > Tolerable(k) ? Causes.Of(k) : Causes.InLine, severity);
            }
        }
    }

    /// <summary>A reading as the method expects to meet them: causes at its base rates, severities as it weighs them.</summary>
    public SampleReading NextOfPrior()
    {
        var u = Uniform();
        for (var kind = FaultKind.AirflowLow; kind <= FaultKind.EfficiencyLoss; kind++)
        {
            if ((u -= Causes.RateOf(kind)) < 0)
            {
                var levels = SignatureTable.Levels.Where(l => l.Kind == kind).Select(l => l.Severity).ToArray();
                var pick = Uniform();
                var step = 1;
                while (step < levels.Length - 1 && (pick -= Causes.SeverityShare[step]) >= 0)
                {
                    step++;
                }

                return Next(kind, levels[step - 1] + Uniform() * (levels[step] - levels[step - 1]));
            }
        }

        return Next(null, 0);
    }

    /// <summary>Severity up to which a fault is let pass: the first of <see cref="SignatureTable.Levels"/>.</summary>
    public static double Tolerable(FaultKind kind) => SignatureTable.Levels.First(l => l.Kind == kind).Severity;

    /// <summary>A number from 0 to 1.</summary>
    public double Uniform()
    {
        // SplitMix64 (Steele, Lea and Flood 2014).
        var z = state += 0x9E3779B97F4A7C15;
        z = (z ^ z >> 30) * 0xBF58476D1CE4E5B9;
        z = (z ^ z >> 27) * 0x94D049BB133111EB;
        return ((z ^ z >> 31) >> 11) * (1.0 / (1UL << 53));
    }

    private bool TryMake(FaultKind? kind, double severity, out ReadingInputs x)
    {
        var orifice = Uniform() < 0.3;
        Refrigerants.TryFind(Designations[(int)(Uniform() * Designations.Length)], out var fluid);
        var elevation = Elevations[(int)(Uniform() * Elevations.Length)];
        var barometer = MoistAir.StandardPressure(elevation * Units.MetrePerFoot);
        var (outdoor, returnDb) = (Math.Clamp(Normal(88, 9), orifice ? 75 : 62, 108), Math.Clamp(Normal(76, 2.5), 71.5, 84));
        var returnC = Units.CelsiusFromFahrenheit(returnDb);
        var returnWb = Units.FahrenheitFromCelsius(MoistAir.WetBulb(returnC, MoistAir.HumidityRatioFromRelativeHumidity(returnC, 0.35 + 0.3 * Uniform(), barometer), barometer));
        var (tons, eer, target) = (1.5 + 0.5 * (int)(8 * Uniform()), 10 + 4 * Uniform(), Math.Round(8 + 4 * Uniform()));
        var equipment = new Equipment(fluid!, orifice ? Metering.FixedOrifice : Metering.Txv, tons, eer, target);
        var variation = new EquipmentVariation(
            Normal(0, 1.0), Normal(0, 1.6), Normal(0, 1.2), Factor(0.05), Factor(0.05), Factor(0.08), Factor(0.15));
        var fault = kind is { } k ? Faults.Of(k, severity) : Faults.None;
        var faults = fault with { AirflowRatio = fault.AirflowRatio * Factor(0.04), ChargeRatio = fault.ChargeRatio * Factor(0.018) };
        x = default;
        // Nobody sets an orifice's charge where the rule gives no superheat to set it by: such a visit is not made for a gauge test.
        if ((orifice && (3 * returnWb - 80 - outdoor) / 2 < TargetSuperheat.LeastF + 3)
            || equipment.AirflowScfmPerTon * faults.AirflowRatio is < 120 or > 900
            || !EquipmentModel.Solve(new(outdoor, returnDb, returnWb, elevation), equipment, faults, variation).TryGet(out var state)
            || state.EvaporatingF < 20 || state.Flags.HasFlag(EquipmentFlags.OverCutOut))
        {
            return false;
        }

        var density = MoistAir.Density(returnC, MoistAir.HumidityRatioFromWetBulb(returnC, Units.CelsiusFromFahrenheit(returnWb), barometer), barometer) / Units.KilogramPerCubicMetrePerLbFt3;
        var cfmPerScfm = 0.075 / density;
        x = new ReadingInputs
        {
            Refrigerant = fluid!.Designation,
            Fluid = fluid,
            Metering = orifice ? "fixed_orifice" : "txv",
            Elevation = elevation,
            NominalTons = tons,
            RatedEer = eer,
            TargetSubcooling = orifice ? double.NaN : target,
            MinutesRunning = 20,
            FilterState = "clean",
            DesignAirflow = 400 * tons * cfmPerScfm,
            OutdoorDb = Read(outdoor, 1),
            ReturnDb = Read(returnDb, 1),
            ReturnWb = Read(returnWb, 1),
            SupplyDb = Read(state.SupplyDbF + Normal(SoundSystem.BlowerHeatF, 0.3), 1),
            SuctionPressure = Gauge(state.SuctionPressurePsig),
            LiquidPressure = Gauge(state.LiquidPressurePsig),
            SuctionLine = Read(state.SuctionLineF, 1),
            LiquidLine = Read(state.LiquidLineF, 1),
        };
        if (Uniform() < 0.25)
        {
            x.Airflow = 400 * tons * cfmPerScfm * faults.AirflowRatio * Factor(InstrumentAccuracy.AirflowSdShare("flow_grid"));
            x.AirflowMethod = "flow_grid";
        }

        x.ReturnWb = Math.Min(x.ReturnWb, x.ReturnDb - 1);
        return true;
    }

    private double Read(double value, double limit) => Math.Round(value + limit * (2 * Uniform() - 1), 1);

    private double Gauge(double psig) => Math.Round(psig + Math.Max(InstrumentAccuracy.PressureFloorPsi, InstrumentAccuracy.PressureLimitShare * psig) * (2 * Uniform() - 1), 0);

    private double Factor(double sd) => Math.Max(0.6, Normal(1, sd));

    private double Normal(double mean, double sd) => mean + sd * Math.Sqrt(-2 * Math.Log(1 - Uniform())) * Math.Cos(2 * Math.PI * Uniform());
}
