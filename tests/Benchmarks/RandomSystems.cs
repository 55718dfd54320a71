using Revisit.Diagnosis;
using Revisit.Physics;
using Revisit.Records;

namespace Benchmarks;

/// <summary>Random running systems for timing: R-410A, in the ranges of ordinary visits, half at sea level; the same numbers every run.</summary>
internal sealed class RandomSystems
{
    private readonly Random _random = new(20_261_101);

    public static Refrigerant Refrigerant { get; } = Refrigerants.TryFind("R-410A", out var found) ? found : throw new InvalidOperationException("R-410A is not in the table.");

    public double Between(double low, double high) => low + (high - low) * _random.NextDouble();

    public static Equipment Unit(Metering metering) => new(Refrigerant, metering, 3.0);

    public EquipmentConditions Conditions()
    {
        double elevation = _random.Next(2) == 0 ? 0 : Between(0, 6_000), dry = Between(68, 86), dryC = Units.CelsiusFromFahrenheit(dry);
        double pa = MoistAir.StandardPressure(elevation * Units.MetrePerFoot);
        double wetC = MoistAir.WetBulb(dryC, MoistAir.HumidityRatioFromRelativeHumidity(dryC, Between(0.3, 0.7), pa), pa);
        return new(Between(60, 110), dry, Units.FahrenheitFromCelsius(wetC), elevation);
    }

    /// <summary>Airflow [scfm/ton].</summary>
    public double Airflow() => Between(250, 550);

    /// <summary>Charge and both airs away from right; each other fault in half of the systems.</summary>
    public Faults Faults()
    {
        double Half(double high) => _random.Next(2) == 0 ? 0 : Between(0, high);
        return new(Between(0.6, 1.4), Between(0.7, 1.3), Between(0.6, 1.1), Half(0.8), Half(0.6), Half(0.3), Half(0.3));
    }

    /// <summary>A reading with every value present: what the model says of a sound system, with half a degree and 3 % of airflow of noise.</summary>
    public ReadingInputs Reading()
    {
        while (true)
        {
            EquipmentConditions c = Conditions();
            Equipment unit = Unit(_random.Next(3) == 0 ? Metering.FixedOrifice : Metering.Txv) with { AirflowScfmPerTon = Airflow() };
            if (!EquipmentModel.Expected(c, unit).TryGet(out EquipmentState s) || s.SupplyDbF < 42) continue;
            var reading = new ReadingInputs
            {
                Refrigerant = Refrigerant.Designation,
                Fluid = Refrigerant,
                Metering = unit.Metering == Metering.Txv ? "txv" : "fixed_orifice",
                FilterState = "clean",
                AirflowMethod = "flow_grid",
                Elevation = c.ElevationFt,
                NominalTons = unit.NominalTons,
                RatedCooling = unit.NominalTons * Units.BtuhPerTon,
                RatedEer = unit.RatedEer,
                TargetSubcooling = unit.TargetSubcoolingF,
                TargetSuperheat = 10,
                DesignAirflow = 400 * unit.NominalTons,
                MinutesRunning = 20,
                OutdoorDb = c.OutdoorDbF,
                ReturnDb = c.ReturnDbF,
                ReturnWb = c.ReturnWbF,
                SupplyDb = s.SupplyDbF + SoundSystem.BlowerHeatF + Between(-0.5, 0.5),
                SupplyWb = s.SupplyWbF - 0.5,
                SuctionPressure = s.SuctionPressurePsig,
                LiquidPressure = s.LiquidPressurePsig,
                SuctionLine = s.SuctionLineF + Between(0, 0.5),
                LiquidLine = s.LiquidLineF - Between(0, 0.5),
                Airflow = unit.AirflowScfmPerTon * unit.NominalTons * Between(0.97, 1.03),
                ExternalStatic = Between(0.3, 0.9),
            };
            reading.Equipment = SoundSystem.Of(reading);
            return reading;
        }
    }
}
