using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace Revisit.Fleet.Statistics;

/// <summary>
/// Logistic regression by iteratively reweighted least squares with a ridge penalty on every coefficient but the first (the constant), so that a group that never or always has the
/// outcome gets no infinite coefficient: le Cessie and van Houwelingen (1992), Applied Statistics 41:191 (from memory). Sums run in the order of the rows, so equal rows give equal bits.
/// </summary>
public sealed class LogisticFit
{
    private readonly Cholesky<double> information;

    private LogisticFit(double[] coefficients, Cholesky<double> information) => (Coefficients, this.information) = (coefficients, information);

    /// <summary>Coefficients, in the order of the columns.</summary>
    public IReadOnlyList<double> Coefficients { get; }

    /// <summary>Fits rows of columns, the first of them the constant 1.</summary>
    /// <param name="rows">Columns of each row, of about unit size.</param>
    /// <param name="happened">The outcome of each row.</param>
    /// <param name="ridge">Penalty: half of it times the square of each coefficient is taken off the log likelihood; 1 pulls like a normal prior of standard deviation 1.</param>
    public static LogisticFit Of(double[][] rows, IReadOnlyList<bool> happened, double ridge)
    {
        ArgumentNullException.ThrowIfNull(rows);
        ArgumentNullException.ThrowIfNull(happened);
        var width = rows[0].Length;
        var b = new double[width];
        b[0] = Math.Log((happened.Count(h => h) + 0.5) / (happened.Count(h => !h) + 0.5));
        for (var round = 0; round < 50; round++)
        {
            var chances = ChancesOf(rows, b);
            var slope = Vector<double>.Build.Dense(width, k => k == 0 ? 0 : -ridge * b[k]);
            for (var i = 0; i < rows.Length; i++)
            {
                for (var k = 0; k < width; k++)
                {
                    slope[k] += rows[i][k] * ((happened[i] ? 1 : 0) - chances[i]);
                }
            }

            var step = InformationOf(rows, chances, ridge).Solve(slope);
            var most = 0.0;
            for (var k = 0; k < width; k++)
            {
                // A step over 2 in a logit is cut: far from the top the curvature misleads.
                b[k] += Math.Clamp(step[k], -2, 2);
                most = Math.Max(most, Math.Abs(step[k]));
            }

            if (most < 1e-10)
            {
                break;
            }
        }

        return new(b, InformationOf(rows, ChancesOf(rows, b), ridge));
    }

    /// <summary>Chance of a row by the fit.</summary>
    public double ChanceOf(double[] row) => 1 / (1 + Math.Exp(-Dot(row, Coefficients)));

    /// <summary>
    /// Variance of observed − expected of some rows, were they as all the others: Σp(1−p) less what the fit takes up of it because those rows are in it
    /// (Rao's score test of an indicator of the rows), or more by the error of the fit where they are not.
    /// </summary>
    /// <param name="of">The rows.</param>
    /// <param name="rowsPerFitted">Rows of the whole for each that was fitted, where only a part was.</param>
    /// <param name="fitted">Whether the rows were in the fit.</param>
    public double ScoreVariance(IEnumerable<double[]> of, double rowsPerFitted = 1, bool fitted = true)
    {
        ArgumentNullException.ThrowIfNull(of);
        var cross = Vector<double>.Build.Dense(Coefficients.Count);
        var sum = 0.0;
        foreach (var row in of)
        {
            var p = ChanceOf(row);
            sum += p * (1 - p);
            for (var k = 0; k < cross.Count; k++)
            {
                cross[k] += row[k] * p * (1 - p);
            }
        }

        return sum + (fitted ? -1 : 1) * cross.DotProduct(information.Solve(cross)) / rowsPerFitted;
    }

    private static double[] ChancesOf(double[][] rows, double[] b) => [.. rows.Select(r => 1 / (1 + Math.Exp(-Dot(r, b))))];

    private static Cholesky<double> InformationOf(double[][] rows, double[] chances, double ridge)
    {
        var width = rows[0].Length;
        var sums = new double[width, width];
        for (var i = 0; i < rows.Length; i++)
        {
            var w = chances[i] * (1 - chances[i]);
            for (var k = 0; k < width; k++)
            {
                var wk = w * rows[i][k];
                for (var l = 0; wk != 0 && l <= k; l++)
                {
                    sums[k, l] += wk * rows[i][l];
                }
            }
        }

        return Matrix<double>.Build.Dense(width, width, (k, l) => sums[Math.Max(k, l), Math.Min(k, l)] + (k == l ? k == 0 ? 1e-9 : ridge : 0)).Cholesky();
    }

    private static double Dot(double[] row, IReadOnlyList<double> b)
    {
        var sum = 0.0;
        for (var k = 0; k < row.Length; k++)
        {
            sum += row[k] * b[k];
        }

        return sum;
    }
}
