using System.Collections.Concurrent;
using System.Numerics;
using System.Runtime.InteropServices;
using Revisit.Records;

namespace Revisit.Physics;

/// <summary>
/// What each fault at each of five severities, and airflow and charge together, change, for columns of readings: the model's own differences, tabulated over outdoor and
/// return temperature, humidity and airflow and interpolated. Coarser than <see cref="ExpectedTable"/>; the tests print the errors.
/// </summary>
/// <remarks>
/// Made for bands of rated EER and target subcooling; within one, changes follow the expected condensing temperature and subcooling in
/// proportion. Conditions beyond the grid (55…115 °F outdoors, 65…85 °F return, 180…600 scfm/ton, 6000 ft) are held at its edge.
/// Superheat and subcooling are interpolated as if they went on below 0 and cut there at last.
/// </remarks>
public sealed class SignatureTable
{
    /// <summary>Values a level: changes in the order of <see cref="EquipmentShift"/>.</summary>
    public const int Values = CycleMap.Outputs;

    private static readonly double[][] Axes =
    [
        [55, 65, 75, 85, 95, 105, 115], // outdoor dry bulb [°F]
        [65, 75, 85], // return dry bulb [°F]
        [0.004, 0.0065, 0.008, 0.0095, 0.0115, 0.015], // humidity ratio at sea level of the same vapour pressure
        [180, 250, 320, 400, 480, 600], // airflow [scfm/ton]
        [81_200, Cycle.SeaLevelPa], // barometer [Pa], about 6000 ft and sea level
    ];

    private static readonly ConcurrentDictionary<(Refrigerant, bool, double, double), SignatureTable> Tables = new();

    /// <summary>A row: the sound system's readings, then each level's changes.</summary>
    private readonly Grid _grid;

    private SignatureTable(Refrigerant refrigerant, CycleParameters parameters, double eer, double targetSubcoolingF)
    {
        var design = new CycleDesign(refrigerant, parameters, eer, targetSubcoolingF);
        _grid = new Grid(Axes, place => Node(design, refrigerant, place));
    }

    private static float[]? Node(CycleDesign design, Refrigerant refrigerant, double[] place)
    {
        CycleInputs At(Faults faults) =>
            new(design, Units.KelvinFromFahrenheit(place[0]), Units.KelvinFromFahrenheit(place[1]), Cycle.HumidityAt(place[2], place[4]), place[4], place[3] * faults.AirflowRatio, faults);
        Span<double> x = stackalloc double[4], start = stackalloc double[4], sound = stackalloc double[Values], faulty = stackalloc double[Values];
        float[] row = new float[Stride];
        CycleInputs inputs = At(Faults.None);
        EquipmentModel.Start(design, inputs, start);
        if (!CycleSolver.Solve(design, inputs, start, out CyclePoint point)) return null;
        point.Read(design, refrigerant, inputs, start, sound);
        for (int i = 0; i < Values; i++) row[i] = (float)sound[i];
        for (int level = 0; level < Levels.Count; level++)
        {
            FaultLevel fault = Levels[level];
            bool first = level == 0 || Levels[level - 1].Kind != fault.Kind || fault.With is not null;
            if (first) start.CopyTo(x);
            inputs = At(fault.Faults);
            bool solved = CycleSolver.Solve(design, inputs, x, out point, CycleSolver.TableTolerance);
            if (!solved)
            {
                start.CopyTo(x);
                solved = CycleSolver.Solve(design, At(fault.Faults.Partly(0.5)), x, out _) && CycleSolver.Solve(design, inputs, x, out point, CycleSolver.TableTolerance);
            }

            if (solved) point.Read(design, refrigerant, inputs, x, faulty);
            else start.CopyTo(x);

            // Past the last steady state the change goes on as the severity does.
            for (int i = 0; i < Values; i++)
                row[Values * (level + 1) + i] = solved ? (float)(faulty[i] - sound[i]) : first ? 0f : (float)(row[Values * level + i] * fault.Severity / Levels[level - 1].Severity);
        }

        return row;
    }

