namespace Revisit.Ingest.Tests;

/// <summary>Drafting a profile from a sample.</summary>
public class DraftTests
{
    [Theory]
    [InlineData("plateau.txt")]
    [InlineData("prairie.tsv")]
    [InlineData("lakeside.ndjson")]
    public void A_draft_of_a_committed_export_is_yaml_the_reader_takes_or_says_what_is_missing(string export)
    {
        var draft = ProfileDraft.Of(Path.Combine(SampleLake.Repository, "synthetic-data", "exports", export));
        var problems = new List<string>();
        try
        {
            _ = ProfileReader.Parse(draft.Yaml, "draft.yaml");
        }
        catch (Records.UserError e)
        {
            problems.AddRange(e.Problems);
        }

        // The only faults a draft may have are the required columns it says it did not find.
        Assert.Equal(draft.NotFound.Order(StringComparer.Ordinal), problems.Select(p => p.Split('\'')[1]).Order(StringComparer.Ordinal));
        Assert.DoesNotContain("555-01", draft.Yaml, StringComparison.Ordinal);
    }

    [Fact]
    public void A_draft_sees_delimiter_preamble_decimal_comma_units_and_private_headings()
    {
        using var lake = new SampleLake();
        var draft = ProfileDraft.Of(lake.File("branch.txt", """
            Branch list
            Visit;Reading;Serial;Crew;Purpose;Taken;Outdoor °C;Customer phone;Zebra;High kPa abs
            V1;1;I1;C1;commissioning;2026-07-14 10:00;31,5;555-0100;a;2350,0
            V2;1;I2;C1;callback;2026-07-15 10:00;30,5;555-0101;b;2250,5

            """));
        var profile = ProfileReader.Parse(draft.Yaml, "branch.yaml");
        Assert.Equal((';', ',', 1), (profile.Delimiter, profile.Decimal, profile.PreambleLines));
        Assert.Equal("Cel", profile.Columns.Single(c => c.Column == "outdoor_db_f").Unit!.Code);
        var high = profile.Columns.Single(c => c.Column == "liquid_pressure_psig");
        Assert.Equal(("kPa", true), (high.Unit!.Code, high.Absolute));
        Assert.Equal(["Customer phone"], profile.Private);
        Assert.Equal(["Zebra"], draft.NotPlaced);
        Assert.Equal(["Zebra"], profile.Ignored);
        Assert.Empty(draft.NotFound);
        Assert.DoesNotContain("555-0100", draft.Yaml, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_required_and_not_seen_is_said()
    {
        using var lake = new SampleLake();
        Assert.Equal(["visit_id", "reading_no", "install_id", "crew_id"], ProfileDraft.Of(lake.File("few.csv", "Date,Purpose,Notes\n2026-07-14,callback,x\n")).NotFound);
    }

    [Theory]
    [InlineData("")]
    [InlineData(null)]
    public void An_empty_or_absent_sample_is_the_users_fault(string? text)
    {
        using var lake = new SampleLake();
        var path = text is null ? Path.Combine(lake.Folder, "none.csv") : lake.File("empty.csv", text);
        Assert.Contains(Path.GetFileName(path), Assert.Throws<Records.UserError>(() => ProfileDraft.Of(path)).Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(1, "")]
    [InlineData(100_000, "a;")] // took gigabytes
    public void A_file_in_which_no_heading_line_is_found_is_named(int times, string text)
    {
        using var lake = new SampleLake();
        var path = lake.File("odd.csv", string.Concat(Enumerable.Repeat(text, times)) + "\n");
        Assert.Contains("odd.csv", Assert.Throws<Records.UserError>(() => ProfileDraft.Of(path)).Message, StringComparison.Ordinal);
    }
}
