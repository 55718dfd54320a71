using System.IO.Compression;
using System.Text;
using Revisit.Records;

namespace Revisit.Ingest.Tests;

/// <summary>Files as they come: compressed, in folders, with headings that come and go.</summary>
public class SourceFileTests
{
    private const string Numbers = "SELECT * EXCLUDE (source_id) FROM readings ORDER BY visit_id";

    private static readonly string Csv = PlainRows.Csv([.. Enumerable.Range(1, 500).Select(i => PlainRows.Row(("visit_id", $"V{i}"), ("outdoor_db_f", $"{70 + i % 30}")))]);

    private static byte[] Gzip(string text) => Gzip(Encoding.UTF8.GetBytes(text));

    private static byte[] Gzip(byte[] text)
    {
        using var bytes = new MemoryStream();
        using (var gzip = new GZipStream(bytes, CompressionLevel.Optimal, leaveOpen: true))
        {
            gzip.Write(text);
        }

        return bytes.ToArray();
    }

    [Theory]
    [InlineData("branch.csv.gz")]
    [InlineData("branch.csv")]
    public void A_compressed_file_reads_like_the_file_itself(string name)
    {
        using var plain = new SampleLake();
        using var compressed = new SampleLake();
        Assert.Equal(500, plain.IngestText(Csv).Accepted);
        Assert.Equal(500, Assert.Single(compressed.Ingest(null, compressed.File(name, Gzip(Csv)))).Accepted);
        Assert.Equal(plain.Query(Numbers), compressed.Query(Numbers));
    }

    [Fact]
    public void A_compressed_json_file_is_known_by_its_inner_ending()
    {
        using var lake = new SampleLake();
        var line = """{"visit_id":"V1","reading_no":1,"install_id":"I1","crew_id":"C1","visit_kind":"callback","visited_at":"2026-07-14T15:00:00Z"}""" + "\n";
        Assert.Equal(1, Assert.Single(lake.Ingest(null, lake.File("branch.ndjson.gz", Gzip(line)))).Accepted);
    }

    [Fact]
    public void A_row_in_a_compressed_and_in_a_plain_file_stands_once()
    {
        using var lake = new SampleLake();
        var summaries = lake.Ingest(null, lake.File("a.csv", Encoding.UTF8.GetBytes(Csv)), lake.File("a.csv.gz", Gzip(Csv)));
        Assert.Equal(500, summaries.Sum(s => s.Accepted));
        Assert.Equal(500, summaries.Sum(s => s.Duplicates));
    }

    [Theory]
    [InlineData(8)] // its last four bytes are the empty time stamp, which reads like the length of an empty text
    [InlineData(20)]
    [InlineData(1_000)]
    public void A_compressed_file_that_is_cut_off_is_refused_whole(int left)
    {
        using var lake = new SampleLake();
        var bytes = Gzip(Csv);
        Assert.True(bytes.Length > left);
        var path = lake.File("cut.csv.gz", bytes[..left]);
        Assert.Contains("damaged or cut off", Assert.Throws<UserError>(() => lake.Ingest(null, path)).Message);
        Assert.False(File.Exists(Path.Combine(lake.Folder, "catalog.json")));
    }

    [Fact]
    public void A_compressed_file_with_a_flipped_bit_is_refused_whole()
    {
        using var lake = new SampleLake();
        var bytes = Gzip(Csv);
        bytes[^6] ^= 1; // of the checksum
        var path = lake.File("flipped.csv.gz", bytes);
        Assert.Contains("damaged or cut off", Assert.Throws<UserError>(() => lake.Ingest(null, path)).Message);
    }

    [Theory]
    [InlineData("branch.ndjson.gz.gz", """{"visit_id":"V1","reading_no":1,"install_id":"I1","crew_id":"C1","visit_kind":"callback","visited_at":"2026-07-14T15:00:00Z"}""")]
    [InlineData("branch.csv.gz", "visit_id,reading_no\nV1,1")]
    public void A_file_that_was_compressed_twice_is_refused_by_name(string name, string text)
    {
        using var lake = new SampleLake();
        var path = lake.File(name, Gzip(Gzip(Encoding.UTF8.GetBytes(text))));
        var message = Assert.Throws<UserError>(() => lake.Ingest(SourceProfile.Plain(SourceKind.Ndjson), path)).Message;
        Assert.Contains(name, message);
        Assert.Contains("compressed twice", message);
        Assert.False(File.Exists(Path.Combine(lake.Folder, "catalog.json")));
    }

