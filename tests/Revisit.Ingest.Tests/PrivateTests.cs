using Revisit.Records;

namespace Revisit.Ingest.Tests;

/// <summary>What a private column holds reaches no byte of the lake and no message, whatever becomes of its row.</summary>
public class PrivateTests
{
    private const string Secret = "555-0177", Name = "Invented Householder";

    internal static SourceProfile Csv(string order = "V,N,I,C,K,T,Phone,Out,Note,Owner") => ProfileReader.Parse("""
        name: made
        columns: { visit_id: V, reading_no: N, install_id: I, crew_id: C, visit_kind: K, visited_at: T, outdoor_db_f: Out, notes: Note }
        private: [Phone, Owner]
        """, "made.yaml") with { Ignored = [.. order.Split(',').Where(h => h.StartsWith('X'))] };

    private static readonly SourceProfile Json = ProfileReader.Parse("""
        name: probes
        format: { kind: ndjson }
        columns: { visit_id: v, reading_no: n, install_id: i, crew_id: c, visit_kind: k, visited_at: t, outdoor_db_f: out, notes: note }
        private: [customer.phone, customer.owner]
        """, "probes.yaml");

    internal const string Heading = "V,N,I,C,K,T,Phone,Out,Note,Owner\n";
    private const string Sound = $"V1,1,I1,C1,other,2026-07-14T15:00:00Z,{Secret},88,fine,{Name}\n";

    /// <summary>Takes a text in and says where the secrets turn up.</summary>
    internal static List<string> Places(string text, SourceProfile profile, int rejected)
    {
        using var lake = new SampleLake();
        try
        {
            Assert.Equal(rejected, lake.IngestText(text, "branch.txt", profile).Rejected);
        }
        catch (UserError)
        {
            Assert.Equal(-1, rejected);
        }

        // The search itself must be able to find: what stands beside the secret is in the lake.
        if (rejected >= 0)
        {
            Assert.NotEmpty(lake.PlacesOf(rejected > 0 ? lake.One("SELECT min(rejected_reason) FROM rejected_rows") : "V1"));
        }

        return [.. lake.PlacesOf(Secret), .. lake.PlacesOf(Name)];
    }

    [Fact]
    public void The_search_finds_a_text_that_is_not_private()
    {
        using var lake = new SampleLake();
        _ = lake.IngestText(Heading + Sound, "branch.txt", Csv() with { Private = [], Columns = [.. Csv().Columns.Where(c => c.Column != "notes"), Csv().Columns.Single(c => c.Column == "notes") with { From = ["Owner"] }] });
        Assert.Contains(lake.PlacesOf(Name), p => p.StartsWith("readings", StringComparison.Ordinal));
        Assert.Contains(lake.PlacesOf(Name), p => p.StartsWith("landed", StringComparison.Ordinal));
    }

    public static TheoryData<string, string, int> Rows => new()
    {
        { "sound", Sound, 0 },
        { "set aside", Sound.Replace(",88,", ",warm,", StringComparison.Ordinal), 0 },
        { "bad time", Sound.Replace("2026-07-14", "2026-37-14", StringComparison.Ordinal), 1 },
        { "no identity", Sound.Replace("V1,1,I1", ",1,I1", StringComparison.Ordinal), 1 },
        { "cut after the phone", $"V1,1,I1,C1,other,2026-07-14T15:00:00Z,{Secret}\n", 1 },
        { "cut before the phone and sewn on", $"V1,1,I1,C1,{Secret},88,fine,{Name}\n", 1 },
        { "tail of a row", $"{Secret},88,fine,{Name}\n", 1 },
        { "one field too many before", $"V1,1,I1,C1,x,other,2026-07-14T15:00:00Z,{Secret},88,fine,{Name}\n", 1 },
        { "one field too many after", $"V1,1,I1,C1,other,2026-07-14T15:00:00Z,{Secret},88,fine,{Name},more\n", 1 },
        { "a comma in the note", $"V1,1,I1,C1,other,2026-07-14T15:00:00Z,{Secret},88,fine, very,{Name}\n", 1 },
        { "a quote that never closes", $"V1,1,I1,C1,other,\"2026-07-14T15:00:00Z,{Secret},88,fine,{Name}\n", 1 },
        { "a quote that never closes, first field", $"\"V1,1,I1,C1,other,2026-07-14T15:00:00Z,{Secret},88,fine,{Name}\n", 1 },
        { "broken quotes after the phone", $"V1,1,I1,C1,other,2026-07-14T15:00:00Z,{Secret},88,\"a \"fine\" note\",{Name}\n", 1 },
        { "a broken note over two lines", $"V1,1,I1,C1,other,2026-07-14T15:00:00Z,{Secret},88,\"a \"fine\"\nnote\",{Name}\n", 2 },
    };

    [Theory]
    [MemberData(nameof(Rows))]
    public void Nothing_private_leaks_from_a_row(string what, string row, int rejected)
    {
        Assert.True(Places(Heading + row, Csv(), rejected) is { Count: 0 } alone, what);
        var others = string.Concat(Enumerable.Range(2, 5).Select(n => Sound.Replace("V1", $"V{n}", StringComparison.Ordinal)));
        var places = Places(Heading + others + row + others.Replace("V", "W", StringComparison.Ordinal), Csv(), rejected);
        Assert.True(places.Count == 0, what + ": " + string.Join(" ; ", places));
    }

    private static string JsonLine(string customer) => $$"""{"v":"V1","n":1,"i":"I1","c":"C1","k":"other","t":"2026-07-14T15:00:00Z",{{customer}},"out":88,"note":"fine"}""" + "\n";

    private const string Both = $"\"customer\":{{\"phone\":\"{Secret}\",\"owner\":\"{Name}\"}}";

    public static TheoryData<string, string, int> Lines => new()
    {
        { "sound", JsonLine(Both), 0 },
        { "bad time", JsonLine(Both).Replace("-07-", "-37-", StringComparison.Ordinal), 1 },
        { "a missing brace", JsonLine(Both.TrimEnd('}')), 1 },
        { "an unclosed text", JsonLine(Both.Replace(Secret + "\"", Secret, StringComparison.Ordinal)), 1 },
        { "another case", JsonLine(Both.Replace("phone", "PHONE", StringComparison.Ordinal).Replace("customer", "Customer", StringComparison.Ordinal) + ","), 1 },
        { "spaces around the colon", JsonLine(Both.Replace(":", " : ", StringComparison.Ordinal) + ","), 1 },
        { "cut within the secret", JsonLine(Both)[..^90], 1 },
    };

    [Theory]
    [MemberData(nameof(Lines))]
    public void Nothing_private_leaks_from_a_line(string what, string line, int rejected)
    {
        var places = Places(line, Json, rejected);
        Assert.True(places.Count == 0, what + ": " + string.Join(" ; ", places));
    }

    [Fact]
    public void Remarks_name_headings_and_no_values()
    {
        using var lake = new SampleLake();
        _ = lake.IngestText(Heading.TrimEnd() + ",Extra\n" + Sound.TrimEnd() + ",x\n", "branch.txt", Csv());
        Assert.Contains(lake.Messages, m => m.Contains("Extra", StringComparison.Ordinal));
        Assert.Empty(lake.PlacesOf(Secret));
    }

    [Theory]
    [MemberData(nameof(LeakyFiles.Cases), MemberType = typeof(LeakyFiles))]
    public void Nothing_private_leaks_from_stranger_files(string what, string text, string profile, int rejected)
    {
        var places = Places(text, profile == "json" ? Json : Csv(), rejected);
        Assert.True(places.Count == 0, what + ": " + string.Join(" ; ", places));
    }
}
