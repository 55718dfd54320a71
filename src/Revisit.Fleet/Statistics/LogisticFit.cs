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
        var columns = new Columns(rows);
        var b = new double[columns.Width];
        b[0] = Math.Log((happened.Count(h => h) + 0.5) / (happened.Count(h => !h) + 0.5));
        for (var round = 0; round < 50; round++)
        {
            var chances = columns.ChancesOf(b);
            double[] slope = [.. b.Select((v, k) => k == 0 ? 0 : -ridge * v)];
            columns.AddSlope(slope, happened, chances);
            var step = columns.InformationOf(chances, ridge).Solve(Vector<double>.Build.Dense(slope));
            var most = 0.0;
            for (var k = 0; k < b.Length; k++)
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

        return new(b, columns.InformationOf(columns.ChancesOf(b), ridge));
    }

    /// <summary>Chance of a row by the fit.</summary>
    public double ChanceOf(double[] row) => 1 / (1 + Math.Exp(-Dot(row, coefficients)));

    /// <summary>
    /// Chances of some rows by the fit, and the variance of their observed − expected, were they as all the others: Σp(1−p) less what the fit takes up of it because those rows are in it
    /// (Rao's score test of an indicator of the rows), or more by the error of the fit where they are not.
    /// </summary>
    /// <param name="of">The rows; one array may serve for all, filled anew for each.</param>
    /// <param name="rowsPerFitted">Rows of the whole for each that was fitted, where only a part was.</param>
    /// <param name="fitted">Whether the rows were in the fit.</param>
    public (double[] Chances, double Variance) Score(IEnumerable<double[]> of, double rowsPerFitted = 1, bool fitted = true)
    {
        ArgumentNullException.ThrowIfNull(of);
        var (chances, cross, sum) = (new List<double>(), new double[coefficients.Length], 0.0);
        foreach (var row in of)
        {
            var p = ChanceOf(row);
            chances.Add(p);
            sum += p * (1 - p);
            for (var k = 0; k < row.Length; k++)
            {
                cross[k] += row[k] * p * (1 - p);
            }
        }

        var taken = Vector<double>.Build.Dense(cross);
        return ([.. chances], sum + (fitted ? -1 : 1) * taken.DotProduct(information.Solve(taken)) / rowsPerFitted);
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

    /// <summary>Rows without their zeros, which add nothing: the sums are the same to the last bit.</summary>
    private sealed class Columns
    {
        private readonly int[] starts, places;
        private readonly double[] values;

        public Columns(double[][] rows)
        {
            Width = rows[0].Length;
            starts = new int[rows.Length + 1];
            var filled = rows.Sum(r => r.Count(v => v != 0));
            (places, values) = (new int[filled], new double[filled]);
            var at = 0;
            for (var i = 0; i < rows.Length; i++)
            {
                for (var k = 0; k < Width; k++)
                {
                    if (rows[i][k] != 0)
                    {
                        (places[at], values[at]) = (k, rows[i][k]);
                        at++;
                    }
                }

                starts[i + 1] = at;
            }
        }

        public int Width { get; }

        public double[] ChancesOf(double[] b)
        {
            var chances = new double[starts.Length - 1];
            for (var i = 0; i < chances.Length; i++)
            {
                var sum = 0.0;
                for (var n = starts[i]; n < starts[i + 1]; n++)
                {
                    sum += values[n] * b[places[n]];
                }

                chances[i] = 1 / (1 + Math.Exp(-sum));
            }

            return chances;
        }

        public void AddSlope(double[] slope, IReadOnlyList<bool> happened, double[] chances)
        {
            for (var i = 0; i < chances.Length; i++)
            {
                var off = (happened[i] ? 1 : 0) - chances[i];
                for (var n = starts[i]; n < starts[i + 1]; n++)
                {
                    slope[places[n]] += values[n] * off;
                }
            }
        }

        public Cholesky<double> InformationOf(double[] chances, double ridge)
        {
            var sums = Enumerable.Range(0, Width).Select(k => new double[k + 1]).ToArray();
            for (var i = 0; i < chances.Length; i++)
            {
                var w = chances[i] * (1 - chances[i]);
                for (var n = starts[i]; n < starts[i + 1]; n++)
                {
                    var (wk, sum) = (w * values[n], sums[places[n]]);
                    for (var m = starts[i]; m <= n; m++)
                    {
                        sum[places[m]] += wk * values[m];
                    }
                }
            }

            return Matrix<double>.Build.Dense(Width, Width, (k, l) => sums[Math.Max(k, l)][Math.Min(k, l)] + (k == l ? k == 0 ? 1e-9 : ridge : 0)).Cholesky();
        }
    }
}