    /// <summary>Every fault at five severities, then airflow and charge wrong together (their changes do not simply add).</summary>
    public static IReadOnlyList<FaultLevel> Levels { get; } =
    [
        .. At(FaultKind.AirflowLow, 0.1, 0.2, 0.3, 0.4, 0.5), .. At(FaultKind.AirflowHigh, 0.1, 0.25, 0.4, 0.6, 0.8),
        .. At(FaultKind.ChargeLow, 0.05, 0.1, 0.2, 0.3, 0.4), .. At(FaultKind.ChargeHigh, 0.05, 0.1, 0.15, 0.25, 0.35),
        .. At(FaultKind.LiquidRestriction, 0.1, 0.2, 0.3, 0.5, 0.8), .. At(FaultKind.CondenserAirflowLow, 0.1, 0.2, 0.3, 0.4, 0.5),
        .. At(FaultKind.NonCondensables, 0.1, 0.2, 0.4, 0.6, 0.8), .. At(FaultKind.ValveLeak, 0.1, 0.2, 0.3, 0.4, 0.5),
        .. At(FaultKind.EfficiencyLoss, 0.1, 0.2, 0.3, 0.4, 0.5),
        .. from air in new[] { FaultKind.AirflowLow, FaultKind.AirflowHigh }
           from charge in new[] { FaultKind.ChargeLow, FaultKind.ChargeHigh }
           from airSeverity in new[] { 0.2, 0.4 }
           from chargeSeverity in new[] { 0.1, 0.2, 0.35 }
           select new FaultLevel(air, airSeverity, charge, chargeSeverity),
    ];

    private static int Stride { get; } = Values * (Levels.Count + 1);

    /// <summary>The table of an equipment; size and airflow do not matter. Its nodes are made as readings need them, about half a millisecond each.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A value outside its range; the message holds both.</exception>
    public static SignatureTable For(Equipment equipment)
    {
        EquipmentLimits.Check(equipment);
        (double eer, double target) = EquipmentLimits.Band(equipment.Metering, equipment.RatedEer, equipment.TargetSubcoolingF);
        return Tables.GetOrAdd((equipment.Refrigerant, equipment.Metering == Metering.FixedOrifice, eer, target), key => new(key.Item1, CycleParameters.Of(equipment.Metering), key.Item3, key.Item4));
    }

    /// <summary>Changes of one reading under every level.</summary>
    /// <param name="conditions">What the system runs in.</param>
    /// <param name="airflowScfmPerTon">Indoor airflow without the fault [scfm/ton], 100…1000.</param>
    /// <param name="expected">The same reading's expected values from <see cref="ExpectedTable"/>.</param>
    /// <param name="shifts">Receives <see cref="Levels"/> × <see cref="Values"/> numbers, a level's values together.</param>
    /// <returns>False, and zeros, where the expected values are not known or a condition is outside its range.</returns>
    /// <exception cref="ArgumentException">A span of another length.</exception>
    public bool Shifts(in EquipmentConditions conditions, double airflowScfmPerTon, in ExpectedReading expected, Span<float> shifts)
    {
        if (shifts.Length != Stride - Values) throw new ArgumentException($"{Stride - Values} values do not fit a result of {shifts.Length}.");
        if (!expected.Known || !EquipmentLimits.Holds(conditions, airflowScfmPerTon, out double pa, out double humidity))
        {
            shifts.Clear();
            return false;
        }

        Span<float> row = stackalloc float[Stride];
        if (!Interpolate([conditions.OutdoorDbF, conditions.ReturnDbF, Cycle.SeaLevelHumidity(humidity, pa), airflowScfmPerTon, pa], row))
        {
            shifts.Clear();
            return false;
        }

        // Other ratings: condensing over outdoor, and subcooling where it falls, in proportion to what is expected.
        double condensing = expected.CondensingOverOutdoorF / Math.Max(1.0, row[1]), subcooling = expected.SignedSubcoolingF / Math.Max(1.0, row[3]);
        row[Values..].CopyTo(shifts);
        for (int level = 0; level < shifts.Length; level += Values)
        {
            shifts[level + 1] *= (float)condensing;
            if (shifts[level + 3] < 0f) shifts[level + 3] *= (float)subcooling;
            shifts[level + 2] = (float)(Math.Max(0.0, expected.SignedSuperheatF + shifts[level + 2]) - expected.SuperheatF);
            shifts[level + 3] = (float)(Math.Max(0.0, expected.SignedSubcoolingF + shifts[level + 3]) - expected.SubcoolingF);
        }

        return true;
    }

    private bool Interpolate(ReadOnlySpan<double> place, Span<float> row)
    {
        Span<int> nodes = stackalloc int[32];
        Span<double> weights = stackalloc double[32];
        (int count, _) = _grid.Corners(place, nodes, weights);
        row.Clear();
        Span<Vector<float>> sums = MemoryMarshal.Cast<float, Vector<float>>(row);
        for (int k = 0; k < count; k++)
        {
            float[] node = _grid.Row(nodes[k]);
            if (node.Length == 0) return false;
            ReadOnlySpan<Vector<float>> values = MemoryMarshal.Cast<float, Vector<float>>(node);
            var weight = new Vector<float>((float)weights[k]);
            for (int i = 0; i < sums.Length; i++) sums[i] += weight * values[i];
            for (int i = sums.Length * Vector<float>.Count; i < row.Length; i++) row[i] += (float)weights[k] * node[i];
        }

        return true;
    }

    private static IEnumerable<FaultLevel> At(FaultKind kind, params double[] severities) => severities.Select(s => new FaultLevel(kind, s));
}
