using System.Text.RegularExpressions;
using Revisit.Records;

namespace Revisit.Report.Tests;

public class TextsTests
{
    private static readonly Texts English = Texts.Load("en");

    [Fact]
    public void Every_code_of_the_contract_has_words()
    {
        foreach (var (set, codes) in new[]
        {
            ("finding", Codes.Finding), ("outcome", Codes.Outcome), ("season", Codes.Season), ("kind", Codes.VisitKind), ("metering", Codes.Metering),
            ("correction", Codes.Correction), ("aside", Codes.SetAside), ("rejected", Codes.Rejected),
        })
        {
            Assert.All(codes, c => Assert.True(English.Has($"{set}.{c}"), $"{set}.{c}"));
        }
    }

    [Theory]
    [InlineData("doubt", "intermediate/int_doubts_listed.sql", "(?:then|else) '([a-z_]+)'")]
    [InlineData("column", "marts/missing_values.sql", @"count\(\*\) - count\(([a-z_]+)\)")]
    public void Every_code_that_sql_counts_has_words(string set, string file, string pattern)
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "Analytics.sln")))
        {
            folder = Path.GetDirectoryName(folder)!;
        }

        var codes = Regex.Matches(File.ReadAllText(Path.Combine(folder, "pipelines", "sql", file)), pattern).Select(m => m.Groups[1].Value).Distinct().ToList();
        Assert.True(codes.Count > 10);
        Assert.All(codes, c => Assert.True(English.Has($"{set}.{c}"), $"{set}.{c}"));
    }

    [Fact]
    public void One_and_many_have_their_own_words()
    {
        Assert.StartsWith("1 install to", English.Say("work.intro", 1, "x"), StringComparison.Ordinal);
        Assert.StartsWith("2 installs to", English.Say("work.intro", 2, "x"), StringComparison.Ordinal);
    }

    [Fact]
    public void A_missing_text_or_language_is_named()
    {
        Assert.Contains("'no.such'", Assert.Throws<KeyNotFoundException>(() => English.Say("no.such")).Message, StringComparison.Ordinal);
        Assert.Contains("'xx'", Assert.Throws<UserError>(() => Texts.Load("xx")).Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("a<b>&\"'", "a&lt;b&gt;&amp;&quot;&#39;")]
    [InlineData("two\r\nlines", "two\nlines")]
    [InlineData("\u202Egnp\u0007", "\uFFFDgnp\uFFFD")]
    [InlineData(null, "")]
    public void Text_is_escaped(string? text, string markup) => Assert.Equal(markup, Html.Of($"{text}").Markup);
}
