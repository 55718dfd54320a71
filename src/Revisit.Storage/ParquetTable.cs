using System.Buffers;
using System.IO.Compression;
using System.Runtime.CompilerServices;
using Parquet;
using Parquet.Schema;
using Revisit.Records;

namespace Revisit.Storage;

/// <summary>
/// One table file through Parquet.Net, column by column. Zstandard at its fastest level (the default level is many times slower);
/// instants in milliseconds, because finer units get wrong column statistics and readers then skip every row.
/// </summary>
public static class ParquetTable
{
    private static ParquetOptions OptionsFor(TableContract table)
    {
        var options = new ParquetOptions
        {
            CompressionMethod = CompressionMethod.Zstd,
            CompressionLevel = CompressionLevel.Fastest,
            DictionaryEncodingThreshold = 0.1,
            DictionaryEncodingSampleSize = 1_024,
        };
        foreach (var term in table.Terms.Where(t => t.Kind == ColumnKind.Text))
        {
            options.ColumnEncodingHints[term.Name] = EncodingHint.Dictionary;
        }

        return options;
    }

    /// <summary>Writes batches, one row group each, and returns the number of rows. An empty sequence gives an empty table.</summary>
    public static long Write(Stream stream, TableContract table, IEnumerable<Batch> batches) =>
        WriteAsync(stream, table, batches).GetAwaiter().GetResult();

    /// <summary>
    /// Has the code that writes tables compiled, once, beside other work: otherwise every core waits for it when the first tables are ready.
    /// </summary>
    public static void Prepare() => _ = Prepared.Value;

    private static readonly Lazy<Task> Prepared = new(() => Task.Run(() =>
    {
        var sample = new Batch(Tables.Readings, 4_000);
        string?[] texts = [null, .. Enumerable.Range(1, 100).Select(i => $"text {i}")];
        foreach (var term in sample.Table.Terms)
        {
            switch (term.Kind)
            {
                case ColumnKind.Text when term.Name == "source_id":
                    Array.Fill(sample.Text(term.Name), "text");
                    break;
                case ColumnKind.Text:
                    Fill(sample.Places(term.Name, texts), i => i % texts.Length);
                    break;
                case ColumnKind.Whole:
                    Fill(sample.Whole(term.Name), i => i);
                    break;
                case ColumnKind.Number:
                    Fill(sample.Number(term.Name), i => i % 7 == 0 ? double.NaN : i % 1_000 * 0.1);
                    break;
                case ColumnKind.Day:
                    Fill(sample.Day(term.Name), i => DateOnly.FromDayNumber(700_000 + i));
                    break;
                default:
                    Fill(sample.Instant(term.Name), i => DateTime.UnixEpoch.AddSeconds(i));
                    break;
            }
        }

        Write(new MemoryStream(), sample.Table, [sample]);

        static void Fill<T>(T[] column, Func<int, T> value)
        {
            for (var i = 0; i < column.Length; i++)
            {
                column[i] = value(i);
            }
        }
    }));

    /// <summary>Reads a whole table file.</summary>
    /// <exception cref="InvalidDataException">A column of the contract is not in the file.</exception>
    public static Batch Read(string path, TableContract table) => ReadAsync(path, table).GetAwaiter().GetResult();

    /// <summary>Number of rows in a table file, from its footer.</summary>
    public static long CountRows(string path) => CountRowsAsync(path).GetAwaiter().GetResult();

    private static DataField FieldOf(Term term) => term.Kind switch
    {
        ColumnKind.Text => new DataField<string>(term.Name),
        ColumnKind.Whole => new DataField<int?>(term.Name),
        ColumnKind.Number => new DataField<double?>(term.Name),
        ColumnKind.Day => new DataField<DateOnly?>(term.Name),
        _ => new DateTimeDataField(term.Name, DateTimeFormat.Timestamp, isAdjustedToUTC: true, unit: DateTimeTimeUnit.Millis, isNullable: true),
    };

    private static async Task<long> WriteAsync(Stream stream, TableContract table, IEnumerable<Batch> batches)
    {
        var fields = table.Terms.Select(FieldOf).ToArray();
        long rows = 0;
        await using var writer = await ParquetWriter.CreateAsync(new ParquetSchema(fields), stream, OptionsFor(table)).ConfigureAwait(false);
        foreach (var batch in batches)
        {
            if (batch.Rows == 0)
            {
                continue;
            }

            using var group = writer.CreateRowGroup();
            for (var i = 0; i < fields.Length; i++)
            {
                await (batch.IsMissing(i) ? WriteMissingAsync(group, fields[i], batch) : WriteColumnAsync(group, fields[i], batch.At(i), batch.ListOf(i))).ConfigureAwait(false);
            }

            rows += batch.Rows;
        }

        return rows;
    }

