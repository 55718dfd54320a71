namespace Revisit.Records;

/// <summary>How a column is kept: in C#, in Parquet and in SQL alike.</summary>
public enum ColumnKind
{
    /// <summary>Text. Codes are lower case with underscores; where a term has codes, nothing else is allowed.</summary>
    Text,

    /// <summary>A whole number, 32 bits.</summary>
    Whole,

    /// <summary>A double. Missing is NULL in a table and NaN inside a batch; a table never holds NaN or infinity.</summary>
    Number,

    /// <summary>A calendar day at the site.</summary>
    Day,

    /// <summary>A moment in UTC, kept to the millisecond (finer units lose rows through wrong column statistics).</summary>
    Instant,
}

/// <summary>One entry of the nomenclature: the same name means the same quantity in the same unit everywhere.</summary>
/// <param name="Name">Column name; the unit is its last part.</param>
/// <param name="Kind">How it is kept.</param>
/// <param name="Unit">UCUM code, "1" for a plain number, empty for text, days and instants.</param>
/// <param name="Low">Lowest physically possible value, in the unit; null where there is no bound.</param>
/// <param name="High">Highest physically possible value, in the unit.</param>
/// <param name="Meaning">What it is, in one line.</param>
/// <param name="Codes">The allowed codes, where the value is one of a fixed set.</param>
public sealed record Term(string Name, ColumnKind Kind, string Unit, double? Low, double? High, string Meaning, IReadOnlyList<string> Codes)
{
    /// <summary>Whether a number lies inside the physical range; bounds belong to it.</summary>
    public bool Allows(double value) =>
        double.IsFinite(value) && (Low is not { } low || value >= low) && (High is not { } high || value <= high);
}
