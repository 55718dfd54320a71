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

    /// <summary>Width of a band of rated EER.</summary>
    public const double EerBand = 1.0;

    /// <summary>Width of a band of target subcooling [°F].</summary>
    public const double SubcoolingBandF = 2.0;

    /// <summary>Balances (shares of the rated value) that must hold before a straight step.</summary>
    private const double NearBalance = 0.006;

    /// <summary>Step of the readings [°F; capacity and power by 100] that may be taken straight: what it misses goes with its square.</summary>
    private const double Near = 0.25;

    private static readonly double[] OutdoorF = [45, 55, 65, 75, 85, 95, 105, 115, 125];
    private static readonly double[] ReturnF = [60, 68, 75, 82, 90, 100];

    // Humidity ratio at sea level of the same vapour pressure; closer where coils begin to be wet.
    private static readonly double[] Humidity = [0, 0.004, 0.006, 0.007, 0.008, 0.009, 0.0105, 0.0125, 0.015, 0.019, 0.025];
    private static readonly double[] Airflow = [100, 150, 210, 280, 350, 430, 550, 750, 1000];
    private static readonly double[] BarometerPa = [64_000, Cycle.SeaLevelPa];
    private static readonly int[] Lengths = [OutdoorF.Length, ReturnF.Length, Humidity.Length, Airflow.Length, BarometerPa.Length];

    private static readonly ConcurrentDictionary<(Refrigerant, bool, double, double), Lazy<CycleMap>> Maps = new();

    private readonly float[] _start, _inverse, _straight;
    private readonly bool[] _known;

    private CycleMap(Refrigerant refrigerant, CycleParameters parameters, double eer, double targetSubcoolingF)
    {
        var design = new CycleDesign(refrigerant, parameters, eer, targetSubcoolingF);
        int nodes = Lengths.Aggregate((a, b) => a * b), node = 0;
        (_start, _inverse, _straight, _known) = (new float[4 * nodes], new float[16 * nodes], new float[4 * Outputs * nodes], new bool[nodes]);
        Span<double> x = stackalloc double[4], rated = stackalloc double[4], inverse = stackalloc double[16], straight = stackalloc double[4 * Outputs];
        Rated(design, rated);
        bool warm = false;
        foreach (double outdoor in OutdoorF)
        foreach (double dry in ReturnF)
        foreach (double humidity in Humidity)
        foreach (double airflow in Airflow)
        foreach (double pa in BarometerPa)
        {
            double vapour = Cycle.SeaLevelPa * humidity / (Cycle.MolarMassRatio + humidity);
            var inputs = new CycleInputs(design, Units.KelvinFromFahrenheit(outdoor), Units.KelvinFromFahrenheit(dry), Cycle.MolarMassRatio * vapour / (pa - vapour), pa, airflow, Faults.None);
            bool solved = warm && airflow > Airflow[0] && CycleSolver.Solve(design, inputs, x, out _);
            if (!solved)
            {
                EquipmentModel.Start(design, inputs, x);
                solved = CycleSolver.Solve(design, inputs, x, out _);
            }

            warm = solved;
            _known[node] = solved && CycleSlopes.At(design, refrigerant, inputs, x, inverse, straight);
            for (int i = 0; i < 4; i++) _start[4 * node + i] = (float)(x[i] - rated[i]);
            for (int i = 0; i < 16; i++) _inverse[16 * node + i] = (float)inverse[i];
            for (int i = 0; i < straight.Length; i++) _straight[straight.Length * node + i] = (float)straight[i];
            node++;
        }
    }

    /// <summary>The map of a refrigerant, a metering device and a rating's band, built on first use.</summary>
    public static CycleMap Of(Refrigerant refrigerant, Metering metering, double eer, double targetSubcoolingF)
    {
        bool orifice = metering == Metering.FixedOrifice;
        double eerBand = Math.Clamp(EerBand * Math.Round(eer / EerBand), EquipmentLimits.MinEer, EquipmentLimits.MaxEer);
        double target = orifice ? 0.0 : Math.Clamp(SubcoolingBandF * Math.Round(targetSubcoolingF / SubcoolingBandF), EquipmentLimits.MinSubcoolingF, EquipmentLimits.MaxSubcoolingF);
        return Maps.GetOrAdd((refrigerant, orifice, eerBand, target), key => new(() => new CycleMap(key.Item1, CycleParameters.Of(metering), key.Item3, key.Item4))).Value;
    }

    /// <summary>Solves and reads, or says that there is no steady state.</summary>
    public ExpectedReading Read(CycleDesign design, Refrigerant refrigerant, in CycleInputs c, double scfmPerTon)
    {
        Span<double> x = stackalloc double[4];
        Span<double> readings = stackalloc double[Outputs], now = stackalloc double[Outputs];
        CyclePoint point = default;
        if (Start(design, c, scfmPerTon, x, out int nearest))
        {
            ReadOnlySpan<float> inverse = _inverse.AsSpan(16 * nearest, 16);
            for (int step = 0; step < 4; step++)
            {
                point.Evaluate(design, c, x[0], x[1], x[2], x[3]);
                readings.Clear();
                Step(_straight.AsSpan(4 * Outputs * nearest, 4 * Outputs), point, readings);
                if (point.Worst < NearBalance && IsNear(readings))
                {
                    point.Read(design, refrigerant, c, x, now);
                    for (int i = 0; i < Outputs; i++) readings[i] += now[i];
                    return ExpectedReading.Of(refrigerant, point, readings);
                }

                Step(inverse, point, x);
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

    private bool Start(CycleDesign design, in CycleInputs c, double scfmPerTon, Span<double> x, out int nearest)
    {
        double vapour = c.BarometerPa * c.Humidity / (Cycle.MolarMassRatio + c.Humidity);
        Span<int> cell = stackalloc int[5];
        Span<double> w = stackalloc double[5];
        Grid.Locate(OutdoorF, Units.FahrenheitFromKelvin(c.OutdoorK), out cell[0], out w[0]);
        Grid.Locate(ReturnF, Units.FahrenheitFromKelvin(c.ReturnK), out cell[1], out w[1]);
        Grid.Locate(Humidity, Cycle.MolarMassRatio * vapour / (Cycle.SeaLevelPa - vapour), out cell[2], out w[2]);
        Grid.Locate(Airflow, scfmPerTon, out cell[3], out w[3]);
        Grid.Locate(BarometerPa, c.BarometerPa, out cell[4], out w[4]);

        // Corners of the cell, one axis at a time; those without weight are left out.
        Span<int> nodes = stackalloc int[32];
        Span<double> weights = stackalloc double[32];
        int count = 1;
        (nodes[0], weights[0], nearest) = (0, 1.0, 0);
        for (int d = 0; d < 5; d++)
        {
            nearest = nearest * Lengths[d] + cell[d] + (w[d] > 0.5 ? 1 : 0);
            int before = count;
            for (int k = 0; k < before; k++)
            {
                int node = nodes[k] * Lengths[d] + cell[d];
                if (w[d] > 0.0) (nodes[count], weights[count++]) = (node + 1, weights[k] * w[d]);
                (nodes[k], weights[k]) = (node, weights[k] * (1.0 - w[d]));
            }
        }

        Rated(design, x);
        bool known = _known[nearest];
        for (int k = 0; k < count; k++)
        {
            if (weights[k] == 0.0) continue;
            known &= _known[nodes[k]];
            ReadOnlySpan<float> start = _start.AsSpan(4 * nodes[k], 4);
            x[0] += weights[k] * start[0];
            x[1] += weights[k] * start[1];
            x[2] += weights[k] * start[2];
            x[3] += weights[k] * start[3];
        }

        return known;
    }

    private static void Rated(CycleDesign design, Span<double> x)
    {
        x[0] = design.LogEvaporating;
        x[1] = design.LogCondensing;
        x[2] = design.LiquidShare;
        x[3] = design.Parameters.SuperheatShare;
    }
}
