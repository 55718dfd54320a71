using System.Collections.Concurrent;
using Revisit.Records;

namespace Revisit.Physics;

/// <summary>
/// Expected values for columns of readings: the model solved from a tabulated starting point, ten to fifteen times as fast as
/// <see cref="EquipmentModel.Expected"/> and within hundredths of a °F of it (errors and time are held and printed by the tests).
/// </summary>
/// <remarks>The same input gives the same bits, whatever was asked before. Safe for use by several threads.</remarks>
public sealed class ExpectedTable
{
    private static readonly ConcurrentDictionary<(Refrigerant, bool, double, double), ExpectedTable> Tables = new();

    private readonly CycleDesign _design;
    private readonly CycleMap _map;
    private readonly Refrigerant _refrigerant;

    private ExpectedTable(Refrigerant refrigerant, Metering metering, double eer, double targetSubcoolingF)
    {
        _refrigerant = refrigerant;
        _design = new CycleDesign(refrigerant, CycleParameters.Of(metering), eer, targetSubcoolingF);
        _map = CycleMap.Of(refrigerant, metering, eer, targetSubcoolingF);
    }

    /// <summary>The table of an equipment; size and airflow do not matter. Its starting points are made as readings need them, a cell of conditions at a time.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A value outside its range; the message holds both.</exception>
    public static ExpectedTable For(Equipment equipment)
    {
        EquipmentLimits.Check(equipment);
        bool orifice = equipment.Metering == Metering.FixedOrifice;
        return Tables.GetOrAdd(
            (equipment.Refrigerant, orifice, equipment.RatedEer, orifice ? 0.0 : equipment.TargetSubcoolingF),
            key => new ExpectedTable(key.Item1, equipment.Metering, key.Item3, equipment.TargetSubcoolingF));
    }

    /// <summary>Expected values of one reading.</summary>
    /// <param name="conditions">What the system runs in.</param>
    /// <param name="airflowScfmPerTon">Indoor airflow [scfm/ton], 100…1000.</param>
    /// <returns>The values; not <see cref="ExpectedReading.Known"/> where there is no steady state or a value is outside its range or NaN.</returns>
    public ExpectedReading Expected(in EquipmentConditions conditions, double airflowScfmPerTon)
    {
        if (!EquipmentLimits.Holds(conditions, airflowScfmPerTon, out double pa, out double humidity)) return ExpectedReading.None;
        var inputs = new CycleInputs(_design, Units.KelvinFromFahrenheit(conditions.OutdoorDbF), Units.KelvinFromFahrenheit(conditions.ReturnDbF), humidity, pa, airflowScfmPerTon, Faults.None);
        return _map.Read(_design, _refrigerant, inputs, airflowScfmPerTon);
    }

    /// <summary>Expected values of columns of readings.</summary>
    /// <param name="conditions">What the system ran in, n readings.</param>
    /// <param name="airflowScfmPerTon">Indoor airflow [scfm/ton], n values.</param>
    /// <param name="expected">Receives n readings.</param>
    /// <exception cref="ArgumentException">Spans of different lengths.</exception>
    public void Expected(ReadOnlySpan<EquipmentConditions> conditions, ReadOnlySpan<double> airflowScfmPerTon, Span<ExpectedReading> expected)
    {
        if (conditions.Length != expected.Length || airflowScfmPerTon.Length != expected.Length)
            throw new ArgumentException($"Columns of {conditions.Length} and {airflowScfmPerTon.Length} values do not fit a result of {expected.Length}.");
        for (int i = 0; i < expected.Length; i++) expected[i] = Expected(conditions[i], airflowScfmPerTon[i]);
    }
}
