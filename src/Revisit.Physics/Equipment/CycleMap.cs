using System.Collections.Concurrent;
using System.Runtime.Intrinsics;
using Revisit.Records;

namespace Revisit.Physics;

/// <summary>
/// Solutions of the sound system on a grid over outdoor and return temperature, humidity, airflow and barometer, each with the inverse
/// of its slopes. A reading starts from the interpolated solution; its balances there, times the inverse, give what is still missing.
/// </summary>
/// <remarks>
/// A map is made for a band of ratings and serves each design in it: the solutions are kept relative to the rated point, and the design's
/// own balances are what is brought to zero.
/// </remarks>
internal sealed class CycleMap
{
    /// <summary>Readings in the order of <see cref="ExpectedReading"/>.</summary>
    public const int Outputs = 8;

    /// <summary>Balances (shares of the rated value) that must hold before a straight step.</summary>
    private const double NearBalance = 0.006;

    /// <summary>Step of the readings [°F; capacity and power by 100] that may be taken straight: what it misses goes with its square.</summary>
    private const double Near = 0.25;

    private const int MostRounds = 7;
    private const int StartAt = 0, InverseAt = 4, ReadingsAt = 20, RowLength = ReadingsAt + 4 * Outputs;

    private static readonly double[][] Axes =
    [
        [45, 55, 65, 75, 85, 95, 105, 115, 125], // outdoor dry bulb [°F]
        [60, 68, 75, 82, 90, 100], // return dry bulb [°F]
        [0, 0.004, 0.006, 0.007, 0.008, 0.009, 0.0105, 0.0125, 0.015, 0.019, 0.025], // humidity ratio at sea level of the same vapour pressure; closer where coils begin to be wet
        [100, 150, 210, 280, 350, 430, 550, 750, 1000], // airflow [scfm/ton]
        [64_000, Cycle.SeaLevelPa], // barometer [Pa]
    ];

    private static readonly ConcurrentDictionary<(Refrigerant, bool, double, double), CycleMap> Maps = new();

    private readonly Grid _grid;

    private CycleMap(Refrigerant refrigerant, CycleParameters parameters, double eer, double targetSubcoolingF)
    {
        var design = new CycleDesign(refrigerant, parameters, eer, targetSubcoolingF);
        _grid = new Grid(Axes, place => Node(design, refrigerant, place));
    }

    /// <summary>The map of a refrigerant, a metering device and a rating's band.</summary>
    public static CycleMap Of(Refrigerant refrigerant, Metering metering, double eer, double targetSubcoolingF)
    {
        (double eerBand, double target) = EquipmentLimits.Band(metering, eer, targetSubcoolingF);
        return Maps.GetOrAdd((refrigerant, metering == Metering.FixedOrifice, eerBand, target), key => new(key.Item1, CycleParameters.Of(metering), key.Item3, key.Item4));
    }

    private static float[]? Node(CycleDesign design, Refrigerant refrigerant, double[] place)
    {
        double humidity = Cycle.HumidityAt(place[2], place[4]);
        var inputs = new CycleInputs(design, Units.KelvinFromFahrenheit(place[0]), Units.KelvinFromFahrenheit(place[1]), humidity, place[4], place[3], Faults.None);
        Span<double> x = stackalloc double[4], rated = stackalloc double[4], inverse = stackalloc double[16], readings = stackalloc double[4 * Outputs];
        EquipmentModel.Start(design, inputs, x);
        if (!CycleSolver.Solve(design, inputs, x, out _) || !CycleSlopes.At(design, refrigerant, inputs, x, inverse, readings)) return null;
        Rated(design, rated);
        float[] row = new float[RowLength];
        for (int i = 0; i < 4; i++) row[StartAt + i] = (float)(x[i] - rated[i]);
        for (int i = 0; i < 16; i++) row[InverseAt + i] = (float)inverse[i];
        for (int i = 0; i < readings.Length; i++) row[ReadingsAt + i] = (float)readings[i];
        return row;
    }

