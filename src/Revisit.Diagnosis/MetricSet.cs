using Revisit.Records;

namespace Revisit.Diagnosis;

/// <summary>The metrics of one reading. Reusable: fill it again for the next reading.</summary>
public sealed class MetricSet
{
    /// <summary>Number of metrics.</summary>
    public static readonly int Count = Tables.MetricColumns.Count;

    private static readonly Term[] Terms = [.. Tables.MetricColumns.Select(Nomenclature.Of)];
    private readonly Metric[] values = new Metric[Count];

    /// <summary>One metric.</summary>
    public ref readonly Metric this[MetricId id] => ref values[(int)id];

    /// <summary>Keeps a value; one outside its column's physical range becomes missing with that reason.</summary>
    public void Set(MetricId id, double value, double sd)
    {
        var term = Terms[(int)id];
        values[(int)id] = term.Allows(value)
            ? new(value, sd, null)
            : Metric.Because(double.IsFinite(value)
                ? string.Create(System.Globalization.CultureInfo.InvariantCulture, $"computed {value:0.##} is outside {term.Low:0.##} to {term.High:0.##}: check the readings behind it")
                : "the readings behind it cannot be combined");
    }

    /// <summary>Keeps the reason why a value could not be given.</summary>
    public void Lack(MetricId id, string reason) => values[(int)id] = Metric.Because(reason);
}
