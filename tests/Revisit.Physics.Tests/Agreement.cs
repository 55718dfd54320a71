namespace Revisit.Physics.Tests;

/// <summary>How well a quantity agrees with one source: the errors beyond what the source's rounding explains.</summary>
/// <param name="Quantity">What is compared, with the unit of the errors.</param>
/// <param name="Source">File under <c>Published/</c>.</param>
/// <param name="Errors">Absolute errors, one per row.</param>
/// <param name="Tolerance">Largest error allowed, in the same unit.</param>
public sealed record Agreement(string Quantity, string Source, IReadOnlyList<double> Errors, double Tolerance)
{
    public double Worst => Errors.Max();

    public double Median => Errors.Order().ElementAt(Errors.Count / 2);

    /// <summary>True if there are rows and none misses by more than the tolerance; NaN misses.</summary>
    public bool Holds => Errors.Count > 0 && Errors.All(e => e <= Tolerance);

    public override string ToString() =>
        FormattableString.Invariant($"{Quantity,-44} {Source,-46} {Errors.Count,5} {Worst,10:G3} {Median,10:G3} {Tolerance,10:G3}");
}