    /// <summary>Solves and reads, or says that there is no steady state.</summary>
    public ExpectedReading Read(CycleDesign design, Refrigerant refrigerant, in CycleInputs c, double scfmPerTon)
    {
        Span<double> x = stackalloc double[4], readings = stackalloc double[Outputs];
        CyclePoint point = default;
        if (Start(design, c, scfmPerTon, x, out ReadOnlySpan<float> node))
        {
            Span<double> inverse = stackalloc double[16], step = stackalloc double[4], before = stackalloc double[4], change = stackalloc double[Outputs];
            for (int i = 0; i < 16; i++) inverse[i] = node[InverseAt + i];
            for (int round = 0; round < MostRounds; round++)
            {
                point.Evaluate(design, c, x[0], x[1], x[2], x[3]);
                if (round > 0) Learn(inverse, step, before, point);
                (before[0], before[1], before[2], before[3]) = (point.Miss0, point.Miss1, point.Miss2, point.Miss3);
                Multiply(inverse, before, step);
                if (point.Worst < NearBalance && IsNear(node[ReadingsAt..], step, change))
                {
                    point.Read(design, refrigerant, c, x, readings);
                    for (int i = 0; i < Outputs; i++) readings[i] -= change[i];
                    return ExpectedReading.Of(refrigerant, point, readings);
                }

                for (int i = 0; i < 4; i++) x[i] -= step[i];
                x[2] = Math.Clamp(x[2], -0.9, 0.9);
                x[3] = Math.Clamp(x[3], -0.9, 0.9);
            }

            if (CycleSolver.Solve(design, c, x, out point))
            {
                point.Read(design, refrigerant, c, x, readings);
                ExpectedReading reading = ExpectedReading.Of(refrigerant, point, readings);
                if (reading.Known) return reading;
            }
        }

        EquipmentModel.Start(design, c, x);
        if (!CycleSolver.Solve(design, c, x, out point)) return ExpectedReading.None;
        point.Read(design, refrigerant, c, x, readings);
        return ExpectedReading.Of(refrigerant, point, readings);
    }

    /// <summary>Gives the step of the readings.</summary>
    private static bool IsNear(ReadOnlySpan<float> slopes, ReadOnlySpan<double> step, Span<double> change)
    {
        for (int i = 0; i < Outputs; i++)
            change[i] = slopes[4 * i] * step[0] + slopes[4 * i + 1] * step[1] + slopes[4 * i + 2] * step[2] + slopes[4 * i + 3] * step[3];
        for (int i = 0; i < 6; i++)
            if (!(Math.Abs(change[i]) < Near)) return false;
        return Math.Abs(change[6]) < 0.01 * Near && Math.Abs(change[7]) < 0.01 * Near;
    }

    private static void Multiply(ReadOnlySpan<double> matrix, ReadOnlySpan<double> vector, Span<double> result)
    {
        for (int i = 0; i < 4; i++)
            result[i] = matrix[4 * i] * vector[0] + matrix[4 * i + 1] * vector[1] + matrix[4 * i + 2] * vector[2] + matrix[4 * i + 3] * vector[3];
    }

    /// <summary>Corrects the inverse by what the last step did, where a corner (valve fully open, suction just wet) lies between node and reading.</summary>
    /// <remarks>C. G. Broyden, Mathematics of Computation 19 (1965) 577-593, the form for the inverse (from memory).</remarks>
    private static void Learn(Span<double> inverse, ReadOnlySpan<double> step, ReadOnlySpan<double> before, in CyclePoint point)
    {
        Span<double> moved = [point.Miss0 - before[0], point.Miss1 - before[1], point.Miss2 - before[2], point.Miss3 - before[3]];
        Span<double> answer = stackalloc double[4], row = stackalloc double[4];
        Multiply(inverse, moved, answer);
        double scale = 0.0;
        for (int i = 0; i < 4; i++) scale -= step[i] * answer[i];
        if (Math.Abs(scale) < 1e-16) return;
        for (int k = 0; k < 4; k++) row[k] = -(step[0] * inverse[k] + step[1] * inverse[4 + k] + step[2] * inverse[8 + k] + step[3] * inverse[12 + k]);
        for (int i = 0; i < 4; i++)
        {
            double factor = (-step[i] - answer[i]) / scale;
            for (int k = 0; k < 4; k++) inverse[4 * i + k] += factor * row[k];
        }
    }

    private bool Start(CycleDesign design, in CycleInputs c, double scfmPerTon, Span<double> x, out ReadOnlySpan<float> nearest)
    {
        ReadOnlySpan<double> place =
        [
            Units.FahrenheitFromKelvin(c.OutdoorK), Units.FahrenheitFromKelvin(c.ReturnK), Cycle.SeaLevelHumidity(c.Humidity, c.BarometerPa), scfmPerTon, c.BarometerPa,
        ];
        Span<int> nodes = stackalloc int[32];
        Span<double> weights = stackalloc double[32];
        (int count, int node) = _grid.Corners(place, nodes, weights);
        nearest = _grid.Row(node);
        Rated(design, x);
        Vector128<double> first = Vector128.Create<double>(x), last = Vector128.Create<double>(x[2..]);
        for (int k = 0; k < count; k++)
        {
            ReadOnlySpan<float> row = _grid.Row(nodes[k]);
            if (row.Length == 0) return false;
            (Vector128<double> pressures, Vector128<double> shares) = Vector128.Widen(Vector128.Create(row[StartAt..]));
            first += weights[k] * pressures;
            last += weights[k] * shares;
        }

        first.CopyTo(x);
        last.CopyTo(x[2..]);
        return nearest.Length > 0;
    }

    private static void Rated(CycleDesign design, Span<double> x)
    {
        x[0] = design.LogEvaporating;
        x[1] = design.LogCondensing;
        x[2] = design.LiquidShare;
        x[3] = design.Parameters.SuperheatShare;
    }
}