    /// <summary>A file whose second half, but for its last bytes, cannot be read.</summary>
    private sealed class HalfBad(byte[] bytes) : MemoryStream(bytes)
    {
        public override int Read(Span<byte> buffer)
        {
            var good = Length / 2 - Position;
            return good > 0 || Position >= Length - 4 ? base.Read(good > 0 ? buffer[..(int)Math.Min(buffer.Length, good)] : buffer) : throw new IOException("the disk is bad");
        }
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_fault_of_the_disk_in_mid_file_names_the_file(bool compressed)
    {
        var bytes = compressed ? Gzip(Csv) : Encoding.UTF8.GetBytes(Csv);
        using var stream = SourceFiles.Expand(new SourceFiles.NamedStream(new HalfBad(bytes), "shared/branch.csv"), "shared/branch.csv");
        var message = Assert.Throws<UserError>(() => stream.CopyTo(Stream.Null)).Message;
        Assert.Contains("shared/branch.csv could not be read to its end: the disk is bad", message);
    }

    /// <summary>Its first page cannot be read: the kernel of Linux answers as a bad disk does.</summary>
    private const string BadDisk = "/proc/self/mem";

    private sealed class FactWithABadDiskAttribute : FactAttribute
    {
        public FactWithABadDiskAttribute() => Skip = File.Exists(BadDisk) ? null : "this machine has no file that fails to be read";
    }

    [FactWithABadDisk]
    public void A_fault_of_the_disk_while_a_file_is_taken_in_names_it()
    {
        using var lake = new SampleLake();
        Assert.Contains(BadDisk + " could not be read to its end", Assert.Throws<UserError>(() => lake.Ingest(null, BadDisk)).Message);
    }

    [Fact]
    public void A_small_file_that_expands_without_measure_is_refused()
    {
        using var lake = new SampleLake();
        var path = lake.File("bomb.csv.gz", Gzip(PlainRows.Heading + new string('\n', 70 << 20)));
        Assert.Contains("200 times its size", Assert.Throws<UserError>(() => lake.Ingest(null, path)).Message);
    }

    [Fact]
    public void A_folder_or_a_pattern_stands_for_its_files_in_name_order()
    {
        using var lake = new SampleLake();
        var folder = Path.GetDirectoryName(lake.File("b.csv", []))!;
        foreach (var name in new[] { "a.csv", "c.csv.gz", ".d.csv", "notes.txt" })
        {
            lake.File(name, []);
        }

        string[] Names(string path) => [.. SourceFiles.Find(path).Select(f => Path.GetFileName(f))];
        Assert.Equal(["a.csv", "b.csv", "c.csv.gz", "notes.txt"], Names(folder));
        Assert.Equal(["a.csv", "b.csv"], Names(Path.Combine(folder, "*.csv")));
        Assert.Equal(["b.csv"], Names(Path.Combine(folder, "b.csv")));
        Assert.Contains("No file fits", Assert.Throws<UserError>(() => Names(Path.Combine(folder, "*.xml"))).Message);
        Assert.Contains("No file fits", Assert.Throws<UserError>(() => Names(Path.Combine(folder, "none", "a.csv"))).Message);
    }

    [Fact]
    public void A_source_that_loses_one_column_and_gains_another_is_read_and_it_is_said()
    {
        using var lake = new SampleLake();
        var profile = ProfileReader.Parse("""
            name: made
            columns:
              visit_id: Visit
              reading_no: No
              install_id: Unit
              crew_id: Crew
              visit_kind: Why
              visited_at: At
              outdoor_db_f: Outside
              notes: Note
            """, "made.yaml");
        var june = lake.File("june.csv", Encoding.UTF8.GetBytes("Visit,No,Unit,Crew,Why,At,Outside,Note\nV1,1,I1,C1,callback,2026-06-14T15:00:00Z,88,ok\n"));
        var july = lake.File("july.csv", Encoding.UTF8.GetBytes("Visit,No,Unit,Crew,Why,At,Mood,Note\nV2,1,I1,C1,callback,2026-07-14T15:00:00Z,good,ok\n"));
        var summaries = lake.Ingest(profile, june, july);
        Assert.Equal(2, summaries.Sum(s => s.Accepted));
        Assert.Empty(summaries[0].Remarks);
        Assert.Contains(summaries[1].Remarks, r => r.Contains("'Outside'") && r.Contains("the column stays empty"));
        Assert.Contains(summaries[1].Remarks, r => r.Contains("Mood"));
        Assert.Equal([["V1", "88"], ["V2", "NULL"]], lake.Query("SELECT visit_id, outdoor_db_f FROM readings ORDER BY visit_id"));
    }
}
