using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Ingest.Tests;

/// <summary>The same file read again by a mended profile takes the place of what the faulty one made of it.</summary>
public class ReprofileTests
{
    private static SourceProfile Profile(string name, string zone, string outdoorUnit) => ProfileReader.Parse($$"""
        name: {{name}}
        zone: {{zone}}
        columns:
          visit_id: V
          reading_no: N
          install_id: I
          crew_id: C
          visit_kind: K
          visited_at: T
          outdoor_db_f: { from: Out, unit: "{{outdoorUnit}}" }
        """, name + ".yaml");

    private const string Text = "V,N,I,C,K,T,Out\nV1,1,I1,C1,other,2026-07-31 21:30,31\nV2,1,I2,C1,other,2026-06-10 10:00,warm\nV3,1,I3,C1,tea,2026-06-10 10:00,30\n";

    [Fact]
    public void The_lake_is_as_if_only_the_mended_profile_had_been()
    {
        var mended = Profile("branch", "America/Chicago", "Cel");
        using var twice = new SampleLake();
        _ = twice.IngestText(Text, "branch.csv", Profile("branch", "Pacific/Auckland", "[degF]"));
        _ = twice.IngestText(Text, "branch.csv", mended);
        using var once = new SampleLake();
        _ = once.IngestText(Text, "branch.csv", mended);
        Assert.Equal(once.Bytes(), twice.Bytes());
        Assert.Equal("87.8", twice.One("SELECT outdoor_db_f FROM readings WHERE visit_id = 'V1'"));
        Assert.Equal(["1", "1"], twice.Query("SELECT count(*), (SELECT count(*) FROM rejected_rows) FROM sources").Single());
        Assert.Contains(twice.Messages, m => m.Contains("replaces", StringComparison.Ordinal));
    }

    [Fact]
    public void A_mended_zone_takes_the_reading_out_of_the_wrong_month()
    {
        using var lake = new SampleLake();
        var text = Text.Split("V2")[0].Replace("21:30", "21:30Z", StringComparison.Ordinal);
        _ = lake.IngestText(text, "branch.csv", Profile("branch", "UTC", "Cel"));
        Assert.Equal("2026-07-31", lake.One("SELECT visited_on FROM readings"));
        _ = lake.IngestText(text, "branch.csv", Profile("branch", "Pacific/Auckland", "Cel"));
        Assert.Equal("2026-08-01", lake.One("SELECT visited_on FROM readings"));
        Assert.Equal(["2026-08"], Lake.At(lake.Folder).ReadCatalog().Of("readings").Select(e => e.Partition).Order(StringComparer.Ordinal));
    }

    [Theory]
    [InlineData("")]
    [InlineData("V,N,I,C,K,T,Out\n")]
    public void Two_branches_that_deliver_the_same_empty_file_in_one_run_are_two_sources(string text)
    {
        using var lake = new SampleLake();
        var files = new[] { lake.File("north.csv", text), lake.File("south.csv", text) };
        using var publication = Lake.At(lake.Folder).BeginPublication();
        var summaries = IngestStage.Run(publication, [new(files[0], Profile("north", "UTC", "Cel")), new(files[1], Profile("south", "UTC", "Cel"))], null);
        Assert.Equal(["north", "south"], summaries.Select(s => s.Profile));
    }

    /// <summary>Stands for a lake of another version: what a source's id is made from has changed.</summary>
    [Fact]
    public void A_lake_that_another_version_made_is_not_added_to()
    {
        using var lake = new SampleLake();
        _ = lake.IngestText(Text, "branch.csv", Profile("branch", "UTC", "Cel"));
        using (var publication = Lake.At(lake.Folder).BeginPublication())
        {
            var sources = ParquetTable.Read(publication.PathOf(publication.Pending.Find("sources", "all")!), Tables.Sources);
            sources.Text("profile_hash")[0] = "0123456789abcdef";
            publication.Put(Tables.Sources, sources);
            publication.Commit();
        }

        var before = lake.Bytes();
        Assert.Contains("branch.csv", Assert.Throws<UserError>(() => lake.IngestText(PlainRows.Csv(PlainRows.Row()))).Message, StringComparison.Ordinal);
        Assert.Equal(before["catalog.json"], lake.Bytes()["catalog.json"]);
    }
}
