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

    private readonly double[] coefficients;

    private LogisticFit(double[] coefficients, Cholesky<double> information) => (this.coefficients, this.information) = (coefficients, information);

    /// <summary>Coefficients, in the order of the columns.</summary>
    public IReadOnlyList<double> Coefficients => coefficients;

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
            double[] slope = [.. b.Select((v, k) => k == 0 ? 0 : -ridge * v)];
            for (var i = 0; i < rows.Length; i++)
            {
                var (row, off) = (rows[i], (happened[i] ? 1 : 0) - chances[i]);
                for (var k = 0; k < row.Length; k++)
                {
                    slope[k] += row[k] * off;
                }
            }

            var step = InformationOf(rows, chances, ridge).Solve(Vector<double>.Build.Dense(slope));
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
    public double ChanceOf(double[] row) => 1 / (1 + Math.Exp(-Dot(row, coefficients)));

    /// <summary>
    /// Variance of observed − expected of some rows, were they as all the others: Σp(1−p) less what the fit takes up of it because those rows are in it
    /// (Rao's score test of an indicator of the rows), or more by the error of the fit where they are not.
    /// </summary>
    /// <param name="of">The rows.</param>
    /// <param name="chances">Their chances by the fit.</param>
    /// <param name="rowsPerFitted">Rows of the whole for each that was fitted, where only a part was.</param>
    /// <param name="fitted">Whether the rows were in the fit.</param>
    public double ScoreVariance(double[][] of, double[] chances, double rowsPerFitted = 1, bool fitted = true)
    {
        ArgumentNullException.ThrowIfNull(of);
        ArgumentNullException.ThrowIfNull(chances);
        var cross = new double[coefficients.Length];
        var sum = 0.0;
        for (var i = 0; i < of.Length; i++)
        {
            var (row, p) = (of[i], chances[i]);
            sum += p * (1 - p);
            for (var k = 0; k < row.Length; k++)
            {
                cross[k] += row[k] * p * (1 - p);
            }
        }

        var taken = Vector<double>.Build.Dense(cross);
        return sum + (fitted ? -1 : 1) * taken.DotProduct(information.Solve(taken)) / rowsPerFitted;
    }

    private static double[] ChancesOf(double[][] rows, double[] b) => [.. rows.Select(r => 1 / (1 + Math.Exp(-Dot(r, b))))];

    private static Cholesky<double> InformationOf(double[][] rows, double[] chances, double ridge)
    {
        var width = rows[0].Length;
        var sums = Enumerable.Range(0, width).Select(k => new double[k + 1]).ToArray();
        for (var i = 0; i < rows.Length; i++)
        {
            var (row, w) = (rows[i], chances[i] * (1 - chances[i]));
            for (var k = 0; k < width; k++)
            {
                var (wk, sum) = (w * row[k], sums[k]);
                for (var l = 0; wk != 0 && l < sum.Length; l++)
                {
                    sum[l] += wk * row[l];
                }
            }
        }

        return Matrix<double>.Build.Dense(width, width, (k, l) => sums[Math.Max(k, l)][Math.Min(k, l)] + (k == l ? k == 0 ? 1e-9 : ridge : 0)).Cholesky();
    }

    private static double Dot(double[] row, double[] b)
    {
        var sum = 0.0;
        for (var k = 0; k < row.Length; k++)
        {
            sum += row[k] * b[k];
        }

        return sum;
    }
}
