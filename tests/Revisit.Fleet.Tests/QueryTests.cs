namespace Revisit.Fleet.Tests;

/// <summary>One theory holds every query to the yml beside it.</summary>
public sealed class QueryTests
{
    public static TheoryData<string> Names => [.. SqlLibrary.Embedded.Models.Select(m => m.Name)];

    [Theory]
    [MemberData(nameof(Names))]
    public void A_query_keeps_its_contract_and_its_cases(string name)
    {
        var model = SqlLibrary.Embedded.Find(name)!;
        Assert.Empty(CaseRunner.Problems(SqlLibrary.Embedded, model));
    }

    [Theory]
    [InlineData("rate: 0.5, rate_low: 0.094531", "rate: 0.6, rate_low: 0.094531", "rate: expected 0.6, found 0.5")]
    [InlineData("installs: 3, follow_ups: 2", "installs: 4, follow_ups: 2", "installs: expected 4, found 3")]
    [InlineData("judged + cannot_judge = follow_ups", "judged = follow_ups", "invariant judged = follow_ups: broken by 1 row(s)")]
    [InlineData("key: [crew_id]", "key: [crew_id]\nranges: { installs: [0, 2] }", "installs <= 2: broken by 1 row(s)")]
    [InlineData("key: [crew_id]", "key: [population]", "stand more than once")]
    [InlineData("  - { name: enough, kind: whole, unit: \"1\" }\n", "", "columns: declared")]
    [InlineData("- { crew_id: C2, installs: 1, follow_ups: 0, judged: 0, enough: 0, corrections: 0, rate: null, rate_low: null, rate_high: null }", "- { crew_id: C2 }\n      - { crew_id: C3 }", "expected 3 row(s), found 2")]
    [InlineData("int_installs_followed:", "int_installs:", "which the query does not read")]
    public void A_wrong_yml_is_reported(string right, string wrong, string report)
    {
        var model = SqlLibrary.Embedded.Find("crews")!;
        Assert.Contains(right, model.ContractText, StringComparison.Ordinal);
        var yml = model.ContractText.Replace(right, wrong, StringComparison.Ordinal);
        var twin = model with { ContractText = yml, Contract = ModelContract.Parse("crews", yml) };
        Assert.Contains(CaseRunner.Problems(SqlLibrary.Embedded, twin), p => p.Contains(report, StringComparison.Ordinal));
    }

    [Fact]
    public void A_query_without_cases_is_reported()
    {
        var model = SqlLibrary.Embedded.Find("crews")!;
        var yml = model.ContractText[..model.ContractText.IndexOf("cases:", StringComparison.Ordinal)];
        var twin = model with { Contract = ModelContract.Parse("crews", yml) };
        Assert.Contains("no cases: give rows and the rows they must give", CaseRunner.Problems(SqlLibrary.Embedded, twin));
    }

    [Theory]
    [InlineData("second_value: all, follow_ups: 2", "second_value: none, follow_ups: 2", "expected 8 row(s), found 7")]
    [InlineData("second_value: all, follow_ups: 2", "second_value: all, follow_ups: 3", "follow_ups: expected 3, found 2")]
    public void Some_of_the_rows_are_held_too(string right, string wrong, string report)
    {
        var model = SqlLibrary.Embedded.Find("correction_cubes")!;
        Assert.Contains(right, model.ContractText, StringComparison.Ordinal);
        var twin = model with { Contract = ModelContract.Parse(model.Name, model.ContractText.Replace(right, wrong, StringComparison.Ordinal)) };
        Assert.Contains(CaseRunner.Problems(SqlLibrary.Embedded, twin), p => p.Contains(report, StringComparison.Ordinal));
    }

    [Fact]
    public void Marts_come_out_in_key_order_because_the_query_says_so()
    {
        foreach (var model in SqlLibrary.Embedded.Models.Where(m => m.Layer is SqlLayer.Marts))
        {
            Assert.EndsWith("order by " + string.Join(", ", model.Contract.Key), model.Sql.TrimEnd(), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Every_mart_says_what_its_rows_speak_for() =>
        Assert.All(SqlLibrary.Embedded.Of(SqlLayer.Marts), m => Assert.NotEmpty(m.Contract.Description));

    [Fact]
    public void Rates_of_first_follow_ups_name_their_population()
    {
        var marts = SqlLibrary.Embedded.Of(SqlLayer.Marts).Where(m => m.Contract.Columns.Any(c => c.Name == "follow_ups")).ToList();
        Assert.Equal(["contexts", "correction_cubes", "crews", "follow_ups_by_size_crew_season", "months", "populations", "seasons", "sizes"], marts.Select(m => m.Name));
        Assert.All(marts, m => Assert.Contains("all follow-ups (complaints included)", m.Contract.Description.ReplaceLineEndings(" "), StringComparison.Ordinal));
    }
}
