using System.Diagnostics;
using System.Globalization;
using Revisit.Records;
using Revisit.Storage;
using Xunit.Abstractions;

namespace Revisit.Ingest.Tests;

/// <summary>Whatever is in a file: it is refused with a reason, or every record of it is accounted for; no crash, no hang, bounded memory.</summary>
[Collection(nameof(MemoryTests))]
public sealed class FuzzTests(ITestOutputHelper output)
{
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(30);

    /// <summary>Allocated in all for one file, whether still in use or not: a fixed sum, so many times the text, and so much a line.</summary>
    private const long FixedBytes = 150L << 20, TimesTheText = 60, BytesALine = 1_500;

    private static int Setting(string name, int otherwise) =>
        int.Parse(Environment.GetEnvironmentVariable(name) ?? otherwise.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);

    /// <summary>Set REVISIT_DAMAGED_FILES=20000 for many, REVISIT_DAMAGED_FROM for the first seed; the figures are printed.</summary>
    [Fact]
    public async Task Damaged_files_are_refused_with_a_reason_or_accounted_for()
    {
        var (count, from) = (Setting("REVISIT_DAMAGED_FILES", 200), Setting("REVISIT_DAMAGED_FROM", 0));
        var (refused, read, rows) = (0, 0, 0L);
        var (slowest, largest) = ((Milliseconds: 0.0, Seed: 0), (Bytes: 0L, Seed: 0));
        var faults = new List<string>();
        var watch = Stopwatch.StartNew();
        for (var seed = from; seed < from + count; seed++)
        {
            var file = new DamagedFile(seed);
            try
            {
                var (start, before) = (watch.Elapsed, GC.GetTotalAllocatedBytes(precise: true));
                var taking = Task.Run(() => TakeIn(file));
                await Task.WhenAny(taking, Task.Delay(Longest + TimeSpan.FromMicroseconds(20 * file.TextLines + 0.2 * file.TextLength))); // 9.5 million rows took 66 s
                if (!taking.IsCompleted)
                {
                    faults.Add($"seed {seed}, {file}: still running after {watch.Elapsed - start}");
                }

                var summary = await taking.WaitAsync(TimeSpan.FromMinutes(10)); // what runs on would be counted with the next
                var (took, allocated) = ((watch.Elapsed - start).TotalMilliseconds, GC.GetTotalAllocatedBytes(precise: true) - before);
                Assert.True(allocated < FixedBytes + TimesTheText * file.TextLength + BytesALine * file.TextLines, $"{file.TextLength:N0} bytes of text, {file.TextLines:N0} lines, {allocated:N0} bytes allocated");
                slowest = took > slowest.Milliseconds ? (took, seed) : slowest;
                largest = allocated > largest.Bytes ? (allocated, seed) : largest;
                (refused, read, rows) = summary is null ? (refused + 1, read, rows) : (refused, read + 1, rows + summary.RowsRead);
            }
            catch (Exception e)
            {
                faults.Add($"seed {seed}, {file}: {e}");
            }
        }

        output.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{count} files from seed {from}: {refused} refused, {read} read ({rows} rows), {faults.Count} faults in {watch.Elapsed.TotalSeconds:0} s; slowest {slowest.Milliseconds:0} ms (seed {slowest.Seed}, {new DamagedFile(slowest.Seed)}), most allocated {largest.Bytes / 1e6:0} MB (seed {largest.Seed}, {new DamagedFile(largest.Seed)})"));
        Assert.True(faults.Count == 0, $"{faults.Count} faults:\n{string.Join("\n\n", faults.Select(f => f.Length > 1_000 ? f[..1_000] : f))}");
    }

