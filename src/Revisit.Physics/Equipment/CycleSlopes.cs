namespace Revisit.Physics;

/// <summary>Slopes of balances and readings at a solution.</summary>
internal static class CycleSlopes
{
    private const double Nudge = 1e-6;

    /// <summary>Gives the inverse of the balances' slopes (4 × 4) and the readings' slopes by the unknowns (8 × 4), row by row.</summary>
    /// <returns>False if the slopes have no inverse.</returns>
    public static bool At(CycleDesign design, Refrigerant refrigerant, in CycleInputs c, ReadOnlySpan<double> x, Span<double> inverse, Span<double> readings)
    {
        const int outputs = CycleMap.Outputs;
        Span<double> trial = stackalloc double[4];
        Span<double> here = stackalloc double[outputs], there = stackalloc double[outputs];
        CyclePoint point = default, nudged = default;
        point.Evaluate(design, c, x[0], x[1], x[2], x[3]);
        point.Read(design, refrigerant, c, x, here);
        for (int column = 0; column < 4; column++)
        {
            x.CopyTo(trial);
            trial[column] += Nudge;
            nudged.Evaluate(design, c, trial[0], trial[1], trial[2], trial[3]);
            nudged.Read(design, refrigerant, c, trial, there);
            for (int i = 0; i < outputs; i++) readings[4 * i + column] = (there[i] - here[i]) / Nudge;
        }

        return CycleSolver.Inverse(design, c, x, point, inverse);
    }
}
