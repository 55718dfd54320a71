namespace Revisit.Physics.Tests.Oracle;

/// <summary>Saturation pressures of a Helmholtz model: equal pressures and equal fugacities of both phases, by Newton's method.</summary>
internal static class PhaseEquilibrium
{
    /// <summary>
    /// Saturation pressure [Pa] at a temperature, the composition given for the liquid (bubble) or the vapour (dew).
    /// <paramref name="guess"/> holds ln ρ of both phases [mol/m³] and, for two components, the other phase's mole fraction of the
    /// first; it receives the solution, to start the next temperature from.
    /// </summary>
    public static double Pressure(HelmholtzMixture model, double kelvin, double firstFraction, bool bubble, double[] guess)
    {
        int n = guess.Length;
        double[] misses = new double[n], moved = new double[n];
        for (int iteration = 0; iteration < 60; iteration++)
        {
            Misses(guess, misses);
            if (misses.Max(Math.Abs) < 1e-7) return PressureOf(guess);
            double[,] matrix = new double[n, n + 1];
            for (int column = 0; column < n; column++)
            {
                double[] shifted = [.. guess];
                double h = 1e-5;
                shifted[column] += h;
                Misses(shifted, moved);
                for (int row = 0; row < n; row++) matrix[row, column] = (moved[row] - misses[row]) / h;
            }

            for (int row = 0; row < n; row++) matrix[row, n] = -misses[row];
            double[] step = Solve(matrix);
            double damping = Math.Min(1.0, 0.1 / step.Max(Math.Abs));
            for (int i = 0; i < n; i++) guess[i] += damping * step[i];
        }

        throw new InvalidOperationException($"No equilibrium found at {kelvin} K.");

        double PressureOf(double[] state) => model.Pressure(kelvin, Phase(state, liquid: false));

        double[] Phase(double[] state, bool liquid)
        {
            double density = Math.Exp(state[liquid ? 0 : 1]);
            if (n == 2) return [density];
            double x = liquid == bubble ? firstFraction : state[2];
            return [density * x, density * (1.0 - x)];
        }

        void Misses(double[] state, double[] result)
        {
            double[] liquid = Phase(state, liquid: true), vapour = Phase(state, liquid: false);
            result[0] = model.Pressure(kelvin, liquid) / model.Pressure(kelvin, vapour) - 1.0;
            for (int i = 0; i < model.Components; i++)
                result[i + 1] = model.LogFugacity(kelvin, liquid, i) - model.LogFugacity(kelvin, vapour, i);
        }
    }

    /// <summary>Gauss elimination with row exchange of an n × (n+1) system.</summary>
    private static double[] Solve(double[,] m)
    {
        int n = m.GetLength(0);
        for (int pivot = 0; pivot < n; pivot++)
        {
            int best = Enumerable.Range(pivot, n - pivot).MaxBy(r => Math.Abs(m[r, pivot]));
            for (int c = 0; c <= n; c++) (m[pivot, c], m[best, c]) = (m[best, c], m[pivot, c]);
            for (int r = 0; r < n; r++)
            {
                if (r == pivot) continue;
                double factor = m[r, pivot] / m[pivot, pivot];
                for (int c = pivot; c <= n; c++) m[r, c] -= factor * m[pivot, c];
            }
        }

        return [.. Enumerable.Range(0, n).Select(i => m[i, n] / m[i, i])];
    }
}
