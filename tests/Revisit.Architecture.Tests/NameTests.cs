using System.Reflection;
using Revisit.Records;
using YamlDotNet.RepresentationModel;

namespace Revisit.Architecture.Tests;

/// <summary>Every column of every table is in the nomenclature, with the same kind and unit. The rule has twins that show it can fail.</summary>
public class NameTests
{
    private static IReadOnlyList<SourceText> Models =>
        [.. Repository.Texts.Where(t => t.Path.StartsWith("pipelines/sql/", StringComparison.Ordinal) && t.Extension == ".yml")];

    [Fact]
    public void Every_table_of_the_contract_is_listed()
    {
        var fields = typeof(Tables).GetFields(BindingFlags.Public | BindingFlags.Static).Where(f => f.FieldType == typeof(TableContract)).Select(f => (TableContract)f.GetValue(null)!).ToList();
        Assert.Equal(fields.Select(t => t.Name).Order(), Tables.All.Select(t => t.Name).Order());
        Assert.All(fields, t => Assert.Equal(t, Tables.Find(t.Name)));
    }

    [Fact]
    public void Columns_of_the_contract_are_named() =>
        Assert.Empty(Tables.All.SelectMany(t => Unknown(t.Name, t.Columns)).Concat(Unknown("plain row", Tables.PlainColumns)));

    [Fact]
    public void Keys_are_columns() => Assert.All(Tables.All, t => Assert.Empty(t.Key.Except(t.Columns)));

    [Fact]
    public void An_unknown_column_is_seen()
    {
        Assert.Equal(["made_up: 'superheat' is not in the nomenclature"], Unknown("made_up", ["visit_id", "superheat"]));
        Assert.Throws<KeyNotFoundException>(() => new TableContract("made_up", "thing", Partition.Whole, ["visit_id"], ["visit_id", "superheat"]));
    }

    [Fact]
    public void Columns_of_the_marts_are_named_with_their_kind_and_unit()
    {
        Assert.Contains(Models, m => m.Path.StartsWith("pipelines/sql/marts/", StringComparison.Ordinal));
        Assert.Empty(Models.Where(m => m.Path.Contains("/marts/", StringComparison.Ordinal)).SelectMany(Faults));
    }

    [Theory]
    [InlineData("columns: [{ name: superheat, kind: number, unit: \"[degR]\" }]", "x.yml: 'superheat' is not in the nomenclature")]
    [InlineData("columns: [{ name: superheat_f, kind: number, unit: K }]", "x.yml: 'superheat_f' is number [K]; the nomenclature says number [[degR]]")]
    [InlineData("columns: [{ name: reading_no, kind: number, unit: \"1\" }]", "x.yml: 'reading_no' is number [1]; the nomenclature says whole [1]")]
    [InlineData("grain: month", "x.yml: no columns")]
    public void A_mart_column_out_of_line_is_seen(string yaml, string fault) => Assert.Equal([fault], Faults(new("x.yml", yaml)));

    private static IEnumerable<string> Unknown(string table, IEnumerable<string> columns) =>
        columns.Where(c => !Nomenclature.TryFind(c, out _)).Select(c => $"{table}: '{c}' is not in the nomenclature");

    private static List<string> Faults(SourceText model)
    {
        var yaml = new YamlStream();
        yaml.Load(new StringReader(model.Text));
        var root = (YamlMappingNode)yaml.Documents[0].RootNode;
        if (!root.Children.TryGetValue("columns", out var columns))
        {
            return [$"{model.Path}: no columns"];
        }

        var faults = new List<string>();
        foreach (var column in ((YamlSequenceNode)columns).Cast<YamlMappingNode>())
        {
            string Of(string key) => column.Children.TryGetValue(key, out var value) ? ((YamlScalarNode)value).Value ?? "" : "";
            if (!Nomenclature.TryFind(Of("name"), out var term))
            {
                faults.Add($"{model.Path}: '{Of("name")}' is not in the nomenclature");
                continue;
            }

            var kind = term.Kind.ToString().ToLowerInvariant();
            if (Of("kind") != kind || Of("unit") != term.Unit)
            {
                faults.Add($"{model.Path}: '{term.Name}' is {Of("kind")} [{Of("unit")}]; the nomenclature says {kind} [{term.Unit}]");
            }
        }

        return faults;
    }
}
