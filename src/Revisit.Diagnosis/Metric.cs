namespace Revisit.Diagnosis;

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
