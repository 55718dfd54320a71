using System.Collections.Concurrent;
using System.Runtime.Intrinsics;
using Revisit.Records;

namespace Revisit.Physics;

/// <summary>
/// Solutions of the sound system in cells over outdoor and return temperature, humidity, airflow and barometer, each with the inverse of
/// its slopes (<see cref="CycleCell"/>). A reading starts from its cell's solution; its balances there, times the inverse, give what is
/// still missing, mostly so little that it is taken straight.
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
    private const double NearBalance = 0.003;

    /// <summary>Step of the readings [°F; capacity and power by 100] that may be taken straight: what it misses goes with its square.</summary>
    private const double Near = 0.15;

    private const int MostRounds = 7;

    private static readonly double[][] Axes =
    [
        [45, 55, 65, 75, 85, 95, 105, 115, 125], // outdoor dry bulb [°F]
        [60, 68, 75, 82, 90, 100], // return dry bulb [°F]
        [0, 0.004, 0.006, 0.007, 0.008, 0.009, 0.0105, 0.0125, 0.015, 0.019, 0.025], // humidity ratio at sea level of the same vapour pressure; closer where coils begin to be wet
        [100, 150, 210, 280, 350, 430, 550, 750, 1000], // airflow [scfm/ton]
        [64_000, 83_000, Cycle.SeaLevelPa], // barometer [Pa], about 12,000 ft, 5400 ft and sea level
    ];

    private static readonly ConcurrentDictionary<(Refrigerant, bool, double, double), CycleMap> Maps = new();

    private readonly CycleDesign _design;
    private readonly Refrigerant _refrigerant;
    private readonly float[]?[] _cells = new float[Axes.Aggregate(1, (n, axis) => n * (axis.Length - 1))][];

    private CycleMap(Refrigerant refrigerant, CycleParameters parameters, double eer, double targetSubcoolingF)
    {
        _refrigerant = refrigerant;
        _design = new CycleDesign(refrigerant, parameters, eer, targetSubcoolingF);
    }

    /// <summary>The map of a refrigerant, a metering device and a rating's band.</summary>
    public static CycleMap Of(Refrigerant refrigerant, Metering metering, double eer, double targetSubcoolingF)
    {
        (double eerBand, double target) = EquipmentLimits.Band(metering, eer, targetSubcoolingF);
        return Maps.GetOrAdd((refrigerant, metering == Metering.FixedOrifice, eerBand, target), key => new(key.Item1, CycleParameters.Of(metering), key.Item3, key.Item4));
    }

    /// <summary>Solves and reads, or says that there is no steady state.</summary>
    public ExpectedReading Read(CycleDesign design, Refrigerant refrigerant, in CycleInputs c, double scfmPerTon)
    {
        Span<double> x = stackalloc double[4], readings = stackalloc double[Outputs];
        CyclePoint point = default;
        if (Start(design, c, scfmPerTon, x, out ReadOnlySpan<float> cell))
        {
            Span<double> inverse = stackalloc double[16], step = stackalloc double[4], before = stackalloc double[4], change = stackalloc double[Outputs];
            for (int i = 0; i < 16; i++) inverse[i] = cell[CycleCell.InverseAt + i];
            for (int round = 0; round < MostRounds; round++)
            {
                point.Evaluate(design, c, x[0], x[1], x[2], x[3]);
                if (round > 0) CycleSolver.Learn(inverse, step, before, point);
                point.Misses(before);
                CycleSolver.Multiply(inverse, before, step);
                if (point.Worst < NearBalance && IsNear(cell[CycleCell.ReadingsAt..], step, change))
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

    /// <summary>The cell's solution at a place.</summary>
    private bool Start(CycleDesign design, in CycleInputs c, double scfmPerTon, Span<double> x, out ReadOnlySpan<float> cell)
    {
        ReadOnlySpan<double> place =
        [
            Units.FahrenheitFromKelvin(c.OutdoorK), Units.FahrenheitFromKelvin(c.ReturnK), Cycle.SeaLevelHumidity(c.Humidity, c.BarometerPa), scfmPerTon, c.BarometerPa,
        ];
        Span<float> u = stackalloc float[CycleCell.Dimensions];
        int number = 0;
        for (int d = 0; d < CycleCell.Dimensions; d++)
        {
            double[] axis = Axes[d];
            double at = place[d];
            int i = 0;
            for (int k = 1; k < axis.Length - 1; k++) i += at >= axis[k] ? 1 : 0; // no branch: readings jump about
            number = number * (axis.Length - 1) + i;
            u[d] = (float)Math.Clamp((2.0 * at - axis[i + 1] - axis[i]) / (axis[i + 1] - axis[i]), -1.0, 1.0);
        }

        cell = Cell(number);
        if (cell.Length == 0) return false;
        CycleCell.Rated(design, x);
        Vector128<float> sum = CycleCell.Solution(cell, u);
        for (int i = 0; i < 4; i++) x[i] += sum[i];
        return true;
    }

    /// <summary>A cell, made when it is first needed: readings of one branch touch a small part of the grid. It depends on its place alone, so two threads that make one at once make the same.</summary>
    private float[] Cell(int number)
    {
        float[]? row = Volatile.Read(ref _cells[number]);
        if (row is not null) return row;
        Span<double> low = stackalloc double[CycleCell.Dimensions], high = stackalloc double[CycleCell.Dimensions];
        int rest = number;
        for (int d = CycleCell.Dimensions - 1; d >= 0; d--)
        {
            (rest, int i) = Math.DivRem(rest, Axes[d].Length - 1);
            (low[d], high[d]) = (Axes[d][i], Axes[d][i + 1]);
        }

        row = CycleCell.Make(_design, _refrigerant, low, high) ?? [];
        Volatile.Write(ref _cells[number], row);
        return row;
    }
}
