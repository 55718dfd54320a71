namespace Revisit.Physics;

/// <summary>Newton's method on the four balances of <see cref="CyclePoint"/>, differences forward, steps bounded and halved.</summary>
internal static class CycleSolver
{
    /// <summary>A point is solved when no balance is off by more than this share of its rated value.</summary>
    public const double Tolerance = 1e-7;

    /// <summary>Enough for a node of a table: a thousandth of a °F.</summary>
    public const double TableTolerance = 1e-5;

    private const int MaxSteps = 60;
    private const double Nudge = 1e-6, MaxLogStep = 0.2, MaxShareStep = 0.15, MaxShare = 0.97;

    /// <summary>Solves from a starting point, which receives the solution.</summary>
    /// <returns>True if solved.</returns>
    public static bool Solve(CycleDesign d, in CycleInputs c, Span<double> x, out CyclePoint point, double tolerance = Tolerance)
    {
        CyclePoint nudged = default;
        Span<double> matrix = stackalloc double[20];
        Span<double> trial = stackalloc double[4];
        point = default;
        point.Evaluate(d, c, x[0], x[1], x[2], x[3]);
        for (int step = 0; step < MaxSteps; step++)
        {
            if (point.Worst < tolerance) return true;
            Slopes(d, c, x, point, matrix);
            (matrix[4], matrix[9], matrix[14], matrix[19]) = (-point.Miss0, -point.Miss1, -point.Miss2, -point.Miss3);
            if (!Eliminate(matrix)) return false;
            double scale = 1.0;
            for (int i = 0; i < 4; i++) scale = Math.Min(scale, (i < 2 ? MaxLogStep : MaxShareStep) / Math.Max(1e-12, Math.Abs(matrix[5 * i + 4])));

            double before = point.SumOfSquares;
            for (int halving = 0; ; halving++)
            {
                for (int i = 0; i < 4; i++) trial[i] = x[i] + scale * matrix[5 * i + 4];
                trial[2] = Math.Clamp(trial[2], -MaxShare, MaxShare);
                trial[3] = Math.Clamp(trial[3], -MaxShare, MaxShare);
                nudged.Evaluate(d, c, trial[0], trial[1], trial[2], trial[3]);
                if (nudged.SumOfSquares < before * (1.0 - 1e-4 * scale) || halving == 8) break;
                scale *= 0.4;
            }

            if (!double.IsFinite(nudged.SumOfSquares)) return false;
            trial.CopyTo(x);
            point = nudged;
        }

        return point.Worst < tolerance;
    }

    /// <summary>Slopes of the balances by each unknown, in a 4 × 5 matrix.</summary>
    public static void Slopes(CycleDesign d, in CycleInputs c, ReadOnlySpan<double> x, in CyclePoint point, Span<double> matrix)
    {
        CyclePoint nudged = default;
        Span<double> trial = stackalloc double[4];
        for (int column = 0; column < 4; column++)
        {
            x.CopyTo(trial);
            trial[column] += Nudge;
            nudged.Evaluate(d, c, trial[0], trial[1], trial[2], trial[3]);
            matrix[column] = (nudged.Miss0 - point.Miss0) / Nudge;
            matrix[5 + column] = (nudged.Miss1 - point.Miss1) / Nudge;
            matrix[10 + column] = (nudged.Miss2 - point.Miss2) / Nudge;
            matrix[15 + column] = (nudged.Miss3 - point.Miss3) / Nudge;
        }
    }

    /// <summary>Gauss elimination with row exchange of a 4 × 5 system; the solution ends in the last column.</summary>
    public static bool Eliminate(Span<double> m)
    {
        for (int pivot = 0; pivot < 4; pivot++)
        {
            int best = pivot;
            for (int row = pivot + 1; row < 4; row++)
                if (Math.Abs(m[5 * row + pivot]) > Math.Abs(m[5 * best + pivot])) best = row;
            if (!(Math.Abs(m[5 * best + pivot]) > 1e-14)) return false;
            for (int column = pivot; column < 5 && best != pivot; column++)
                (m[5 * pivot + column], m[5 * best + column]) = (m[5 * best + column], m[5 * pivot + column]);
            for (int row = 0; row < 4; row++)
            {
                if (row == pivot) continue;
                double factor = m[5 * row + pivot] / m[5 * pivot + pivot];
                for (int column = pivot; column < 5; column++) m[5 * row + column] -= factor * m[5 * pivot + column];
            }
        }

        for (int row = 0; row < 4; row++) m[5 * row + 4] /= m[5 * row + row];
        return true;
    }
}
