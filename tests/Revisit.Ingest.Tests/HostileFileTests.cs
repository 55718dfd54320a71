using System.IO.Compression;
using System.Text;
using Revisit.Records;

namespace Revisit.Ingest.Tests;

/// <summary>Files that mean harm: that expand without measure, whose meaning is larger than their text, or that change under the reader.</summary>
public class HostileFileTests
{
    private static byte[] Gzip(string text)
    {
        using var bytes = new MemoryStream();
        using (var gzip = new GZipStream(bytes, CompressionLevel.Optimal, leaveOpen: true))
        {
            gzip.Write(Encoding.UTF8.GetBytes(text));
        }

        return bytes.ToArray();
    }

    private static string Rows(int from, int count) => string.Concat(Enumerable.Range(from, count).Select(i => PlainRows.Row(("visit_id", $"V{i}")) + "\n"));

    [Fact]
    public void Compressed_files_put_together_read_as_one()
    {
        using var lake = new SampleLake();
        byte[] bytes = [.. Gzip(PlainRows.Heading + Rows(1, 300)), .. Gzip(Rows(301, 40)), .. Gzip(Rows(341, 60))];
        Assert.Equal(400, Assert.Single(lake.Ingest(null, lake.File("parts.csv.gz", bytes))).Accepted);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(9)]
    [InlineData(40)]
    public void Compressed_files_put_together_and_cut_off_are_refused(int cut)
    {
        using var lake = new SampleLake();
        byte[] bytes = [.. Gzip(PlainRows.Heading + Rows(1, 300)), .. Gzip(Rows(301, 40))];
        var path = lake.File("parts.csv.gz", bytes[..^cut]);
        Assert.Contains("damaged or cut off", Assert.Throws<UserError>(() => lake.Ingest(null, path)).Message, StringComparison.Ordinal);
        Assert.False(File.Exists(Path.Combine(lake.Folder, "catalog.json")));
    }

    [Fact]
    public void A_profile_can_allow_a_file_to_expand_further()
    {
        var bomb = Gzip(PlainRows.Heading + Rows(1, 1) + new string('\n', 70 << 20));
        string Take(SourceProfile profile)
        {
            using var lake = new SampleLake();
            var path = lake.File("bomb.csv.gz", bomb);
            try
            {
                return $"{Assert.Single(lake.Ingest(profile, path)).Accepted} accepted";
            }
            catch (UserError e)
            {
                return e.Message;
            }
        }

        var plain = SourceProfile.Plain(SourceKind.Csv);
        Assert.Contains("'expands_at_most'", Take(plain), StringComparison.Ordinal);
        Assert.Contains("1 accepted", Take(plain with { ExpandsAtMost = 2000 }), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("march.zip")]
    [InlineData("march.csv")]
    public void An_archive_is_refused_by_name(string name)
    {
        using var bytes = new MemoryStream();
        using (var zip = new ZipArchive(bytes, ZipArchiveMode.Create, leaveOpen: true))
        {
            using var entry = zip.CreateEntry("march.csv").Open();
            entry.Write(new byte[1 << 20]);
        }

        using var lake = new SampleLake();
        var path = lake.File(name, bytes.ToArray());
        var message = Assert.Throws<UserError>(() => lake.Ingest(null, path)).Message;
        Assert.Contains(name, message, StringComparison.Ordinal);
        Assert.Contains("archive", message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_file_that_grows_while_it_is_read_is_refused()
    {
        using var lake = new SampleLake();
        var path = lake.File("grows.csv", Encoding.UTF8.GetBytes(PlainRows.Heading + Rows(1, 30_000)));
        using var stop = new CancellationTokenSource();
        var (grown, row) = (0, Rows(99_999, 1));
        var growing = Task.Run(() =>
        {
            while (!stop.IsCancellationRequested)
            {
                File.AppendAllText(path, row);
                Interlocked.Increment(ref grown);
                Thread.Sleep(1);
            }
        });
        while (Volatile.Read(ref grown) == 0)
        {
            await Task.Yield();
        }

        var message = Assert.Throws<UserError>(() => lake.Ingest(null, path)).Message;
        await stop.CancelAsync();
        await growing;
        Assert.Contains("was written to while it was read", message, StringComparison.Ordinal);
        Assert.False(File.Exists(Path.Combine(lake.Folder, "catalog.json")));

        // At rest it is taken in.
        Assert.True(Assert.Single(lake.Ingest(null, path)).Accepted >= 30_000);
    }

    [Fact]
    public void A_profile_that_laughs_is_refused()
    {
        var laughs = "a: &a [lol, lol, lol, lol, lol, lol, lol, lol]\n" + string.Concat("bcdefghi".Select((c, i) => $"{c}: &{c} [{string.Join(", ", Enumerable.Repeat("*" + "abcdefgh"[i], 8))}]\n"));
        Assert.Contains("references", Assert.Throws<UserError>(() => ProfileReader.Parse(laughs, "made.yaml")).Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("[")]
    [InlineData("{a: ")]
    [InlineData("- ")]
    public void A_profile_nested_without_measure_is_refused(string level)
    {
        var text = string.Concat(Enumerable.Repeat(level, 50_000));
        Assert.Matches("^  made.yaml:1: not YAML: .*deep", Assert.Throws<UserError>(() => ProfileReader.Parse(text, "made.yaml")).Message.Split('\n')[1]);
    }

    [Fact]
    public void A_profile_without_measure_is_refused()
    {
        using var lake = new SampleLake();
        var path = lake.File("large.yaml", Encoding.UTF8.GetBytes("name: large\n" + new string('#', YamlText.MostBytes)));
        Assert.Contains("larger than 1 MB", Assert.Throws<UserError>(() => ProfileReader.Read(path)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Json_nested_without_measure_rejects_its_line_alone()
    {
        using var lake = new SampleLake();
        const string Sound = """{"visit_id":"V1","reading_no":1,"install_id":"I1","crew_id":"C1","visit_kind":"callback","visited_at":"2026-07-14T15:00:00Z"}""";
        var deep = Sound.Replace("\"V1\"", string.Concat(Enumerable.Repeat("[", 100_000)), StringComparison.Ordinal);
        var summary = Assert.Single(lake.Ingest(SourceProfile.Plain(SourceKind.Ndjson), lake.File("deep.ndjson", Encoding.UTF8.GetBytes($"{deep}\n{Sound}\n"))));
        Assert.Equal((1, 1), (summary.Accepted, summary.Rejected));
    }
}