    /// <summary>Takes the file in and holds what came of it against the file; null when it was refused.</summary>
    private static SourceSummary? TakeIn(DamagedFile file)
    {
        using var lake = new SampleLake();
        var path = lake.File(file.Name, file.Stored);
        var records = file.Content is null ? null : Records(file);
        try
        {
            _ = ProfileDraft.Of(path);
        }
        catch (UserError e)
        {
            Assert.Contains(file.Name, e.Message, StringComparison.Ordinal);
        }

        SourceSummary summary;
        try
        {
            summary = lake.Ingest(file.Profile, path).Single();
        }
        catch (UserError e)
        {
            Assert.Contains(file.Name, e.Message, StringComparison.Ordinal);
            Assert.InRange(e.Message.Length, file.Name.Length + 30, 20_000);
            Assert.True(records is null || !HeadingsFit(file, records), "refused, though its headings fit: " + e.Message);
            Assert.False(File.Exists(Path.Combine(lake.Folder, Catalog.FileName)));
            return null;
        }

        Assert.False(file.MustBeRefused, "read, though the compressed file is damaged");
        TablesHold(lake, summary, records is null ? null : [.. records.Skip(file.Reads.Kind == SourceKind.Csv ? 1 : 0).Where(r => r.Fields is not [""]).Select(r => r.Line)]);
        Assert.True(records is null || file.Reads.Kind == SourceKind.Ndjson || records.Count == 0 || HeadingsFit(file, records), "read, though its headings do not fit");
        Assert.All(summary.Remarks, r => Assert.InRange(r.Length, 1, 20_000));
        return summary;
    }

    private static List<(int Line, List<string>? Fields)> Records(DamagedFile file)
    {
        using var reader = TextSource.Open(new MemoryStream(file.Content!), file.Reads.Encoding);
        var text = reader.ReadToEnd();
        return [.. file.Reads.Kind == SourceKind.Ndjson ? ReferenceRecords.Lines(text) : ReferenceRecords.Delimited(text, file.Reads.Delimiter, file.Reads.PreambleLines)];
    }

    /// <summary>Whether rows can be told apart by the heading line and private columns dropped.</summary>
    private static bool HeadingsFit(DamagedFile file, List<(int Line, List<string>? Fields)> records)
    {
        if (file.Reads.Kind == SourceKind.Ndjson || records.Count == 0)
        {
            return true;
        }

        var headings = (records[0].Fields ?? []).Select(f => f.Trim()).ToList();
        return file.Reads.Columns.All(c => c.From.All(f => headings.Count(h => h == f) < 2 && (headings.Contains(f) || !Tables.IdentityColumns.Contains(c.Column))))
            && file.Reads.Private.All(headings.Contains);
    }

    private static void TablesHold(SampleLake lake, SourceSummary summary, HashSet<int>? lines)
    {
        var held = Lake.At(lake.Folder);
        var catalog = held.ReadCatalog();
        List<Batch> Read(TableContract table) => [.. catalog.Of(table.Name).Select(e => ParquetTable.Read(Path.Combine(lake.Folder, e.File), table))];
        var (readings, rejected) = (Read(Tables.Readings), Read(Tables.RejectedRows));
        Assert.Equal(summary.Accepted, readings.Sum(b => b.Rows));
        Assert.Equal(summary.Rejected, rejected.Sum(b => b.Rows));
        Assert.Equal(summary.Rejected, summary.RejectedByReason.Values.Sum());
        Assert.Equal(summary.SetAside, Read(Tables.SetAsideValues).Sum(b => b.Rows));
        Assert.Equal(summary.Accepted, Read(Tables.Visits).Sum(b => b.Whole("readings").Sum()));
        Assert.Equal(summary.RowsRead, Read(Tables.Sources).Single().Whole("rows_read")[0]);
        Assert.All(readings.SelectMany(b => b.Table.Columns.Where(c => Nomenclature.Of(c).Kind == ColumnKind.Number).SelectMany(b.Number)), n => Assert.False(double.IsInfinity(n)));

        var kept = readings.Concat(rejected).SelectMany(b => b.Whole("source_line")).Select(l => l!.Value).ToList();
        Assert.Equal(kept.Count, kept.Distinct().Count());
        if (lines is not null)
        {
            Assert.Equal(lines.Count, summary.RowsRead);
            Assert.Empty(kept.Except(lines));
        }
    }
}
