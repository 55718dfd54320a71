namespace Revisit.Physics;

/// <summary>Newton's method on the four balances of <see cref="CyclePoint"/>, differences forward, steps bounded and halved.</summary>
internal static class CycleSolver
{
    /// <summary>A point is solved when no balance is off by more than this share of its rated value.</summary>
    public const double Tolerance = 1e-7;

    /// <summary>Enough for a node of a table: a thousandth of a °F.</summary>
    public const double TableTolerance = 1e-5;

    /// <summary>Steps after which a node of a table is taken to have no steady state: of some 100,000 none that had one needed more than 13.</summary>
    public const int TableSteps = 16;

    private const int MaxSteps = 60, MaxNearSteps = 21, FreshSteps = 7;
    private const double Nudge = 1e-6, MaxLogStep = 0.2, MaxShareStep = 0.15, MaxShare = 0.97;

    /// <summary>Solves from a starting point, which receives the solution.</summary>
    /// <returns>True if solved.</returns>
    public static bool Solve(CycleDesign d, in CycleInputs c, Span<double> x, out CyclePoint point, double tolerance = Tolerance, int steps = MaxSteps)
    {
        CyclePoint nudged = default;
        Span<double> matrix = stackalloc double[20];
        Span<double> trial = stackalloc double[4];
        point = default;
        point.Evaluate(d, c, x[0], x[1], x[2], x[3]);
        for (int step = 0; step < steps; step++)
        {
            if (point.Worst < tolerance) return true;
            Slopes(d, c, x, point, matrix);
            (matrix[4], matrix[9], matrix[14], matrix[19]) = (-point.Miss0, -point.Miss1, -point.Miss2, -point.Miss3);
            if (!Eliminate(matrix)) return false;
            double scale = Scale(matrix[4], matrix[9], matrix[14], matrix[19]);
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

    /// <summary>Share of a step that is taken.</summary>
    private static double Scale(double first, double second, double third, double fourth) => Math.Min(
        1.0,
        Math.Min(MaxLogStep / Math.Max(1e-12, Math.Max(Math.Abs(first), Math.Abs(second))), MaxShareStep / Math.Max(1e-12, Math.Max(Math.Abs(third), Math.Abs(fourth)))));

    /// <summary>Solves to <see cref="TableTolerance"/> near a point whose slopes are known, by steps that learn them anew: a third of the evaluations of <see cref="Solve"/>, which takes over where they do not lead on.</summary>
    /// <param name="d">The design.</param>
    /// <param name="c">The inputs.</param>
    /// <param name="from">Where to start.</param>
    /// <param name="inverse">Inverse of the balances' slopes near there (4 × 4); learns from every step.</param>
    /// <param name="x">Receives the solution.</param>
    /// <param name="point">The solution's point.</param>
    /// <returns>True if solved.</returns>
    public static bool SolveNear(CycleDesign d, in CycleInputs c, ReadOnlySpan<double> from, Span<double> inverse, Span<double> x, out CyclePoint point)
    {
        Span<double> step = stackalloc double[4], before = stackalloc double[4];
        from.CopyTo(x);
        point = default;
        for (int round = 0; round < MaxNearSteps; round++)
        {
            point.Evaluate(d, c, x[0], x[1], x[2], x[3]);
            if (point.Worst < TableTolerance) return true;
            if (!(point.Worst < 10.0)) break;
            if (round > 0 && round % FreshSteps == 0) Inverse(d, c, x, point, inverse);
            else if (round > 0) Learn(inverse, step, before, point);
            point.Misses(before);
            Multiply(inverse, before, step);
            double scale = Scale(step[0], step[1], step[2], step[3]);
            for (int i = 0; i < 4; i++)
            {
                double to = x[i] - scale * step[i];
                if (i >= 2) to = Math.Clamp(to, -MaxShare, MaxShare);
                (step[i], x[i]) = (x[i] - to, to);
            }
        }

        from.CopyTo(x);
        return Solve(d, c, x, out point, TableTolerance, TableSteps);
    }

    public static void Multiply(ReadOnlySpan<double> matrix, ReadOnlySpan<double> vector, Span<double> result)
    {
        for (int i = 0; i < 4; i++)
            result[i] = matrix[4 * i] * vector[0] + matrix[4 * i + 1] * vector[1] + matrix[4 * i + 2] * vector[2] + matrix[4 * i + 3] * vector[3];
    }

    /// <summary>Corrects the inverse by what the last step did, where a corner (valve fully open, suction just wet) lies between node and reading.</summary>
    /// <remarks>C. G. Broyden, Mathematics of Computation 19 (1965) 577-593, the form for the inverse (from memory).</remarks>
    public static void Learn(Span<double> inverse, ReadOnlySpan<double> step, ReadOnlySpan<double> before, in CyclePoint point)
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

    /// <summary>Inverse of the balances' slopes (4 × 4), row by row.</summary>
    /// <returns>False if there is none.</returns>
    public static bool Inverse(CycleDesign d, in CycleInputs c, ReadOnlySpan<double> x, in CyclePoint point, Span<double> inverse)
    {
        Span<double> slopes = stackalloc double[20], work = stackalloc double[20];
        Slopes(d, c, x, point, slopes);
        for (int unit = 0; unit < 4; unit++)
        {
            slopes.CopyTo(work);
            for (int row = 0; row < 4; row++) work[5 * row + 4] = row == unit ? 1.0 : 0.0;
            if (!Eliminate(work)) return false;
            for (int row = 0; row < 4; row++) inverse[4 * row + unit] = work[5 * row + 4];
        }

        return true;
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
