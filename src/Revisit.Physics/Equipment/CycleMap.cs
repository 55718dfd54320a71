using System.Collections.Concurrent;
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

    private const int StartAt = 0, InverseAt = 4, StraightAt = 20, RowLength = StraightAt + 4 * Outputs;

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
        Span<double> x = stackalloc double[4], rated = stackalloc double[4], inverse = stackalloc double[16], straight = stackalloc double[4 * Outputs];
        EquipmentModel.Start(design, inputs, x);
        if (!CycleSolver.Solve(design, inputs, x, out _) || !CycleSlopes.At(design, refrigerant, inputs, x, inverse, straight)) return null;
        Rated(design, rated);
        float[] row = new float[RowLength];
        for (int i = 0; i < 4; i++) row[StartAt + i] = (float)(x[i] - rated[i]);
        for (int i = 0; i < 16; i++) row[InverseAt + i] = (float)inverse[i];
        for (int i = 0; i < straight.Length; i++) row[StraightAt + i] = (float)straight[i];
        return row;
    }

    /// <summary>Solves and reads, or says that there is no steady state.</summary>
    public ExpectedReading Read(CycleDesign design, Refrigerant refrigerant, in CycleInputs c, double scfmPerTon)
    {
        Span<double> x = stackalloc double[4];
        Span<double> readings = stackalloc double[Outputs], now = stackalloc double[Outputs];
        CyclePoint point = default;
        if (Start(design, c, scfmPerTon, x, out ReadOnlySpan<float> node))
        {
            for (int step = 0; step < 4; step++)
            {
                point.Evaluate(design, c, x[0], x[1], x[2], x[3]);
                readings.Clear();
                Step(node[StraightAt..], point, readings);
                if (point.Worst < NearBalance && IsNear(readings))
                {
                    point.Read(design, refrigerant, c, x, now);
                    for (int i = 0; i < Outputs; i++) readings[i] += now[i];
                    return ExpectedReading.Of(refrigerant, point, readings);
                }

                Step(node[InverseAt..], point, x);
            }

            // Near a corner (valve fully open, suction just wet) the node's slopes mislead: Newton from here.
            x[2] = Math.Clamp(x[2], -0.9, 0.9);
            x[3] = Math.Clamp(x[3], -0.9, 0.9);
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

    private static bool IsNear(ReadOnlySpan<double> step)
    {
        for (int i = 0; i < 6; i++)
            if (!(Math.Abs(step[i]) < Near)) return false;
        return Math.Abs(step[6]) < 0.01 * Near && Math.Abs(step[7]) < 0.01 * Near;
    }

    /// <summary>Moves values by the balances times a matrix of one row a value.</summary>
    private static void Step(ReadOnlySpan<float> matrix, in CyclePoint point, Span<double> values)
    {
        for (int i = 0; i < values.Length; i++)
            values[i] -= matrix[4 * i] * point.Miss0 + matrix[4 * i + 1] * point.Miss1 + matrix[4 * i + 2] * point.Miss2 + matrix[4 * i + 3] * point.Miss3;
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
        for (int k = 0; k < count; k++)
        {
            ReadOnlySpan<float> row = _grid.Row(nodes[k]);
            if (row.Length == 0) return false;
            for (int i = 0; i < 4; i++) x[i] += weights[k] * row[StartAt + i];
        }

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
