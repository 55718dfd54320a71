namespace Revisit.Architecture.Tests;

/// <summary>What the texts of the repository hold. Each rule has a twin that shows it can fail.</summary>
public class TextTests
{
    private static IReadOnlyList<SourceText> Texts => Repository.Texts;

    [Fact]
    public void The_repository_is_read()
    {
        Assert.True(Texts.Count(t => t.Extension == ".cs") > 100);
        Assert.Contains(Texts, t => t.Path == "src/Revisit.Cli/Program.cs");
        Assert.DoesNotContain(Texts, t => t.Path.Contains("/obj/", StringComparison.Ordinal));
    }

    [Fact]
    public void Source_files_are_short() => Assert.Empty(TextRules.TooLong(Texts));

    [Theory]
    [InlineData(400, 0)]
    [InlineData(401, 1)]
    public void A_long_file_is_seen(int lines, int faults) =>
        Assert.Equal(faults, TextRules.TooLong([new("src/A.cs", string.Concat(Enumerable.Repeat("//\n", lines)))]).Count());

    [Fact]
    public void No_text_holds_a_path_of_one_machine() => Assert.Empty(TextRules.MachinePaths(Texts));

    [Theory]
    [InlineData("see /wo" + "rk/here", 1)]
    [InlineData("\"/ho" + "me/someone/x.csv\"", 1)]
    [InlineData("cd /ro" + "ot/x", 1)]
    [InlineData("https://example.org/home/x and out/root/x", 0)]
    public void A_machine_path_is_seen(string line, int faults) =>
        Assert.Equal(faults, TextRules.MachinePaths([new("README.md", "first\n" + line)]).Count());

    [Fact]
    public void No_text_names_a_registry() => Assert.Empty(TextRules.RegistryHosts(Texts));

    [Fact]
    public void A_registry_is_seen()
    {
        SourceText[] texts = [new("NuGet.config", "<add value=\"https://api.Nu" + "Get.org/v3/index.json\" />"), new("src/packages.lock.json", "https://api.nu" + "get.org")];
        Assert.StartsWith("NuGet.config:1: a registry host", Assert.Single(TextRules.RegistryHosts(texts)), StringComparison.Ordinal);
    }

    [Fact]
    public void No_code_reads_the_clock() => Assert.Empty(TextRules.Clocks(Texts));

    [Theory]
    [InlineData("src/A.cs", "var t = DateTime" + ".Now;", 1)]
    [InlineData("notebooks/A.ipynb", "\"var t = DateTimeOffset" + ".UtcNow;\"", 1)]
    [InlineData("BannedSymbols.txt", "P:System.DateTime" + ".Now;why", 0)]
    [InlineData("src/A.cs", "DateTime.NowAndThen", 0)]
    public void A_clock_is_seen(string path, string line, int faults) => Assert.Equal(faults, TextRules.Clocks([new(path, line)]).Count());

    [Fact]
    public void Sources_hold_no_carriage_returns() => Assert.Empty(TextRules.CarriageReturns(Texts));

    [Fact]
    public void A_carriage_return_is_seen() =>
        Assert.Single(TextRules.CarriageReturns([new("src/A.cs", "class A;\r\n"), new("synthetic-data/exports/a.csv", "a\r\n")]));
}