    private static Task WriteColumnAsync(ParquetRowGroupWriter group, DataField field, Array values, string?[]? list) => values switch
    {
        int[] places => WritePresentAsync<int, ReadOnlyMemory<char>>(group, field, places, (from, present, levels) => Present(from, list!, present, levels)),
        string?[] text => group.WriteAsync(field, text!),
        int?[] whole => group.WriteAsync<int>(field, whole),
        double[] number => WritePresentAsync<double, double>(group, field, number, Present),
        DateOnly?[] day => group.WriteAsync<DateOnly>(field, day),
        DateTime?[] instant => group.WriteAsync<DateTime>(field, instant),
        _ => throw new InvalidOperationException($"no Parquet form for {values.GetType()}"),
    };

    private static Task WriteMissingAsync(ParquetRowGroupWriter group, DataField field, Batch batch)
    {
        Task All<T>()
            where T : struct => group.WriteAllPartsAsync<T>(field, default, new int[batch.Rows], null, CancellationToken.None);
        return batch.Table.Terms[batch.Table.IndexOf(field.Name)].Kind switch
        {
            ColumnKind.Text => All<ReadOnlyMemory<char>>(),
            ColumnKind.Whole => All<int>(),
            ColumnKind.Number => All<double>(),
            ColumnKind.Day => All<DateOnly>(),
            _ => All<DateTime>(),
        };
    }

    /// <summary>Writes the values that are present side by side, as the file holds them, with a level a row that says which are.</summary>
    private static async Task WritePresentAsync<TFrom, TTo>(ParquetRowGroupWriter group, DataField field, TFrom[] values, Func<TFrom[], TTo[], int[], int> fill)
        where TTo : struct
    {
        var (present, levels) = (ArrayPool<TTo>.Shared.Rent(values.Length), ArrayPool<int>.Shared.Rent(values.Length));
        var count = fill(values, present, levels);
        await group.WriteAllPartsAsync<TTo>(field, present.AsMemory(0, count), levels.AsMemory(0, values.Length), null, CancellationToken.None).ConfigureAwait(false);
        ArrayPool<TTo>.Shared.Return(present, clearArray: RuntimeHelpers.IsReferenceOrContainsReferences<TTo>());
        ArrayPool<int>.Shared.Return(levels);
    }

    private static int Present(double[] values, double[] present, int[] levels)
    {
        var count = 0;
        for (var i = 0; i < values.Length; i++)
        {
            // Without a branch: whether a value is there is hard to foretell.
            present[count] = values[i];
            count += levels[i] = double.IsFinite(values[i]) ? 1 : 0;
        }

        return count;
    }

    private static int Present(int[] places, string?[] list, ReadOnlyMemory<char>[] present, int[] levels)
    {
        var count = 0;
        for (var i = 0; i < places.Length; i++)
        {
            if (list[places[i]] is { } text)
            {
                present[count++] = text.AsMemory();
                levels[i] = 1;
            }
            else
            {
                levels[i] = 0;
            }
        }

        return count;
    }

    private static async Task<Batch> ReadAsync(string path, TableContract table)
    {
        await using var reader = await ParquetReader.CreateAsync(path, new ParquetOptions { UseDateOnlyTypeForDates = true }).ConfigureAwait(false);
        var fields = reader.Schema.GetDataFields().ToDictionary(f => f.Name);
        var batch = new Batch(table, checked((int)reader.RowGroups.Sum(g => g.RowCount)));
        var start = 0;
        for (var g = 0; g < reader.RowGroupCount; g++)
        {
            using var group = reader.OpenRowGroupReader(g);
            var count = checked((int)group.RowCount);
            for (var i = 0; i < table.Columns.Count; i++)
            {
                if (!fields.TryGetValue(table.Columns[i], out var field))
                {
                    throw new InvalidDataException($"{Path.GetFileName(path)}: column '{table.Columns[i]}' is missing; rebuild the table");
                }

                await ReadColumnAsync(group, field, batch.At(i), start, count).ConfigureAwait(false);
            }

            start += count;
        }

        return batch;
    }

    private static async Task ReadColumnAsync(ParquetRowGroupReader group, DataField field, Array target, int start, int count)
    {
        switch (target)
        {
            case string?[] text:
                await group.ReadAsync(field, text.AsMemory(start, count)!).ConfigureAwait(false);
                break;
            case int?[] whole:
                await group.ReadAsync<int>(field, whole.AsMemory(start, count)).ConfigureAwait(false);
                break;
            case double[] number:
                var buffer = new double?[count];
                await group.ReadAsync<double>(field, buffer.AsMemory()).ConfigureAwait(false);
                for (var i = 0; i < count; i++)
                {
                    number[start + i] = buffer[i] ?? double.NaN;
                }

                break;
            case DateOnly?[] day:
                await group.ReadAsync<DateOnly>(field, day.AsMemory(start, count)).ConfigureAwait(false);
                break;
            case DateTime?[] instant:
                await group.ReadAsync<DateTime>(field, instant.AsMemory(start, count)).ConfigureAwait(false);
                break;
            default:
                throw new InvalidOperationException($"no Parquet form for {target.GetType()}");
        }
    }

    private static async Task<long> CountRowsAsync(string path)
    {
        await using var reader = await ParquetReader.CreateAsync(path, new ParquetOptions { UseDateOnlyTypeForDates = true }).ConfigureAwait(false);
        return reader.RowGroups.Sum(g => g.RowCount);
    }
}
