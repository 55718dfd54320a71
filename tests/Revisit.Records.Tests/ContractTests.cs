using System.Text.RegularExpressions;

namespace Revisit.Records.Tests;

public sealed class ContractTests
{
    public static TheoryData<string> TableNames => [.. Tables.All.Select(t => t.Name)];

    [Theory]
    [MemberData(nameof(TableNames))]
    public void Every_column_of_every_table_is_in_the_nomenclature_once(string name)
    {
        var table = Tables.Find(name)!;
        Assert.All(table.Columns, c => Assert.True(Nomenclature.TryFind(c, out _), c));
        Assert.Equal(table.Columns.Count, table.Columns.Distinct().Count());
        Assert.All(table.Key, k => Assert.Contains(k, table.Columns));
    }

    [Fact]
    public void Every_term_has_a_meaning_and_a_name_that_ends_in_its_unit()
    {
        var units = new Dictionary<string, string>
        {
            ["_f"] = "[degF]|[degR]",
            ["_psig"] = "[psi]",
            ["_inwc"] = "[in_i'H2O]",
            ["_cfm"] = "[cft_i]/min",
            ["_pct"] = "%",
            ["_btuh"] = "[Btu_IT]/h",
            ["_oz"] = "[oz_av]",
            ["_ft"] = "[ft_i]",
            ["_w"] = "W",
            ["_tons"] = "[ton_refrig]",
        };
        foreach (var term in Nomenclature.All)
        {
            Assert.False(string.IsNullOrWhiteSpace(term.Meaning), term.Name);
            foreach (var (suffix, unit) in units.Where(u => term.Kind == ColumnKind.Number && term.Name.EndsWith(u.Key, StringComparison.Ordinal)))
            {
                Assert.True(unit.Split('|').Contains(term.Unit), $"{term.Name} ends in {suffix} but its unit is {term.Unit}");
            }
        }
    }

    [Fact]
    public void Names_are_unique_and_plain()
    {
        Assert.Equal(Nomenclature.All.Count, Nomenclature.All.Select(t => t.Name).Distinct().Count());
        Assert.All(Nomenclature.All, t => Assert.Matches(new Regex("^[a-z][a-z0-9_]*$"), t.Name));
    }

    [Fact]
    public void An_unknown_name_is_refused() =>
        Assert.Throws<KeyNotFoundException>(() => Nomenclature.Of("no_such_column"));

    [Fact]
    public void The_plain_row_holds_every_column_the_contract_names() =>
        Assert.All(Tables.PlainColumns, c => Assert.True(Nomenclature.TryFind(c, out _), c));
}
