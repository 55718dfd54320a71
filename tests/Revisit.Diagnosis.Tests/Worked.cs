using Revisit.Physics;
using Revisit.Records;

namespace Revisit.Diagnosis.Tests;

/// <summary>Worked readings: what a gauge and thermometers show for given saturation temperatures, built back through saturation pressures.</summary>
internal static class Worked
{
    /// <summary>A 3-ton R-410A system at 80/67 °F indoors at sea level; defaults are what a sound one reads at 95 °F (common practice, no source).</summary>
    public static ReadingInputs Reading(
        string metering = "txv", double outdoor = 95, double returnDb = 80, double returnWb = 67,
        double evaporating = 48, double superheat = 10, double subcooling = 10, double condensingOver = 18, double split = 20.6,
        double targetSubcooling = 10, double airflow = double.NaN, string refrigerant = "R-410A", double elevation = 0)
    {
        Assert.True(Refrigerants.TryFind(refrigerant, out var fluid));
        var barometer = MoistAir.StandardPressure(double.IsNaN(elevation) ? 0 : elevation * Units.MetrePerFoot);
        double Psig(double pa) => (pa - barometer) / Units.PascalPerPsi;
        var condensing = outdoor + condensingOver;
        return new ReadingInputs
        {
            Refrigerant = refrigerant,
            Metering = metering,
            Elevation = elevation,
            NominalTons = 3,
            RatedEer = 12,
            TargetSubcooling = metering == "fixed_orifice" ? double.NaN : targetSubcooling,
            MinutesRunning = 20,
            FilterState = "clean",
            OutdoorDb = outdoor,
            ReturnDb = returnDb,
            ReturnWb = returnWb,
            SupplyDb = returnDb - split,
            SuctionPressure = Psig(fluid.DewPressure(Units.KelvinFromFahrenheit(evaporating))),
            LiquidPressure = Psig(fluid.BubblePressure(Units.KelvinFromFahrenheit(condensing))),
            SuctionLine = evaporating + superheat,
            LiquidLine = condensing - subcooling,
            Airflow = airflow,
            AirflowMethod = double.IsNaN(airflow) ? null : "flow_grid",
        };
    }

    public static MetricSet Metrics(in ReadingInputs x)
    {
        var m = new MetricSet();
        ReadingMetrics.Compute(x, m);
        return m;
    }

    public static Judgement Judge(in ReadingInputs x)
    {
        var judged = new Judgement();
        new FindingRules().Judge(x, Metrics(x), judged);
        return judged;
    }
}
