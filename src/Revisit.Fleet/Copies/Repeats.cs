using System.Runtime.InteropServices;

namespace Revisit.Fleet.Copies;

/// <summary>
/// Finds visits that repeat an earlier visit of the same crew in more columns than honest readings would.
/// </summary>
/// <remarks>
/// Honest ties come from the resolution of the instruments, so the chance of a tie is counted in the crew's own values, column by column: tied pairs + 1 over
/// pairs + 1, doubled because readings in like weather lie closer. Two visits to one system use the tie rate of readings of the same visit instead.
/// For a pair, the product of 1/chance over its tied columns has an expected value of at most 2 to the number of columns, so by Markov's inequality
/// chance ≤ 2^columns × Π(tied) chance of a tie, given chances that hold whatever else ties; times the pairs of the visit it bounds the visit's chance (Boole).
/// A visit is named below <see cref="Named"/>; the number named in a crew's quarter is held against the binomial distribution.
/// </remarks>
internal static class Repeats
{
    /// <summary>An honest visit is named with at most this chance.</summary>
    public const double Named = 1e-6;

    private const int Window = 700;
    private const double Likeness = 2, PressureTolerance = 0.02, Tolerance = 0.002;

    private static readonly double LogOfTwo = Math.Log(2);

    /// <summary>A pair above this is not named, however few the pairs of its visit.</summary>
    private static readonly double MostLog = Math.Log(Named) + 1e-9;
    private static readonly double[] Same = [.. CopyReading.Columns.Select(c => c.EndsWith("_psig", StringComparison.Ordinal) ? PressureTolerance : Tolerance)];

    /// <summary>Tie rates of consecutive readings of one visit with nothing corrected between them.</summary>
    /// <param name="crews">Visits by crew, each with its readings.</param>
    public static double[] WithinVisits(IEnumerable<List<List<CopyReading>>> crews)
    {
        var (ties, pairs) = (new int[Same.Length], new int[Same.Length]);
        foreach (var (t, n) in crews.AsParallel().Select(WithinVisits))
        {
            for (var c = 0; c < Same.Length; c++)
            {
                ties[c] += t[c];
                pairs[c] += n[c];
            }
        }

        return [.. ties.Zip(pairs, (t, n) => (t + 1.0) / (n + 1))];
    }

    private static (int[] Ties, int[] Pairs) WithinVisits(List<List<CopyReading>> visits)
    {
        var (ties, pairs) = (new int[Same.Length], new int[Same.Length]);
        foreach (var readings in visits.Where(v => v.Count > 1))
        {
            List<CopyReading> visit = [.. readings.OrderBy(r => r.ReadingNo)];
            for (var k = 1; k < visit.Count; k++)
            {
                for (var c = 0; !visit[k].Corrected && c < Same.Length; c++)
                {
                    var apart = Math.Abs(visit[k].Values[c] - visit[k - 1].Values[c]);
                    pairs[c] += double.IsNaN(apart) ? 0 : 1;
                    ties[c] += apart <= Same[c] ? 1 : 0;
                }
            }
        }

        return (ties, pairs);
    }

    /// <summary>Visits of one crew that repeat an earlier one.</summary>
    /// <param name="crew">Readings in order of time.</param>
    /// <param name="written">The values of the last reading of each visit by column, without those that are missing.</param>
    /// <param name="within">Tie rates within visits.</param>
    public static IEnumerable<RepeatedVisit> Find(IReadOnlyList<CopyReading> crew, double[][] written, double[] within)
    {
        var (other, own) = (Logs(BetweenVisits(written)), Logs(within));
        var (screen, alike, earlier) = (new RepeatScreen(crew, Same, other, MostLog), new List<int>(), EarlierOfSameInstall(crew));
        var at = 0;
        while (at < crew.Count)
        {
            var next = at;
            while (next < crew.Count && crew[next].VisitId == crew[at].VisitId)
            {
                next++;
            }

            var from = Math.Max(0, at - Window);
            var best = (Visit: default(CopyReading?), Earlier: default(CopyReading?), Compared: 0, Repeated: 0, Log: MostLog);
            for (var i = at; i < next; i++)
            {
                screen.Find(i, from, at, alike);
                for (var j = earlier[i]; j >= from; j = earlier[j])
                {
                    alike.Add(j);
                }

                alike.Sort();
                foreach (var j in alike)
                {
                    if (j >= at)
                    {
                        break;
                    }

                    var (compared, repeated, log) = Compare(crew[i], crew[j], crew[i].InstallId == crew[j].InstallId ? own : other);
                    if (log < best.Log)
                    {
                        best = (crew[i], crew[j], compared, repeated, log);
                    }
                }
            }

            if (best is { Visit: { } visit, Earlier: { } repeatedOne } && (next - at) * (at - from) * Math.Exp(best.Log) is var chance && chance < Named)
            {
                yield return new(visit, repeatedOne, best.Compared, best.Repeated, chance);
            }

            at = next;
        }
    }

    /// <summary>For each reading the one before it of the same install, −1 without one.</summary>
    private static int[] EarlierOfSameInstall(IReadOnlyList<CopyReading> crew)
    {
        var (earlier, last) = (new int[crew.Count], new Dictionary<string, int>(StringComparer.Ordinal));
        for (var i = 0; i < crew.Count; i++)
        {
            ref var place = ref CollectionsMarshal.GetValueRefOrAddDefault(last, crew[i].InstallId, out var known);
            earlier[i] = known ? place : -1;
            place = i;
        }

        return earlier;
    }

    private static (int Compared, int Repeated, double Log) Compare(CopyReading a, CopyReading b, double[] logs)
    {
        var (compared, repeated, log) = (0, 0, 0.0);
        for (var c = 0; c < Same.Length; c++)
        {
            var apart = Math.Abs(a.Values[c] - b.Values[c]);
            if (double.IsNaN(apart))
            {
                continue;
            }

            compared++;
            log += LogOfTwo;
            if (apart <= Same[c])
            {
                repeated++;
                log += logs[c];
            }
        }

        return (compared, repeated, log);
    }

    private static double[] Logs(double[] chances) => [.. chances.Select(p => Math.Log(Math.Min(1, Likeness * p)))];

    private static double[] BetweenVisits(double[][] written) => [.. written.Select((values, c) => TieRate([.. values], Same[c]))];

    private static double TieRate(double[] values, double same)
    {
        Array.Sort(values);
        long ties = 0;
        for (int i = 0, j = 0; i < values.Length; i++)
        {
            while (values[i] - values[j] > same)
            {
                j++;
            }

            ties += i - j;
        }

        return (ties + 1) / (values.Length * (values.Length - 1.0) / 2 + 1);
    }
}
