using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Ingest;

/// <summary>
/// What the visits say about each install. Every month keeps its own short summary; the table is their merge: an attribute is
/// what the latest visit that gives it says, the crew is that of the commissioning visit, or of the earliest visit known.
/// </summary>
internal static class InstallMerge
{
    public const string Area = "landed_installs";
    private static readonly int From = ReadingRow.At(Tables.InstallColumns[0]), To = From + Tables.InstallColumns.Count;

    /// <summary>Writes the summary of one month.</summary>
    public static long WriteMonth(Stream stream, MonthRows rows)
    {
        var installs = new SortedDictionary<string, State>(StringComparer.Ordinal);
        foreach (var r in rows.Order)
        {
            var id = rows.Text(MonthRows.InstallId, r)!;
            if (!installs.TryGetValue(id, out var state))
            {
                installs[id] = state = new State();
            }

            state.Visit(rows.Text(MonthRows.CrewId, r)!, rows.Text(MonthRows.VisitKind, r) == "commissioning", rows.Day(r), rows.Day(r));
            for (var c = From; c < To; c++)
            {
                switch (ReadingRow.TermAt(c).Kind)
                {
                    case ColumnKind.Number:
                        state.Number(c, rows.Number(c, r));
                        break;
                    case ColumnKind.Text:
                        state.Text(c, rows.Text(c, r));
                        break;
                    default:
                        state.Whole(c, rows.Whole(c, r));
                        break;
                }
            }
        }

        using var writer = new BinaryWriter(stream, System.Text.Encoding.UTF8, leaveOpen: true);
        foreach (var (id, state) in installs)
        {
            state.Write(writer, id);
        }

        return installs.Count;
    }

    /// <summary>Merges the summaries of all months, in month order, into the installs table.</summary>
    public static void PutInto(Publication publication)
    {
        var installs = new Dictionary<string, State>(StringComparer.Ordinal);
        var pool = new TextPool();
        var from = new List<string>();
        foreach (var entry in publication.Pending.Of(Area))
        {
            from.Add(entry.Sha256);
        }

        var fingerprint = Fingerprint.Of(from);
        if (publication.Pending.Find(Tables.Installs.Name, "all")?.MadeFrom == fingerprint)
        {
            return;
        }

        foreach (var entry in publication.Pending.Of(Area))
        {
            using var reader = new BinaryReader(new FileStream(publication.PathOf(entry), FileMode.Open, FileAccess.Read, FileShare.Read, 1 << 16));
            while (reader.BaseStream.Position < reader.BaseStream.Length)
            {
                State.Read(reader, pool, installs);
            }
        }

        publication.Put(Tables.Installs, ToBatch(installs), fingerprint);
    }

    private static Batch ToBatch(Dictionary<string, State> installs)
    {
        var batch = new Batch(Tables.Installs, installs.Count);
        var ids = installs.Keys.Order(StringComparer.Ordinal).ToArray();
        var (crew, firstDay, lastDay) = (batch.Text("crew_id"), batch.Day("first_visited_on"), batch.Day("last_visited_on"));
        ids.CopyTo(batch.Text("install_id"), 0);
        for (var i = 0; i < ids.Length; i++)
        {
            var state = installs[ids[i]];
            crew[i] = state.Crew;
            firstDay[i] = DateOnly.FromDayNumber(state.FirstDay);
            lastDay[i] = DateOnly.FromDayNumber(state.LastDay);
        }

        for (var c = From; c < To; c++)
        {
            var target = batch.At(Tables.Installs.IndexOf(Tables.PlainColumns[c]));
            for (var i = 0; i < ids.Length; i++)
            {
                var value = installs[ids[i]].Values[c - From];
                if (value is not null)
                {
                    target.SetValue(ReadingRow.TermAt(c).Kind switch
                    {
                        ColumnKind.Whole => (object)(int)(long)value,
                        ColumnKind.Day => DateOnly.FromDayNumber((int)(long)value),
                        _ => value,
                    }, i);
                }
            }
        }

        return batch;
    }

    private sealed class State
    {
        public string Crew = "";
        public bool Commissioned;
        public int FirstDay = int.MaxValue, LastDay = int.MinValue;
        public readonly object?[] Values = new object?[To - From];

        public void Visit(string crew, bool commissioning, int firstDay, int lastDay)
        {
            // Rows come in time order: the first commissioning visit names the crew, before it the first visit of any kind.
            if (Crew.Length == 0 || (commissioning && !Commissioned))
            {
                Crew = crew;
                Commissioned = commissioning;
            }

            FirstDay = Math.Min(FirstDay, firstDay);
            LastDay = Math.Max(LastDay, lastDay);
        }

        public void Number(int column, double value)
        {
            if (!double.IsNaN(value) && !(Values[column - From] is double same && same == value))
            {
                Values[column - From] = value;
            }
        }

        public void Text(int column, string? value) => Values[column - From] = value ?? Values[column - From];

        public void Whole(int column, long value)
        {
            if (value != ReadingRow.NoWhole && !(Values[column - From] is long same && same == value))
            {
                Values[column - From] = value;
            }
        }

        public void Write(BinaryWriter writer, string id)
        {
            writer.Write(id);
            writer.Write(Crew);
            writer.Write(Commissioned);
            writer.Write(FirstDay);
            writer.Write(LastDay);
            foreach (var value in Values)
            {
                switch (value)
                {
                    case double number:
                        writer.Write((byte)1);
                        writer.Write(number);
                        break;
                    case string text:
                        writer.Write((byte)2);
                        writer.Write(text);
                        break;
                    case long whole:
                        writer.Write((byte)3);
                        writer.Write(whole);
                        break;
                    default:
                        writer.Write((byte)0);
                        break;
                }
            }
        }

        public static void Read(BinaryReader reader, TextPool pool, Dictionary<string, State> installs)
        {
            var id = pool.Read(reader);
            if (!installs.TryGetValue(id, out var state))
            {
                installs[id] = state = new State();
            }

            state.Visit(pool.Read(reader), reader.ReadBoolean(), reader.ReadInt32(), reader.ReadInt32());
            for (var c = From; c < To; c++)
            {
                switch (reader.ReadByte())
                {
                    case 1:
                        state.Number(c, reader.ReadDouble());
                        break;
                    case 2:
                        state.Text(c, pool.Read(reader));
                        break;
                    case 3:
                        state.Whole(c, reader.ReadInt64());
                        break;
                }
            }
        }
    }
}
