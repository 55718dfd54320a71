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
    private static readonly double[] Same = [.. CopyReading.Columns.Select(c => c.EndsWith("_psig", StringComparison.Ordinal) ? PressureTolerance : Tolerance)];

    /// <summary>Tie rates of consecutive readings of one visit with nothing corrected between them.</summary>
    public static double[] WithinVisits(IEnumerable<CopyReading> readings)
    {
        var (ties, pairs) = (new int[Same.Length], new int[Same.Length]);
        foreach (var visit in readings.GroupBy(r => r.VisitId))
        {
            foreach (var (a, b) in visit.OrderBy(r => r.ReadingNo).Zip(visit.OrderBy(r => r.ReadingNo).Skip(1)).Where(p => !p.Second.Corrected))
            {
                for (var c = 0; c < Same.Length; c++)
                {
                    if (!double.IsNaN(a.Values[c] - b.Values[c]))
                    {
                        pairs[c]++;
                        ties[c] += Math.Abs(a.Values[c] - b.Values[c]) <= Same[c] ? 1 : 0;
                    }
                }
            }
        }

        return [.. ties.Zip(pairs, (t, n) => (t + 1.0) / (n + 1))];
    }

    /// <summary>Visits of one crew that repeat an earlier one; readings in order of time.</summary>
    public static IEnumerable<RepeatedVisit> Find(IReadOnlyList<CopyReading> crew, double[] within)
    {
        var (other, own) = (Logs(BetweenVisits(crew)), Logs(within));
        var at = 0;
        while (at < crew.Count)
        {
            var next = at;
            while (next < crew.Count && crew[next].VisitId == crew[at].VisitId)
            {
                next++;
            }

            var (best, pairs) = (default((CopyReading? Visit, CopyReading? Earlier, int Compared, int Repeated, double Log)), 0);
            for (var i = at; i < next; i++)
            {
                for (var j = Math.Max(0, at - Window); j < at; j++)
                {
                    pairs++;
                    var (compared, repeated, log) = Compare(crew[i], crew[j], crew[i].InstallId == crew[j].InstallId ? own : other);
                    if (log < best.Log)
                    {
                        best = (crew[i], crew[j], compared, repeated, log);
                    }
                }
            }

            if (best is { Visit: { } visit, Earlier: { } earlier } && pairs * Math.Exp(best.Log) is var chance && chance < Named)
            {
                yield return new(visit, earlier, best.Compared, best.Repeated, chance);
            }

            at = next;
        }
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

    private static double[] BetweenVisits(IReadOnlyList<CopyReading> crew)
    {
        var last = crew.GroupBy(r => r.VisitId).Select(v => v.Last()).ToList();
        return [.. Enumerable.Range(0, Same.Length).Select(c => TieRate([.. last.Select(r => r.Values[c]).Where(v => !double.IsNaN(v)).Order()], Same[c]))];
    }

    private static double TieRate(double[] ordered, double same)
    {
        long ties = 0;
        for (int i = 0, j = 0; i < ordered.Length; i++)
        {
            while (ordered[i] - ordered[j] > same)
            {
                j++;
            }

            ties += i - j;
        }

        return (ties + 1) / (ordered.Length * (ordered.Length - 1.0) / 2 + 1);
    }
}
