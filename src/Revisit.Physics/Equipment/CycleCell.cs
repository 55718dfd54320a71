using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using Revisit.Records;

namespace Revisit.Physics;

/// <summary>
/// The sound system's solution in one cell of <see cref="CycleMap"/>, as a row of numbers that are read together: a quadratic function of
/// the place in the cell, relative to the rated point; then, in the middle of the cell, the inverse of the balances' slopes and the
/// slopes of the readings.
/// </summary>
internal static class CycleCell
{
    /// <summary>Outdoor and return temperature, humidity, airflow, barometer.</summary>
    public const int Dimensions = 5;

    /// <summary>Where the inverse (4 × 4) starts.</summary>
    public const int InverseAt = 4 * (1 + Dimensions + Dimensions * (Dimensions + 1) / 2);

    /// <summary>Where the readings' slopes (8 × 4) start.</summary>
    public const int ReadingsAt = InverseAt + 16;

    /// <summary>How far out the function goes through solutions, as a share of half the width: of 0.6 to 1.0 this leaves the least to do.</summary>
    private const double Out = 0.9;

    /// <summary>The row of a cell, or null where a place in it has no steady state.</summary>
    /// <param name="d">A design of the rating's band.</param>
    /// <param name="refrigerant">Its refrigerant.</param>
    /// <param name="low">Lower end on each axis [°F, °F, kg/kg at sea level, scfm/ton, Pa].</param>
    /// <param name="high">Upper end on each axis.</param>
    public static float[]? Make(CycleDesign d, Refrigerant refrigerant, ReadOnlySpan<double> low, ReadOnlySpan<double> high)
    {
        Span<double> x = stackalloc double[4], rated = stackalloc double[4], inverse = stackalloc double[16], readings = stackalloc double[4 * CycleMap.Outputs];
        Span<double> u = stackalloc double[Dimensions], ups = stackalloc double[4 * Dimensions], bends = stackalloc double[4 * Dimensions], up = stackalloc double[4], bend = stackalloc double[4];
        CycleInputs inputs = At(d, low, high, u);
        EquipmentModel.Start(d, inputs, x);
        if (!CycleSolver.Solve(d, inputs, x, out _) || !CycleSlopes.At(d, refrigerant, inputs, x, inverse, readings)) return null;
        for (int i = 0; i < Dimensions; i++)
        {
            u[i] = Out;
            if (!Bend(d, low, high, u, x, inverse, ups.Slice(4 * i, 4), bends.Slice(4 * i, 4))) return null;
            u[i] = 0.0;
        }

        float[] row = new float[ReadingsAt + readings.Length];
        Rated(d, rated);
        for (int k = 0; k < 4; k++) row[k] = (float)(x[k] - rated[k]);
        int at = 4;
        for (int i = 0; i < Dimensions; i++)
        {
            for (int k = 0; k < 4; k++) (row[at + k], row[at + 4 + k]) = ((float)((ups[4 * i + k] - x[k]) / Out - Out * bends[4 * i + k]), (float)bends[4 * i + k]);
            at += 8;
            for (int j = i + 1; j < Dimensions; j++, at += 4)
            {
                (u[i], u[j]) = (Out, Out);
                if (!Bend(d, low, high, u, x, inverse, up, bend)) return null;
                (u[i], u[j]) = (0.0, 0.0);
                for (int k = 0; k < 4; k++) row[at + k] = (float)(bend[k] - bends[4 * i + k] - bends[4 * j + k]);
            }
        }

        for (int i = 0; i < 16; i++) row[InverseAt + i] = (float)inverse[i];
        for (int i = 0; i < readings.Length; i++) row[ReadingsAt + i] = (float)readings[i];
        return row;
    }

    /// <summary>The solution relative to the rated point at a place, −1…1 on each axis.</summary>
    public static Vector128<float> Solution(ReadOnlySpan<float> cell, ReadOnlySpan<float> u)
    {
        ref float row = ref MemoryMarshal.GetReference(cell);
        Vector128<float> sum = Vector128.LoadUnsafe(ref row);
        nuint at = 4;
        for (int i = 0; i < u.Length; i++)
        {
            Vector128<float> slope = Vector128.LoadUnsafe(ref row, at);
            at += 4;
            for (int j = i; j < u.Length; j++, at += 4) slope += u[j] * Vector128.LoadUnsafe(ref row, at);
            sum += u[i] * slope;
        }

        return sum;
    }

    /// <summary>The solution at the rated point.</summary>
    public static void Rated(CycleDesign design, Span<double> x) =>
        (x[0], x[1], x[2], x[3]) = (design.LogEvaporating, design.LogCondensing, design.LiquidShare, design.Parameters.SuperheatShare);

    private static CycleInputs At(CycleDesign d, ReadOnlySpan<double> low, ReadOnlySpan<double> high, ReadOnlySpan<double> u)
    {
        Span<double> place = stackalloc double[Dimensions];
        for (int i = 0; i < Dimensions; i++) place[i] = 0.5 * (low[i] + high[i] + u[i] * (high[i] - low[i]));
        return new(d, Units.KelvinFromFahrenheit(place[0]), Units.KelvinFromFahrenheit(place[1]), Cycle.HumidityAt(place[2], place[4]), place[4], place[3], Faults.None);
    }

    /// <summary>Half the second difference of the solution from the middle to a place and the one across, over <see cref="Out"/> squared; and the solution at the place.</summary>
    private static bool Bend(CycleDesign d, ReadOnlySpan<double> low, ReadOnlySpan<double> high, Span<double> u, ReadOnlySpan<double> x, ReadOnlySpan<double> inverse, Span<double> up, Span<double> bend)
    {
        Span<double> learned = stackalloc double[16], down = stackalloc double[4];
        inverse.CopyTo(learned);
        bool solved = CycleSolver.SolveNear(d, At(d, low, high, u), x, learned, up, out _);
        for (int i = 0; i < Dimensions; i++) u[i] = -u[i];
        inverse.CopyTo(learned);
        solved = solved && CycleSolver.SolveNear(d, At(d, low, high, u), x, learned, down, out _);
        for (int k = 0; k < 4; k++) bend[k] = (0.5 * (up[k] + down[k]) - x[k]) / (Out * Out);
        return solved;
    }
}
