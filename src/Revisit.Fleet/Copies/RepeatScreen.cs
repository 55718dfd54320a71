using System.Numerics;
using System.Runtime.CompilerServices;

namespace Revisit.Fleet.Copies;

/// <summary>
/// Finds the earlier readings whose tied columns alone bring the bound of <see cref="Repeats"/> below a limit, many at once. In single precision with room for its error, so that none is missed;
/// the few that are found are then compared exactly.
/// </summary>
internal sealed class RepeatScreen
{
    private readonly float[][] columns;
    private readonly float[] same, logs;
    private readonly float limit;

    /// <param name="crew">Readings in order of time.</param>
    /// <param name="same">What two values of a column may lie apart and still be the same.</param>
    /// <param name="logs">Logarithm of the chance of a tie, by column; at most 0.</param>
    /// <param name="limit">Logarithm that a pair must stay below.</param>
    public RepeatScreen(IReadOnlyList<CopyReading> crew, double[] same, double[] logs, double limit)
    {
        columns = CopyReading.ByColumn(crew, v => (float)v);
        // A value is off by at most 2^-24 of itself, a difference of two by twice that and its own rounding.
        this.same = [.. same.Select((s, c) => (float)(s * 1.001 + 3e-7 * columns[c].Where(float.IsFinite).Select(Math.Abs).DefaultIfEmpty().Max()))];
        this.logs = [.. logs.Select(l => (float)l)];
        this.limit = (float)limit + 0.001f;
    }

    /// <summary>Places, from one up to another and not counting the last, of readings that may lie below the limit with reading <paramref name="i"/>; in order.</summary>
    public void Find(int i, int from, int to, List<int> found)
    {
        found.Clear();
        var lanes = Vector<float>.Count;
        var block = 4 * lanes;
        if (to - from < block)
        {
            Add(i, from, to, found);
            return;
        }

        var below = new Vector<float>(limit);
        for (var done = from; done < to; done += block)
        {
            // The last block reaches back over the one before it. Four sums side by side, since the terms of one wait for each other.
            var j = Math.Min(done, to - block);
            var (sum0, sum1, sum2, sum3) = (Vector<float>.Zero, Vector<float>.Zero, Vector<float>.Zero, Vector<float>.Zero);
            for (var c = 0; c < columns.Length; c++)
            {
                // Loads without a check each: the first and the last place are inside the column.
                ref var column = ref columns[c][j];
                var (value, most, log) = (new Vector<float>(columns[c][i]), new Vector<float>(same[c]), new Vector<float>(logs[c]));
                sum0 += Tied(Vector.LoadUnsafe(ref column), value, most, log);
                sum1 += Tied(Vector.LoadUnsafe(ref column, (nuint)lanes), value, most, log);
                sum2 += Tied(Vector.LoadUnsafe(ref column, (nuint)(2 * lanes)), value, most, log);
                sum3 += Tied(Vector.LoadUnsafe(ref column, (nuint)(3 * lanes)), value, most, log);
            }

            if (Vector.LessThanAny(Vector.Min(Vector.Min(sum0, sum1), Vector.Min(sum2, sum3)), below))
            {
                Add(i, done, Math.Min(done + block, to), found);
            }
        }
    }

    /// <summary>The logarithm where a value is tied, 0 elsewhere. A missing value is NaN, and no comparison with it holds.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector<float> Tied(Vector<float> values, Vector<float> value, Vector<float> most, Vector<float> log) =>
        Vector.BitwiseAnd(Vector.LessThanOrEqual(Vector.Abs(values - value), most).As<int, float>(), log);

    private void Add(int i, int from, int to, List<int> found)
    {
        for (var j = from; j < to; j++)
        {
            var log = 0f;
            for (var c = 0; c < columns.Length; c++)
            {
                log += Math.Abs(columns[c][j] - columns[c][i]) <= same[c] ? logs[c] : 0;
            }

            if (log < limit)
            {
                found.Add(j);
            }
        }
    }
}
