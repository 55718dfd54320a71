using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Ingest;

/// <summary>Builds the tables of one month from the landed rows of every source, in two steps: <see cref="Load"/>, then <see cref="PutTables"/>.</summary>
/// <param name="publication">Where the tables go.</param>
/// <param name="month">The month, YYYY-MM.</param>
/// <param name="landed">The landed rows it is made from.</param>
/// <param name="madeFrom">Fingerprint of what the month is made from.</param>
internal sealed class MonthBuild(Publication publication, string month, IReadOnlyList<LandedPart> landed, string madeFrom) : IDisposable
{
    private const int GroupRows = 65_536;
    private static readonly int CorrectionFrom = ReadingRow.At("correction_from"), CorrectionTo = ReadingRow.At("correction_to"), ChargeChange = ReadingRow.At("charge_change_oz");
    private readonly TaskCompletionSource<CatalogEntry?> summary = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private MonthRows? rows;

    /// <summary>The month, YYYY-MM.</summary>
    public string Month => month;

    /// <summary>Rows that may belong to the month, at most.</summary>
    public int Most { get; } = landed.Sum(l => l.Most);

    /// <summary>The summary of the month's installs; none when no row is left in the month.</summary>
    public Task<CatalogEntry?> Summary => summary.Task;

    /// <summary>Loads and sorts the rows and summarises the installs.</summary>
    public void Load()
    {
        rows = new MonthRows(Most);
        foreach (var part in landed)
        {
            foreach (var block in Blocks.Read(publication.PathOf(part.Entry)))
            {
                rows.Add(block, part);
            }
        }

        rows.Sort();
        summary.SetResult(rows.Rows == 0 ? null : publication.PutFile(InstallMerge.Area, month, ".rows", s => InstallMerge.WriteMonth(s, rows)));
    }

    /// <summary>Puts the tables of the loaded month, or takes the month out when no row is left in it.</summary>
    public void PutTables()
    {
        if (rows!.Rows == 0)
        {
            Remove(publication, month);
            return;
        }

        publication.Put(Tables.Visits, month, [Visits(rows)]);
        publication.Put(Tables.Corrections, month, [Corrections(rows)]);
        publication.Put(Tables.SetAsideValues, month, [SetAside(rows)]);
        // Last, because its fingerprint says that the month is done.
        publication.Put(Tables.Readings, month, Readings(rows), madeFrom);
    }

    /// <summary>Lets go of the rows. After a failed month nobody may wait for its summary.</summary>
    public void Dispose()
    {
        summary.TrySetCanceled();
        rows?.Dispose();
        rows = null;
    }

    /// <summary>Takes a month out of the lake.</summary>
    public static void Remove(Publication publication, string month)
    {
        foreach (var table in new[] { Tables.Readings.Name, Tables.Visits.Name, Tables.Corrections.Name, Tables.SetAsideValues.Name, InstallMerge.Area })
        {
            publication.Remove(table, month);
        }
    }

    private static IEnumerable<Batch> Readings(MonthRows rows)
    {
        for (var start = 0; start < rows.Rows; start += GroupRows)
        {
            var order = rows.Order.Slice(start, Math.Min(GroupRows, rows.Rows - start)).ToArray();
            var batch = new Batch(Tables.Readings, order.Length);
            foreach (var column in Tables.Readings.Columns)
            {
                switch (column)
                {
                    case "visited_on":
                        MonthRows.Fill<DateOnly?>(batch, column, order, r => DateOnly.FromDayNumber(rows.Day(r)));
                        break;
                    case "source_id":
                        rows.FillSource(batch, column, order);
                        break;
                    case "source_line":
                        MonthRows.Fill<int?>(batch, column, order, r => rows.Line(r));
                        break;
                    default:
                        rows.Fill(batch, column, ReadingRow.At(column), order);
                        break;
                }
            }

            yield return batch;
        }
    }

