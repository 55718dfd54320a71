using MathNet.Numerics.LinearAlgebra;

namespace Revisit.Fleet.Statistics;

/// <summary>
/// Risk-adjusted cumulative sum of Steiner, Cook, Farewell and Treasure (2000), Biostatistics 1:441: each install adds the log-likelihood ratio of odds <paramref name="oddsRatio"/> times
/// as high against odds as expected; the sum never falls below 0 and signals at a limit.
/// </summary>
/// <param name="oddsRatio">Odds ratio to be found: 2 for odds doubled, 0.5 for odds halved.</param>
public sealed class RiskAdjustedCusum(double oddsRatio)
{
    private static readonly (double At, double Weight)[] Nodes =
        [(-2.8569700138728, 0.0112574113277), (-1.3556261799742, 0.2220759220056), (0, 0.5333333333333), (1.3556261799742, 0.2220759220056), (2.8569700138728, 0.0112574113277)];

    /// <summary>What an install adds.</summary>
    /// <param name="chance">Its expected chance of the finding, inside 0 and 1.</param>
    /// <param name="happened">Whether it had the finding.</param>
    public double Score(double chance, bool happened) => (happened ? Math.Log(oddsRatio) : 0) - Math.Log(1 - chance + oddsRatio * chance);

    /// <summary>The sum after each install.</summary>
    public double[] Path(IReadOnlyList<double> chances, IReadOnlyList<bool> happened)
    {
        ArgumentNullException.ThrowIfNull(chances);
        ArgumentNullException.ThrowIfNull(happened);
        var path = new double[chances.Count];
        for (var i = 0; i < path.Length; i++)
        {
            path[i] = Math.Max(0, (i == 0 ? 0 : path[i - 1]) + Score(chances[i], happened[i]));
        }

        return path;
    }

    /// <summary>
    /// Average run length to the signal by a Markov chain over a grid of the sum (Brook and Evans 1972, Biometrika 59:539), a score between two points shared among them
    /// so that its mean is kept.
    /// </summary>
    /// <param name="limit">Limit of the sum.</param>
    /// <param name="mix">Chances of the installs, each as likely as the other.</param>
    /// <param name="trueOddsRatio">Odds as they truly are over the expected: 1 for the run length to a false signal.</param>
    /// <param name="states">Points of the grid.</param>
    public double AverageRunLength(double limit, IReadOnlyList<double> mix, double trueOddsRatio = 1, int states = 200)
    {
        var step = limit / states;
        ArgumentNullException.ThrowIfNull(mix);
        var jumps = new List<(int By, double Chance)>();
        foreach (var chance in mix)
        {
            AddJumps(jumps, chance, trueOddsRatio, step, mix.Count);
        }

        var stay = Matrix<double>.Build.Dense(states, states, (i, j) => i == j ? 1 : 0);
        for (var i = 0; i < states; i++)
        {
            foreach (var (by, chance) in jumps)
            {
                if (i + by < states)
                {
                    stay[i, Math.Max(0, i + by)] -= chance;
                }
            }
        }

        return stay.LU().Solve(Vector<double>.Build.Dense(states, 1))[0];
    }

    /// <summary>Chance of a signal within a sequence of installs, in their order, by the same chain.</summary>
    /// <param name="limit">Limit of the sum.</param>
    /// <param name="chances">Expected chances, in order.</param>
    /// <param name="trueOddsRatio">Odds as they truly are over the expected.</param>
    /// <param name="states">Points of the grid.</param>
    public double SignalWithin(double limit, IReadOnlyList<double> chances, double trueOddsRatio = 1, int states = 60)
    {
        ArgumentNullException.ThrowIfNull(chances);
        var step = limit / states;
        var (at, next) = (new double[states], new double[states]);
        at[0] = 1;
        var jumps = new List<(int By, double Chance)>(4);
        foreach (var chance in chances)
        {
            Array.Clear(next);
            jumps.Clear();
            AddJumps(jumps, chance, trueOddsRatio, step, 1);
            foreach (var (by, p) in jumps)
            {
                // What would fall below 0 stays at 0; the rest moves as it stands, several states at once.
                var from = Math.Min(states, Math.Max(0, -by));
                for (var i = 0; i < from; i++)
                {
                    next[0] += at[i] * p;
                }

                if (states - Math.Max(from, from + by) is > 0 and var moved)
                {
                    AddTimes(next.AsSpan(from + by, moved), at.AsSpan(from, moved), p);
                }
            }

            (at, next) = (next, at);
        }

        return 1 - at.Sum();
    }

    /// <summary>
    /// The limit at which a sequence of installs signals falsely with a chance, the expected chances themselves being uncertain: averaged over a normal spread of their common
    /// log odds (Gauss–Hermite, five points).
    /// </summary>
    /// <param name="chances">Expected chances, in order.</param>
    /// <param name="falseSignal">Chance of a false signal.</param>
    /// <param name="spread">Standard deviation of the log odds that all expected chances may be off by.</param>
    public double LimitFor(IReadOnlyList<double> chances, double falseSignal, double spread)
    {
        var (low, high) = (0.05, 12.0);
        for (var i = 0; i < 14; i++)
        {
            var middle = (low + high) / 2;
            (low, high) = SignalWithinSpread(middle, chances, 1, spread) > falseSignal ? (middle, high) : (low, middle);
        }

        return high;
    }

    /// <summary>Chance of a signal where the expected chances are uncertain, see <see cref="LimitFor"/>.</summary>
    public double SignalWithinSpread(double limit, IReadOnlyList<double> chances, double trueOddsRatio, double spread) =>
        spread == 0 ? SignalWithin(limit, chances, trueOddsRatio) : Nodes.Sum(n => n.Weight * SignalWithin(limit, chances, trueOddsRatio * Math.Exp(spread * n.At)));

    /// <summary>Adds values times a factor, each rounded as one by one.</summary>
    private static void AddTimes(Span<double> sums, ReadOnlySpan<double> values, double factor)
    {
        var (wide, at) = (System.Numerics.Vector<double>.Count, 0);
        for (; at <= sums.Length - wide; at += wide)
        {
            (new System.Numerics.Vector<double>(sums[at..]) + new System.Numerics.Vector<double>(values[at..]) * factor).CopyTo(sums[at..]);
        }

        for (; at < sums.Length; at++)
        {
            sums[at] += values[at] * factor;
        }
    }

    /// <summary>Adds the jumps of an install, one of so many that are as likely, in order of their size.</summary>
    private void AddJumps(List<(int By, double Chance)> jumps, double chance, double trueOddsRatio, double step, int of)
    {
        var real = trueOddsRatio * chance / (1 - chance + trueOddsRatio * chance);
        Share(Score(chance, true), real);
        Share(Score(chance, false), 1 - real);

        void Share(double score, double p)
        {
            var below = (int)Math.Floor(score / step);
            var above = score / step - below;
            Add(below, p * (1 - above) / of);
            Add(below + 1, p * above / of);
        }

        void Add(int by, double p)
        {
            var at = jumps.Count;
            while (at > 0 && jumps[at - 1].By >= by)
            {
                at--;
            }

            if (at < jumps.Count && jumps[at].By == by)
            {
                jumps[at] = (by, jumps[at].Chance + p);
            }
            else
            {
                jumps.Insert(at, (by, p));
            }
        }
    }
}
