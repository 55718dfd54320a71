namespace Revisit.Physics.Tests;

/// <summary>How well a quantity agrees with one source: the errors beyond what the source's rounding explains.</summary>
/// <param name="Quantity">What is compared, with the unit of the errors.</param>
/// <param name="Source">File under <c>Published/</c>.</param>
/// <param name="Errors">Absolute errors, one per row.</param>
/// <param name="Tolerance">Largest error allowed, in the same unit.</param>
/// <param name="Share">Least share of the rows that must keep it.</param>
public sealed record Agreement(string Quantity, string Source, IReadOnlyList<double> Errors, double Tolerance, double Share = 1.0)
{
    public double Worst => Errors.Max();

    public double Median => Errors.Order().ElementAt(Errors.Count / 2);

    /// <summary>True if there are rows and enough of them, usually all, keep the tolerance; NaN does not.</summary>
    public bool Holds => Errors.Count > 0 && Errors.Count(e => e <= Tolerance) >= Share * Errors.Count;

    public override string ToString() =>
        FormattableString.Invariant($"{Quantity,-62} {Source,-46} {Errors.Count,5} {Worst,10:G3} {Median,10:G3} {Tolerance,10:G3}{(Share < 1.0 ? $" of {Share:P0}" : "")}");
}
