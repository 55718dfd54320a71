using System.Collections.Concurrent;
using System.Globalization;
using System.Runtime.ExceptionServices;
using System.Threading.Tasks.Dataflow;
using Revisit.Records;

namespace Revisit.Ingest;

/// <summary>
/// Reads one source file into a landing. One thread cuts the text into records; others build rows from blocks of them; the results
/// are landed in the order of the file, so the outcome does not depend on the number of cores.
/// </summary>
internal sealed class SourceReading(SourceProfile profile, string sourceName, Landing landing, RejectedSpill rejected, IProgress<string>? progress)
{
    private const int ProgressEvery = 250_000;
    private int nextProgress = ProgressEvery;

    /// <summary>Data rows met.</summary>
    public int RowsRead { get; private set; }

    /// <summary>Things worth saying that are no faults: headings not used, headings missing.</summary>
    public List<string> Remarks { get; } = [];

    /// <exception cref="UserError">The headings do not fit the profile.</exception>
    public void Run(Stream stream)
    {
        using var text = TextSource.Open(stream, profile.Encoding);
        var reader = new RecordReader(text, profile.Delimiter);
        if (profile.Kind == SourceKind.Ndjson)
        {
            Build(reader, reader.ReadLine, () => new JsonBlockBuilder(profile));
            return;
        }

        reader.SkipLines(profile.PreambleLines);
        if (!reader.Read())
        {
            Remarks.Add($"{sourceName} is empty");
            return;
        }

        var headings = Enumerable.Range(0, reader.FieldCount).Select(i => reader.FieldText(i).Trim()).ToList();
        Remarks.AddRange(Headings.Check(profile, headings, sourceName, reader.Line));
        Build(reader, reader.Read, () => new CsvBlockBuilder(profile, headings));
    }

    private void Build(RecordReader reader, Func<bool> read, Func<BlockBuilder> newBuilder)
    {
        // Blocks, rows and builders are used again and again: their buffers are large, and fresh ones would keep the collector busy.
        var builders = new Idle<BlockBuilder>(newBuilder);
        var blocks = new Idle<RecordBlock>(() => new RecordBlock());
        var results = new Idle<BlockRows>(() => new BlockRows());
        var build = new TransformBlock<RecordBlock, BlockRows>(
            block =>
            {
                var (builder, rows) = (builders.Take(), results.Take());
                builder.Build(block, rows);
                builders.Return(builder);
                block.Clear();
                blocks.Return(block);
                return rows;
            },
            new ExecutionDataflowBlockOptions { MaxDegreeOfParallelism = Environment.ProcessorCount, BoundedCapacity = 2 * Environment.ProcessorCount + 2, EnsureOrdered = true });
        var land = new ActionBlock<BlockRows>(
            rows =>
            {
                try
                {
                    Land(rows);
                }
                catch (Exception e)
                {
                    // Without this the reader would wait for ever for room in the pipeline.
                    ((IDataflowBlock)build).Fault(e);
                    throw;
                }

                rows.Clear();
                results.Return(rows);
            },
            new ExecutionDataflowBlockOptions { BoundedCapacity = 4 });
        build.LinkTo(land, new DataflowLinkOptions { PropagateCompletion = true });
        try
        {
            var block = blocks.Take();
            while (read())
            {
                if (reader.Blank)
                {
                    continue;
                }

                block.Add(reader);
                RowsRead++;
                if (block.IsFull)
                {
                    if (!build.SendAsync(block).GetAwaiter().GetResult())
                    {
                        break; // a builder or the landing failed; its fault is thrown below
                    }

                    block = blocks.Take();
                }
            }

            build.SendAsync(block).GetAwaiter().GetResult();
            build.Complete();
        }
        catch (Exception e)
        {
            // The text ended in a fault: nothing may land any more when the landing is taken away.
            ((IDataflowBlock)build).Fault(e);
            land.Completion.ContinueWith(_ => { }, TaskScheduler.Default).GetAwaiter().GetResult();
            throw;
        }

        ThrowFault(land.Completion);
        if (builders.All.Sum(b => b.TakenAsEarlier) is > 0 and var twice)
        {
            Remarks.Add(string.Create(CultureInfo.InvariantCulture, $"{sourceName}: {twice:N0} local times lie in an hour that comes twice as daylight saving ends in {profile.Zone}; each was taken as the earlier"));
        }
    }

    /// <summary>Waits, and throws the fault itself: it comes by two ways, wrapped more or less often as they race.</summary>
    private static void ThrowFault(Task completion)
    {
        ((IAsyncResult)completion).AsyncWaitHandle.WaitOne();
        if (completion.Exception is { } wrapped)
        {
            ExceptionDispatchInfo.Throw(wrapped.Flatten().InnerExceptions[0]);
        }
    }

    private void Land(BlockRows block)
    {
        landing.Add(block);
        foreach (var (line, rawText, why) in block.Rejected)
        {
            rejected.Add(line, rawText, why);
        }

        if (landing.Rows + rejected.Rows >= nextProgress)
        {
            nextProgress += ProgressEvery;
            progress?.Report(string.Create(CultureInfo.InvariantCulture, $"{sourceName}: {landing.Rows + rejected.Rows:N0} rows read"));
        }
    }

    /// <summary>Objects that wait to be used again.</summary>
    private sealed class Idle<T>(Func<T> make)
    {
        private readonly ConcurrentBag<T> waiting = [];

        /// <summary>All of them, when none is in use.</summary>
        public IEnumerable<T> All => waiting;

        public T Take() => waiting.TryTake(out var item) ? item : make();

        public void Return(T item) => waiting.Add(item);
    }
}
