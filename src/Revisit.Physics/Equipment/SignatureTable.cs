using System.Collections.Concurrent;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
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
        Span<double> x = stackalloc double[4], sound = stackalloc double[4], near = stackalloc double[4], soundReadings = stackalloc double[Values], faulty = stackalloc double[Values];
        Span<double> inverse = stackalloc double[16], learned = stackalloc double[16];
        float[] row = new float[Stride];
        CycleInputs inputs = At(Faults.None);
        EquipmentModel.Start(design, inputs, sound);
        if (!CycleSolver.Solve(design, inputs, sound, out CyclePoint point) || !CycleSolver.Inverse(design, inputs, sound, point, inverse)) return null;
        point.Read(design, refrigerant, inputs, sound, soundReadings);
        for (int i = 0; i < Values; i++) row[i] = (float)soundReadings[i];
        for (int level = 0; level < Levels.Count; level++)
        {
            FaultLevel fault = Levels[level], last = level == 0 ? default : Levels[level - 1];
            bool first = level == 0 || last.Kind != fault.Kind || fault.With is not null;
            if (first && !(last.Kind == fault.Kind && last.With == fault.With && last.Severity == fault.Severity))
            {
                sound.CopyTo(near);
                inverse.CopyTo(learned);
            }

            inputs = At(fault.Faults);
            bool solved = CycleSolver.SolveNear(design, inputs, near, learned, x, out point);
            (solved ? x : sound).CopyTo(near);
            if (solved) point.Read(design, refrigerant, inputs, x, faulty);
            else inverse.CopyTo(learned);

            // Past the last steady state the change goes on as the severity does.
            for (int i = 0; i < Values; i++)
                row[Values * (level + 1) + i] = solved ? (float)(faulty[i] - soundReadings[i]) : first ? 0f : (float)(row[Values * level + i] * fault.Severity / Levels[level - 1].Severity);
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

    /// <summary>The table of an equipment; size and airflow do not matter. Its nodes are made as readings need them, about a quarter of a millisecond each.</summary>
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

        // Other ratings: condensing over outdoor, and subcooling where it falls, in proportion to what is expected. Superheat and
        // subcooling, third and fourth, are cut at 0 at last.
        float condensing = (float)(expected.CondensingOverOutdoorF / Math.Max(1.0, row[1])), subcooling = (float)(expected.SignedSubcoolingF / Math.Max(1.0, row[3]));
        const float none = float.NegativeInfinity;
        Vector256<float> rising = Vector256.Create(1f, condensing, 1f, 1f, 1f, 1f, 1f, 1f), falling = rising.WithElement(3, subcooling), least = Vector256.Create(none, none, 0f, 0f, none, none, none, none);
        Vector256<float> sound = Vector256.Create(0f, 0f, (float)expected.SignedSuperheatF, (float)expected.SignedSubcoolingF, 0f, 0f, 0f, 0f), shown = Vector256.Max(sound, Vector256<float>.Zero);
        for (int level = 0; level < shifts.Length; level += Values)
        {
            Vector256<float> change = Vector256.Create(row[(level + Values)..]);
            change *= Vector256.ConditionalSelect(Vector256.LessThan(change, Vector256<float>.Zero), falling, rising);
            (Vector256.Max(change + sound, least) - shown).CopyTo(shifts[level..]);
        }

        return true;
    }

    private bool Interpolate(ReadOnlySpan<double> place, Span<float> row)
    {
        Span<int> nodes = stackalloc int[32];
        Span<double> weights = stackalloc double[32];
        int count = _grid.Corners(place, nodes, weights);
        row.Clear();
        Span<Vector256<float>> sums = MemoryMarshal.Cast<float, Vector256<float>>(row);

        // Four rows at a time, so that sums are fetched and put back less often.
        int k = 0;
        for (; k + 4 <= count; k += 4)
        {
            if (!RowAt(nodes[k], sums.Length, out var a) || !RowAt(nodes[k + 1], sums.Length, out var b)
                || !RowAt(nodes[k + 2], sums.Length, out var c) || !RowAt(nodes[k + 3], sums.Length, out var d)) return false;
            Vector256<float> wa = Vector256.Create((float)weights[k]), wb = Vector256.Create((float)weights[k + 1]), wc = Vector256.Create((float)weights[k + 2]), wd = Vector256.Create((float)weights[k + 3]);
            for (int i = 0; i < sums.Length; i++) sums[i] = sums[i] + wa * a[i] + wb * b[i] + wc * c[i] + wd * d[i];
        }

        for (; k < count; k++)
        {
            if (!RowAt(nodes[k], sums.Length, out var a)) return false;
            Vector256<float> wa = Vector256.Create((float)weights[k]);
            for (int i = 0; i < sums.Length; i++) sums[i] += wa * a[i];
        }

        return true;
    }

    private bool RowAt(int node, int length, out ReadOnlySpan<Vector256<float>> values)
    {
        values = MemoryMarshal.Cast<float, Vector256<float>>(_grid.Row(node));
        if (values.IsEmpty) return false;
        values = values[..length];
        return true;
    }

    private static IEnumerable<FaultLevel> At(FaultKind kind, params double[] severities) => severities.Select(s => new FaultLevel(kind, s));
}
