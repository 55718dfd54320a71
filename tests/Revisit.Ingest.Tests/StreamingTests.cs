using System.Text;
using Revisit.Storage;

namespace Revisit.Ingest.Tests;

/// <summary>Tests that look at the memory of the process run on their own, after the others.</summary>
[CollectionDefinition(nameof(MemoryTests), DisableParallelization = true)]
public class MemoryTests;

/// <summary>Memory does not grow with the file.</summary>
[Collection(nameof(MemoryTests))]
public class StreamingTests
{
    /// <summary>Rows made as they are read; at marks the live size of the managed heap is taken.</summary>
    private sealed class MadeRows(int rows, int markEvery, int rowsPerMonth = int.MaxValue) : Stream
    {
        private byte[] line = Encoding.UTF8.GetBytes("visit_id,reading_no,install_id,crew_id,visit_kind,visited_at,technician_id,nominal_tons,refrigerant,outdoor_db_f,return_db_f,supply_db_f,suction_pressure_psig,liquid_pressure_psig,notes\n");
        private int at, made;

        public SortedDictionary<int, long> LiveAt { get; } = [];

        public override int Read(byte[] buffer, int offset, int count)
        {
            var written = 0;
            while (written < count)
            {
                if (at == line.Length)
                {
                    if (made == rows)
                    {
                        break;
                    }

                    made++;
                    var month = rowsPerMonth == int.MaxValue ? made % 6 : made / rowsPerMonth;
                    line = Encoding.UTF8.GetBytes(string.Create(System.Globalization.CultureInfo.InvariantCulture,
                        $"V{made:00000000},1,I{made % 5_000:000000},C{made % 9},maintenance,{2020 + month / 12}-{month % 12 + 1:00}-{made % 28 + 1:00}T15:00:00Z,T{made % 30},3,R-410A,{70 + made % 30},76,57,{110 + made % 20},{300 + made % 50},note {made} of the visit\n"));
                    at = 0;
                    if (made % markEvery == 0)
                    {
                        LiveAt[made] = GC.GetTotalMemory(forceFullCollection: true);
                    }
                }

                var n = Math.Min(count - written, line.Length - at);
                line.AsSpan(at, n).CopyTo(buffer.AsSpan(offset + written));
                (at, written) = (at + n, written + n);
            }

            return written;
        }

        public override bool CanRead => true;

        public override bool CanSeek => false;

        public override bool CanWrite => false;

        public override long Length => throw new NotSupportedException();

        public override long Position { get => throw new NotSupportedException(); set => throw new NotSupportedException(); }

        public override void Flush()
        {
        }

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();

        public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
    }

    [Fact]
    public void Ten_times_the_rows_take_no_more_live_memory_while_they_are_read()
    {
        using var lake = new SampleLake();
        using var publication = Lake.At(lake.Folder).BeginPublication();
        using var landing = new Landing(publication.WorkFolder("made"));
        using var rejected = new RejectedSpill(Path.Combine(publication.WorkFolder("made"), "rejected"));
        using var stream = new MadeRows(400_000, 50_000);
        var reading = new SourceReading(SourceProfile.Plain(SourceKind.Csv), "made.csv", landing, rejected, null);
        reading.Run(stream);
        Assert.Equal((400_000, 400_000), (reading.RowsRead, landing.Rows));

        // 300,000 more rows are over 40 MB of text. Caches of texts, buffers of the months and blocks under way are bounded; how full they are varies.
        var growth = stream.LiveAt[400_000] - stream.LiveAt[100_000];
        Assert.True(growth < 20 << 20, $"live memory grew by {growth / 1024:N0} KiB: {string.Join(", ", stream.LiveAt.Select(l => $"{l.Key}: {l.Value / 1024:N0} KiB"))}");
    }

    private static string MadeFile(SampleLake lake, int rows)
    {
        var path = lake.File($"made-{rows}.csv", "");
        using var file = File.Create(path);
        new MadeRows(rows, int.MaxValue, rowsPerMonth: 4_000).CopyTo(file);
        return path;
    }

    /// <summary>Live memory when the last month has been built, over what it was before.</summary>
    private static long LiveWhileBuilding(int rows)
    {
        using var lake = new SampleLake();
        var path = MadeFile(lake, rows);
        using var publication = Lake.At(lake.Folder).BeginPublication();
        var before = GC.GetTotalMemory(forceFullCollection: true);
        var live = 0L;
        var summary = IngestStage.Run(publication, [new(path, null)], new AtEveryMessage(() => live = GC.GetTotalMemory(forceFullCollection: true))).Single();
        Assert.Equal(rows, summary.Accepted);
        Assert.NotEqual(0, live);
        return live - before;
    }

    private sealed class AtEveryMessage(Action act) : IProgress<string>
    {
        public void Report(string value) => act();
    }

    [Fact]
    public void Building_months_of_one_size_takes_no_more_for_many_than_for_few()
    {
        _ = LiveWhileBuilding(20_000);
        var (few, many) = (LiveWhileBuilding(20_000), LiveWhileBuilding(200_000));

        // While losers are found, eight bytes of the key of each row of a share are held; nothing else may grow with the rows but buffers that fill.
        var perRow = (many - few) / 180_000.0;
        Assert.True(perRow < 150, $"{perRow:0} bytes a row: {few / 1024:N0} KiB for 20,000, {many / 1024:N0} KiB for 200,000");
    }

    [Fact]
    public void Nothing_stays_behind_when_a_file_has_been_taken_in()
    {
        using var lake = new SampleLake();
        _ = lake.Ingest(null, MadeFile(lake, 100_000)); // fills the pools of the libraries
        using var other = new SampleLake();
        var path = MadeFile(other, 99_999);
        var before = GC.GetTotalMemory(forceFullCollection: true);
        Assert.Equal(99_999, other.Ingest(null, path).Single().Accepted);
        var left = GC.GetTotalMemory(forceFullCollection: true) - before;
        Assert.True(left < 4 << 20, $"{left / 1024:N0} KiB stay");
    }

    [Fact]
    public void A_rejected_row_is_not_kept_in_memory_either()
    {
        using var lake = new SampleLake();
        Directory.CreateDirectory(lake.Folder);
        using var rejected = new RejectedSpill(Path.Combine(lake.Folder, "rejected"));
        long first = 0;
        for (var i = 0; i < 50_000; i++)
        {
            rejected.Add(i + 1, "a broken row of some length, number " + i, new("wrong_number_of_fields", "3 fields where the heading line has 50"));
            first = i == 5_000 ? GC.GetTotalMemory(forceFullCollection: true) : first;
        }

        Assert.True(GC.GetTotalMemory(forceFullCollection: true) - first < 1 << 20);
        Assert.Equal(50_000, rejected.Batches("id", "made.csv").Sum(b => b.Rows));
    }
}
