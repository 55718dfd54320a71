using YamlDotNet.RepresentationModel;

namespace Revisit.EndToEnd.Tests;

/// <summary>Drafting a profile from each committed export.</summary>
public class ProfileTests
{
    [Theory]
    [InlineData("harbor.csv", 38)]
    [InlineData("lakeside.ndjson", 40)]
    [InlineData("plateau.txt", 35)]
    [InlineData("prairie.tsv", 38)]
    public void A_draft_names_every_heading_and_says_what_it_could_not_place(string export, int headings)
    {
        var ended = Command.Run(Path.GetTempPath(), "profile", Repository.Export(export)).Well();
        var draft = Draft(ended.Out);
        var ignored = Items(draft, "ignored");
        var placed = Placed(draft);
        var named = ignored.Concat(placed).Concat(Items(draft, "private")).Distinct().ToList();
        Assert.True(named.Count >= headings, $"{named.Count} of {headings}: {string.Join(" | ", named)}");
        Assert.NotEmpty(placed);
        Assert.StartsWith(ignored.Count == 0 ? "" : "Not placed: " + ignored[0], ended.Error, StringComparison.Ordinal);
        Assert.Contains("Check every line marked CHECK", ended.Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("harbor.csv", "555-0106")]
    [InlineData("lakeside.ndjson", "555-0104")]
    public void A_draft_shows_no_private_value(string export, string phone)
    {
        Assert.Contains(phone, File.ReadAllText(Repository.Export(export)), StringComparison.Ordinal);
        var ended = Command.Run(Path.GetTempPath(), "profile", Repository.Export(export)).Well();
        Assert.DoesNotContain(phone, ended.Out + ended.Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("harbor.csv")]
    [InlineData("lakeside.ndjson")]
    public void A_draft_of_plain_headings_places_most_of_them(string export)
    {
        var draft = Draft(Command.Run(Path.GetTempPath(), "profile", Repository.Export(export)).Well().Out);
        Assert.True(Placed(draft).Count >= Items(draft, "ignored").Count, $"{Placed(draft).Count} placed, {Items(draft, "ignored").Count} not");
    }

    private static YamlMappingNode Draft(string text)
    {
        var yaml = new YamlStream();
        yaml.Load(new StringReader(text));
        return (YamlMappingNode)yaml.Documents[0].RootNode;
    }

    private static List<string> Items(YamlMappingNode draft, string key) =>
        draft.Children.TryGetValue(key, out var node) ? [.. ((YamlSequenceNode)node).Select(n => ((YamlScalarNode)n).Value!)] : [];

    private static List<string> Placed(YamlMappingNode draft) =>
        [.. ((YamlMappingNode)draft.Children["columns"]).Children.Values.Select(v => ((YamlScalarNode)(v is YamlMappingNode m ? m.Children["from"] : v)).Value!)];
}
