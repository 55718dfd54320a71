namespace Revisit.Fleet;

/// <summary>Where a query stands: the name of its folder.</summary>
public enum SqlLayer
{
    /// <summary>One lake table, its columns picked and cast; no joins.</summary>
    Staging,

    /// <summary>Staged rows joined or reshaped.</summary>
    Intermediate,

    /// <summary>One table of the lake, one grain.</summary>
    Marts,

    /// <summary>Rows of real output that must not be there.</summary>
    Checks,
}

/// <summary>A query with its contract.</summary>
/// <param name="Name">File name without extension; the view or table it makes.</param>
/// <param name="Layer">Its folder.</param>
/// <param name="Sql">One SELECT.</param>
/// <param name="ContractText">The yml beside it.</param>
/// <param name="Contract">The yml, read.</param>
public sealed record SqlModel(string Name, SqlLayer Layer, string Sql, string ContractText, ModelContract Contract)
{
    /// <summary>What it reads.</summary>
    public IReadOnlyList<string> Reads { get; } = SqlReferences.Of(Sql);
}
