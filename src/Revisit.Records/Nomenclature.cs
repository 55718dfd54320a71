using System.Collections.Frozen;

namespace Revisit.Records;

/// <summary>
/// The one table of names: unit, physical range and meaning of every column of every table.
/// Ranges of measured quantities are physical limits of residential cooling equipment and its instruments
/// (common practice, no source); they decide what can be right at all, not what is good.
/// </summary>
public static class Nomenclature
{
    private static readonly Term[] Entries = [.. new RecordTerms().All, .. new FleetTerms().All];
    private static readonly FrozenDictionary<string, Term> ByName = Entries.ToFrozenDictionary(t => t.Name);

    /// <summary>Every term, in the order of the contract.</summary>
    public static IReadOnlyList<Term> All => Entries;

    /// <summary>The term of a column name.</summary>
    /// <exception cref="KeyNotFoundException">The name is not in the nomenclature.</exception>
    public static Term Of(string name) => ByName.TryGetValue(name, out var term)
        ? term
        : throw new KeyNotFoundException($"'{name}' is not in the nomenclature; add it to RecordTerms.cs or FleetTerms.cs with unit, range and meaning.");

    /// <summary>Looks a name up without throwing.</summary>
    public static bool TryFind(string name, out Term term) => ByName.TryGetValue(name, out term!);
}
