using System.Diagnostics;

namespace Benchmarks;

/// <summary>A task timed in turn with a yardstick in one process, on the thread that asks.</summary>
/// <param name="Nanoseconds">Time an item in each run [ns].</param>
/// <param name="Ratios">Time an item over that of the yardstick run just before it.</param>
/// <param name="Bytes">Bytes allocated an item, of all runs.</param>
internal sealed record Timing(IReadOnlyList<double> Nanoseconds, IReadOnlyList<double> Ratios, double Bytes)
{
    /// <summary>Measures after one warm-up of both.</summary>
    /// <param name="runs">Measured runs.</param>
    /// <param name="items">Items a run of <paramref name="work"/>.</param>
    /// <param name="work">The task.</param>
    /// <param name="yardItems">Items a run of <paramref name="yardstick"/>.</param>
    /// <param name="yardstick">What it is held against.</param>
    public static Timing Of(int runs, int items, Action work, int yardItems, Action yardstick)
    {
        work();
        yardstick();
        var nanoseconds = new double[runs];
        var ratios = new double[runs];
        long bytes = 0;
        for (int i = 0; i < runs; i++)
        {
            double yard = Once(yardstick) / yardItems;
            long before = GC.GetAllocatedBytesForCurrentThread();
            nanoseconds[i] = Once(work) / items;
            bytes += GC.GetAllocatedBytesForCurrentThread() - before;
            ratios[i] = nanoseconds[i] / yard;
        }

        return new(nanoseconds, ratios, bytes / ((double)runs * items));
    }

    /// <summary>One run [ns].</summary>
    public static double Once(Action work)
    {
        GC.Collect();
        long start = Stopwatch.GetTimestamp();
        work();
        return Stopwatch.GetElapsedTime(start).TotalNanoseconds;
    }

    public static double Median(IReadOnlyList<double> values)
    {
        double[] sorted = [.. values.Order()];
        return sorted.Length % 2 == 1 ? sorted[sorted.Length / 2] : 0.5 * (sorted[sorted.Length / 2 - 1] + sorted[sorted.Length / 2]);
    }
}
