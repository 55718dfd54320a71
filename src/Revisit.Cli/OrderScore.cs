using System.Globalization;
using System.Text;
using Revisit.Forecast.Visits;
using Revisit.Storage;

namespace Revisit.Cli;

/// <summary>
/// What the worklist is worth on simulated fleets: corrections that a planned check would make at the installs it sends crews to, and hours on the road,
/// against simpler orders in the same crews' days.
/// </summary>
internal sealed class OrderScore
{
    /// <summary>Quantiles of Student's t for two-sided 95 % by degrees of freedom from 1, from any table (from memory).</summary>
    private static readonly double[] T95 = [12.71, 4.30, 3.18, 2.78, 2.57, 2.45, 2.36, 2.31, 2.26, 2.23, 2.20, 2.18, 2.16, 2.14, 2.13, 2.12, 2.11, 2.10, 2.09, 2.09];

    private readonly List<(string Order, double Visits, double Found, double Any, double TravelHours)> rows = [];

    /// <summary>Adds a fleet.</summary>
    /// <param name="session">Its lake with scores.</param>
    /// <param name="corrections">How many of airflow and charge a planned check would have corrected at an install; null where that is not known.</param>
    /// <param name="seed">Seed of the random order.</param>
    public void Add(LakeSession session, Func<string, int?> corrections, int seed)
    {
        foreach (var order in OrderComparison.Of(session, new WorklistSettings(), (ulong)seed).Where(o => o.Installs.Count > 0))
        {
            List<int> known = [.. order.Installs.Select(corrections).OfType<int>()];
            rows.Add((order.Name, order.Installs.Count, 100 * known.Average(), 100 * known.Average(n => n > 0 ? 1.0 : 0), order.TravelHours));
        }
    }

    /// <summary>The table as text.</summary>
    public string ToText()
    {
        var text = new StringBuilder("where crews are sent (2 weeks, 3 crews), mean of fleets; in brackets the worklist less the order with its 95 % interval over fleets\n");
        text.Append("order                        visits   corrections found per 100 visits     visits with any   found per 100 crew hours         hours on the road per 100 visits\n");
        var list = rows.Where(r => r.Order == "worklist").ToList();
        foreach (var order in rows.GroupBy(r => r.Order))
        {
            var own = order.ToList();
            string Of(Func<(string Order, double Visits, double Found, double Any, double TravelHours), double> value) =>
                string.Create(CultureInfo.InvariantCulture, $"{own.Average(value):0.0}{(order.Key == "worklist" ? "" : Difference([.. list.Zip(own, (a, b) => value(a) - value(b))]))}");
            text.Append(CultureInfo.InvariantCulture,
                $"{order.Key,-28} {own.Average(r => r.Visits),6:0.0}   {Of(r => r.Found),-34}   {own.Average(r => r.Any),11:0.0} %   {Of(r => r.Found * r.Visits / (r.Visits * 1.5 + r.TravelHours)),-30}   {Of(r => 100 * r.TravelHours / r.Visits)}\n");
        }

        return text.Append('\n').ToString();
    }

    private static string Difference(double[] differences)
    {
        if (differences.Length < 2)
        {
            return "";
        }

        var mean = differences.Average();
        var sd = Math.Sqrt(differences.Sum(d => (d - mean) * (d - mean)) / (differences.Length - 1));
        var half = T95[Math.Min(T95.Length, differences.Length - 1) - 1] * sd / Math.Sqrt(differences.Length);
        return $" ({Signed(mean)}, {Signed(mean - half)} to {Signed(mean + half)})";
    }

    private static string Signed(double value) => (Math.Round(value, 1) + 0.0).ToString("+0.0;-0.0", CultureInfo.InvariantCulture);
}