    private static Batch Visits(MonthRows rows)
    {
        // By place of the visit's id: the visit's place in the table from 1.
        var visitOf = new int[rows.List(MonthRows.VisitId).Length];
        var (first, readings) = (new List<int>(), new List<int>());
        foreach (var r in rows.Order)
        {
            ref var visit = ref visitOf[rows.Place(MonthRows.VisitId, r)];
            if (visit == 0)
            {
                first.Add(r);
                readings.Add(0);
                visit = first.Count;
            }

            readings[visit - 1]++;
        }

        var batch = new Batch(Tables.Visits, first.Count);
        var order = first.ToArray();
        foreach (var column in new[] { "visit_id", "install_id", "crew_id", "technician_id", "visit_kind" })
        {
            rows.Fill(batch, column, ReadingRow.At(column), order);
        }

        rows.Fill(batch, "started_at", MonthRows.VisitedAt, order);
        MonthRows.Fill<DateOnly?>(batch, "visited_on", order, r => DateOnly.FromDayNumber(rows.Day(r)));
        var counts = batch.Whole("readings");
        for (var i = 0; i < order.Length; i++)
        {
            counts[i] = readings[i];
        }

        return batch;
    }

    private static Batch Corrections(MonthRows rows)
    {
        var corrected = new List<int>();
        foreach (var r in rows.Order)
        {
            if (rows.Place(MonthRows.Correction, r) != 0)
            {
                corrected.Add(r);
            }
        }

        string VisitOf(int i) => rows.Text(MonthRows.VisitId, corrected[i])!;
        var sorted = SortedOrder.Of([.. corrected.Select(r => SortedOrder.LeadingCharacters(rows.Text(MonthRows.VisitId, r)!))], (a, b) =>
            string.CompareOrdinal(VisitOf(a), VisitOf(b)) is var v and not 0 ? v : rows.Whole(MonthRows.ReadingNo, corrected[a]).CompareTo(rows.Whole(MonthRows.ReadingNo, corrected[b])));
        var made = sorted.SelectMany(i => rows.Text(MonthRows.Correction, corrected[i])!.Split('+').Select((code, n) => (Row: corrected[i], Code: code, No: n + 1))).ToArray();
        var batch = new Batch(Tables.Corrections, made.Length);
        var order = made.Select(c => c.Row).ToArray();
        rows.Fill(batch, "visit_id", MonthRows.VisitId, order);
        rows.Fill(batch, "reading_no", MonthRows.ReadingNo, order);
        rows.Fill(batch, "install_id", MonthRows.InstallId, order);
        MonthRows.Fill<DateOnly?>(batch, "visited_on", order, r => DateOnly.FromDayNumber(rows.Day(r)));
        for (var i = 0; i < made.Length; i++)
        {
            var (row, code, number) = made[i];
            batch.Whole("correction_no")[i] = number;
            batch.Text("correction")[i] = code;

            // From, to and ounces belong to the correction they can describe.
            if (code is "charge_added" or "charge_removed")
            {
                batch.Number("charge_change_oz")[i] = rows.Number(ChargeChange, row);
            }

            if (code == "blower_tap" || rows.Text(MonthRows.Correction, row)!.IndexOf('+') < 0)
            {
                batch.Text("correction_from")[i] = rows.Text(CorrectionFrom, row);
                batch.Text("correction_to")[i] = rows.Text(CorrectionTo, row);
            }
        }

        return batch;
    }

    private static Batch SetAside(MonthRows rows)
    {
        var all = rows.SetAside
            .OrderBy(s => rows.Source(s.Row), StringComparer.Ordinal).ThenBy(s => rows.Line(s.Row)).ThenBy(s => Tables.PlainColumns[s.Value.Column], StringComparer.Ordinal)
            .ToArray();
        var batch = new Batch(Tables.SetAsideValues, all.Length);
        for (var i = 0; i < all.Length; i++)
        {
            var (row, value) = all[i];
            batch.Text("source_id")[i] = rows.Source(row);
            batch.Whole("source_line")[i] = rows.Line(row);
            batch.Text("visit_id")[i] = rows.Text(MonthRows.VisitId, row);
            batch.Whole("reading_no")[i] = (int)rows.Whole(MonthRows.ReadingNo, row);
            batch.Text("column_name")[i] = Tables.PlainColumns[value.Column];
            batch.Text("raw_value")[i] = value.RawValue;
            batch.Text("set_aside_reason")[i] = value.Reason;
            batch.Text("detail")[i] = value.Detail;
            batch.Text("suggestion")[i] = value.Suggestion;
        }

        return batch;
    }
}
