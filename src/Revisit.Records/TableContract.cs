namespace Revisit.Records;

/// <summary>How the files of a table are split.</summary>
public enum Partition
{
    /// <summary>One file.</summary>
    Whole,

    /// <summary>One file for each month of visit, YYYY-MM.</summary>
    Month,

    /// <summary>One file for each source.</summary>
    Source,
}

/// <summary>What a table holds: its grain, key, how it is split, and its columns in order.</summary>
/// <param name="Name">Table name.</param>
/// <param name="Grain">One row is one ….</param>
/// <param name="Partition">How its files are split.</param>
/// <param name="Key">Columns that identify a row; rows are kept in this order.</param>
/// <param name="Columns">Columns in order; each is in the <see cref="Nomenclature"/>.</param>
public sealed record TableContract(string Name, string Grain, Partition Partition, IReadOnlyList<string> Key, IReadOnlyList<string> Columns)
{
    /// <summary>The terms of the columns, in order.</summary>
    public IReadOnlyList<Term> Terms { get; } = [.. Columns.Select(Nomenclature.Of)];

    /// <summary>Position of a column.</summary>
    /// <exception cref="KeyNotFoundException">The table has no such column.</exception>
    public int IndexOf(string column)
    {
        for (var i = 0; i < Columns.Count; i++)
        {
            if (Columns[i] == column)
            {
                return i;
            }
        }

        throw new KeyNotFoundException($"table '{Name}' has no column '{column}'");
    }
}
