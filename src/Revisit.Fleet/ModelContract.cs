using Revisit.Records;
using YamlDotNet.Core;
using YamlDotNet.Serialization;
using YamlDotNet.Serialization.NamingConventions;

namespace Revisit.Fleet;

/// <summary>
/// What a query promises: the yml beside its SQL. Columns are declared in order; name, kind and unit must agree with the
/// <see cref="Nomenclature"/>, whose ranges and codes hold without being repeated here.
/// </summary>
public sealed class ModelContract
{
    private static readonly IDeserializer Yaml = new DeserializerBuilder().WithNamingConvention(UnderscoredNamingConvention.Instance).Build();

    /// <summary>One row is one ….</summary>
    public string Grain { get; set; } = "";

    /// <summary>What the rows say, and for which population.</summary>
    public string Description { get; set; } = "";

    /// <summary>Whether an intermediate query's rows are kept in memory where all marts are made, because several read them.</summary>
    public bool Kept { get; set; }

    /// <summary>The columns in order.</summary>
    public List<ModelColumn> Columns { get; set; } = [];

    /// <summary>Columns that identify a row and give its order.</summary>
    public List<string> Key { get; set; } = [];

    /// <summary>Bounds tighter than the nomenclature's: column to [low, high].</summary>
    public Dictionary<string, double[]> Ranges { get; set; } = [];

    /// <summary>SQL expressions that are true for every row; unknown (NULL) counts as broken.</summary>
    public List<string> Invariants { get; set; } = [];

    /// <summary>Given rows and the rows they must give.</summary>
    public List<ModelCase> Cases { get; set; } = [];

    /// <summary>Reads a contract.</summary>
    /// <param name="name">Name for messages.</param>
    /// <param name="text">The yml.</param>
    /// <exception cref="UserError">The text is not a contract, or disagrees with the nomenclature.</exception>
    public static ModelContract Parse(string name, string text)
    {
        ModelContract contract;
        try
        {
            contract = Yaml.Deserialize<ModelContract>(text) ?? new ModelContract();
        }
        catch (YamlException e)
        {
            throw new UserError($"{name}.yml, line {e.Start.Line}: {e.InnerException?.Message ?? e.Message}");
        }

        var problems = contract.Problems().ToList();
        return problems.Count == 0 ? contract : throw new UserError($"{name}.yml does not describe {name}.sql:", problems);
    }

    /// <summary>The contract of the table a mart is kept in.</summary>
    public TableContract Table(string name) => new(name, Grain, Partition.Whole, Key, [.. Columns.Select(c => c.Name)]);

    private IEnumerable<string> Problems()
    {
        if (Grain.Length == 0)
        {
            yield return "'grain' is missing: say what one row is";
        }

        if (Columns.Count == 0)
        {
            yield return "'columns' is missing";
        }

        if (Key.Count == 0)
        {
            yield return "'key' is missing: name the columns that identify a row";
        }

        foreach (var column in Columns)
        {
            if (!Nomenclature.TryFind(column.Name, out var term))
            {
                yield return $"column '{column.Name}' is not in the nomenclature";
            }
            else if (!string.Equals(term.Kind.ToString(), column.Kind, StringComparison.OrdinalIgnoreCase) || term.Unit != column.Unit)
            {
                yield return $"column '{column.Name}' is {column.Kind} [{column.Unit}]; the nomenclature says {term.Kind.ToString().ToLowerInvariant()} [{term.Unit}]";
            }
        }

        foreach (var name in Columns.GroupBy(c => c.Name).Where(g => g.Count() > 1).Select(g => g.Key))
        {
            yield return $"column '{name}' stands twice";
        }

        foreach (var name in Key.Concat(Ranges.Keys).Except(Columns.Select(c => c.Name)))
        {
            yield return $"'{name}' is used in key or ranges but is no column";
        }

        foreach (var (name, _) in Ranges.Where(r => r.Value.Length != 2 || r.Value[0] > r.Value[1]))
        {
            yield return $"range of '{name}' must be [low, high]";
        }
    }
}

/// <summary>A declared column.</summary>
public sealed class ModelColumn
{
    /// <summary>Name in the nomenclature.</summary>
    public string Name { get; set; } = "";

    /// <summary>Kind: text, whole, number, day or instant.</summary>
    public string Kind { get; set; } = "";

    /// <summary>UCUM unit; empty for text, days and instants.</summary>
    public string Unit { get; set; } = "";
}

/// <summary>Rows for the inputs of a query and the rows that must come out, in key order; columns left out are NULL.</summary>
public sealed class ModelCase
{
    /// <summary>What the case shows.</summary>
    public string Name { get; set; } = "";

    /// <summary>Rows by input name; an input that is left out is empty.</summary>
    public Dictionary<string, List<Dictionary<string, string?>>> Given { get; set; } = [];

    /// <summary>Whether the rows to expect are only some of those that come out; they are then found by the key.</summary>
    public bool Some { get; set; }

    /// <summary>The rows that must come out. A column that is left out of a row is not compared.</summary>
    public List<Dictionary<string, string?>> Expect { get; set; } = [];
}
