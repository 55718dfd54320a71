using Revisit.Records;

namespace Revisit.Fleet.Tests;

public sealed class LibraryTests
{
    private const string Yml = "grain: install\ncolumns:\n  - { name: install_id, kind: text, unit: \"\" }\nkey: [install_id]\n";

    private static SqlLibrary From(params (string Path, string Sql)[] queries)
    {
        var files = new Dictionary<string, string>();
        foreach (var (path, sql) in queries)
        {
            files[path + ".sql"] = sql;
            files[path + ".yml"] = Yml;
        }

        return SqlLibrary.From(files);
    }

    [Fact]
    public void Order_follows_what_is_read_not_the_alphabet()
    {
        var library = From(
            ("intermediate/int_a", "select install_id from int_b"),
            ("intermediate/int_b", "select install_id from stg_z"),
            ("staging/stg_z", "select install_id from installs"));
        Assert.Equal(["stg_z", "int_b", "int_a"], library.Models.Select(m => m.Name));
    }

    [Fact]
    public void A_circle_is_refused_by_name()
    {
        var error = Assert.Throws<UserError>(() => From(
            ("staging/stg_z", "select install_id from installs"),
            ("intermediate/int_d", "select install_id from int_a"),
            ("intermediate/int_a", "select install_id from int_b join stg_z using (install_id)"),
            ("intermediate/int_b", "select install_id from int_c"),
            ("intermediate/int_c", "select install_id from int_a")));
        Assert.Contains("int_a reads int_b reads int_c reads int_a", error.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("staging/stg_a", "select install_id from instals", "reads 'instals', which is no lake table")]
    [InlineData("marts/homes", "select install_id from installs", "homes.sql (marts) must not read 'installs' (lake table)")]
    [InlineData("intermediate/int_a", "select install_id from installs", "must not read 'installs' (lake table)")]
    [InlineData("checks/installs", "select install_id from stg_z", "bears the name of a lake table")]
    [InlineData("staging/stg_b", "select install_id from stg_z", "stg_b.sql (staging) must not read 'stg_z' (staging)")]
    [InlineData("tables/homes", "select install_id from installs", "expected a folder")]
    public void A_query_that_does_not_fit_is_refused(string path, string sql, string message)
    {
        var error = Assert.Throws<UserError>(() => From((path, sql), ("staging/stg_z", "select install_id from installs")));
        Assert.Contains(message, error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_query_without_a_yml_is_refused()
    {
        var error = Assert.Throws<UserError>(() => SqlLibrary.From(new Dictionary<string, string> { ["staging/stg_z.sql"] = "select 1" }));
        Assert.Contains("has no stg_z.yml beside it", error.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("unit: \"\" }", "unit: \"1\" }", "the nomenclature says text []")]
    [InlineData("name: install_id", "name: install_idd", "column 'install_idd' is not in the nomenclature")]
    [InlineData("key: [install_id]", "", "'key' is missing")]
    [InlineData("grain: install", "", "'grain' is missing")]
    [InlineData("key: [install_id]", "key: [crew_id]", "'crew_id' is used in key or ranges but is no column")]
    [InlineData("grain: install", "grian: install", "line 1")]
    public void A_wrong_contract_is_refused_with_its_place(string right, string wrong, string message)
    {
        var error = Assert.Throws<UserError>(() => ModelContract.Parse("homes", Yml.Replace(right, wrong, StringComparison.Ordinal)));
        Assert.Contains(message, error.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("select * from a join b using (x)", "a b")]
    [InlineData("with a as (select * from t), b as materialized (select * from a) select * from b", "t")]
    [InlineData("select 'x from hidden' from t -- from hidden\n/* join hidden */", "t")]
    [InlineData("select * from T where a is distinct from b and c in (select c from unnest([1]))", "t")]
    [InlineData("select a.x from a\nleft join\n  b on true", "a b")]
    public void Reads_are_found(string sql, string expected) => Assert.Equal(expected, string.Join(' ', SqlReferences.Of(sql)));
}
