using Revisit.Physics;
using Revisit.Records;

namespace Revisit.Diagnosis;

/// <summary>The metrics of one reading. Reusable: fill it again for the next reading.</summary>
public sealed class MetricSet
{
    /// <summary>Number of metrics.</summary>
    public static readonly int Count = Tables.MetricColumns.Count;

    private static readonly Term[] Terms = [.. Tables.MetricColumns.Select(Nomenclature.Of)];
    private static readonly double[] Low = [.. Terms.Select(t => t.Low ?? double.MinValue)], High = [.. Terms.Select(t => t.High ?? double.MaxValue)];
    private readonly Metric[] values = new Metric[Count];

    /// <summary>The class of equipment the expected values are for; null before any reading.</summary>
    public SoundSystem? Equipment { get; internal set; }

    /// <summary>What the system ran in; meaningful where <see cref="Sound"/> is known.</summary>
    public EquipmentConditions Conditions { get; internal set; }

    /// <summary>Airflow a sound system would have [scfm a ton].</summary>
    public double ScfmPerTon { get; internal set; }

    /// <summary>What a sound system reads in these conditions, before blower heat; not known where something it needs is missing.</summary>
    public ExpectedReading Sound { get; internal set; } = ExpectedReading.None;

    /// <summary>One metric.</summary>
    public ref readonly Metric this[MetricId id] => ref values[(int)id];

    /// <summary>Keeps a value; one outside its column's physical range becomes missing with that reason.</summary>
    public void Set(MetricId id, double value, double sd)
    {
        if (value >= Low[(int)id] && value <= High[(int)id])
        {
            values[(int)id] = new(value, sd, null);
        }
        else
        {
            Lack(id, Refusal(Terms[(int)id], value));
        }
    }

    /// <summary>Keeps the reason why a value could not be given.</summary>
    public void Lack(MetricId id, string reason) => values[(int)id] = Metric.Because(reason);

    private static string Refusal(Term term, double value) => double.IsFinite(value)
        ? string.Create(System.Globalization.CultureInfo.InvariantCulture, $"computed {value:0.##} is outside {term.Low:0.##} to {term.High:0.##}: check the readings behind it")
        : "the readings behind it cannot be combined";
}
