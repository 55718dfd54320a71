using Revisit.Records;

namespace Revisit.Diagnosis;

/// <summary>The metrics, in the order of <see cref="Tables.MetricColumns"/>; a test holds the two together.</summary>
public enum MetricId
{
    Evaporating, Condensing, Superheat, TargetSuperheat, SuperheatError, Subcooling, SubcoolingError,
    ReturnWetBulb, ReturnHumidity, Split, ExpectedSplit, SplitError, CondensingOverOutdoor, LiquidOverOutdoor, CompressionRatio,
    HumidityRatio, Enthalpy, DewPoint, AirDensity,
    ImpliedAirflow, MeasuredAirflow, SensibleCapacity, TotalCapacity, CapacityRatio, FreezeMargin,
}

/// <summary>A value with its standard uncertainty, or the reason why there is none.</summary>
/// <param name="Value">Value in the unit of its column; NaN when missing.</param>
/// <param name="Sd">Standard uncertainty; NaN when missing.</param>
/// <param name="Missing">Why there is no value; null when there is one.</param>
public readonly record struct Metric(double Value, double Sd, string? Missing)
{
    /// <summary>A value that could not be given.</summary>
    public static Metric Because(string reason) => new(double.NaN, double.NaN, reason);

    /// <summary>Whether there is a value.</summary>
    public bool Has => !double.IsNaN(Value);
}

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
