using Revisit.Records;

namespace Revisit.Physics.Tests;

/// <summary>Short ways to ask the model in the terms of the published tables.</summary>
internal static class Trial
{
    public static Equipment Unit(Metering metering, string refrigerant = "R-410A", double eer = 12.0, double subcooling = 10.0, double airflow = 400.0)
    {
        Assert.True(Refrigerants.TryFind(refrigerant, out var found));
        return new Equipment(found, metering, 3.0, eer, subcooling, airflow);
    }

    public static EquipmentState Run(Equipment unit, double outdoorF, double wetBulbF = 67.0, double dryF = 80.0, Faults? faults = null, double elevationFt = 0.0) =>
        EquipmentModel.Solve(new EquipmentConditions(outdoorF, dryF, wetBulbF, elevationFt), unit, faults ?? Faults.None).State;

    /// <summary>Energy input ratio over its rated value.</summary>
    public static double Eir(EquipmentState state) => state.PowerRatio / state.CapacityRatio;

    public static double WetBulbF(double dryF, double rhPct, double elevationFt = 0.0)
    {
        double pa = MoistAir.StandardPressure(elevationFt * Units.MetrePerFoot), dryC = Units.CelsiusFromFahrenheit(dryF);
        return Units.FahrenheitFromCelsius(MoistAir.WetBulb(dryC, MoistAir.HumidityRatioFromRelativeHumidity(dryC, rhPct / 100.0, pa), pa));
    }
}
