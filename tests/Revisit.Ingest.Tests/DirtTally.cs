using System.Globalization;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Ingest.Tests;

/// <summary>How a lake answered the dirt of its exports: found, missed, sound values taken for dirt, values altered without a mark.</summary>
internal sealed class DirtTally
{
    private static readonly string[] Kept = [.. Tables.MeasuredColumns.Concat(Tables.CorrectionColumns).Concat(["notes", "technician_id"])];
    private static readonly string[] Numbers = [.. Kept.Where(c => Nomenclature.Of(c).Kind == ColumnKind.Number)];

    /// <summary>Counts of a kind. <paramref name="Found"/> of <paramref name="Planted"/> got the answer the key asks for, <paramref name="Named"/> under the kind's own name.</summary>
    public sealed record Counts(int Planted, int Found, int Named, int False, int Silent)
    {
        public static Counts operator +(Counts a, Counts b) => new(a.Planted + b.Planted, a.Found + b.Found, a.Named + b.Named, a.False + b.False, a.Silent + b.Silent);
    }

    /// <summary>By kind: dirt that must be answered, and all false answers.</summary>
    public SortedDictionary<string, Counts> ByKind { get; } = new(StringComparer.Ordinal);

    /// <summary>By kind: dirt that leaves a value where a sound one could stand; found all the same or not.</summary>
    public SortedDictionary<string, Counts> Unseen { get; } = new(StringComparer.Ordinal);

    /// <summary>By export: the same counts as <see cref="ByKind"/>.</summary>
    public SortedDictionary<string, Counts> ByExport { get; } = new(StringComparer.Ordinal);

    /// <summary>What went wrong, one example a line.</summary>
    public List<string> Examples { get; } = [];

    public int SlipsWithoutSuggestion { get; private set; }

    public int Slips { get; private set; }

    public void Add(DirtTally other)
    {
        foreach (var (mine, theirs) in new[] { (ByKind, other.ByKind), (Unseen, other.Unseen), (ByExport, other.ByExport) })
        {
            foreach (var (kind, counts) in theirs)
            {
                Count(mine, kind, counts);
            }
        }

        Examples.AddRange(other.Examples);
        (Slips, SlipsWithoutSuggestion) = (Slips + other.Slips, SlipsWithoutSuggestion + other.SlipsWithoutSuggestion);
    }

    public static DirtTally Of(DirtyLake dirty)
    {
        var tally = new DirtTally();
        var exportOf = dirty.SourceOf.ToDictionary(s => s.Value, s => s.Key);
        var aside = dirty.Lake.Query("SELECT source_id, source_line, column_name, set_aside_reason, raw_value, suggestion FROM set_aside_values")
            .ToDictionary(r => (exportOf[r[0]], Whole(r[1]), r[2]), r => (Reason: r[3], Raw: r[4], Suggestion: r[5]));
        var rejected = dirty.Lake.Query("SELECT source_id, source_line, rejected_reason FROM rejected_rows").ToDictionary(r => (exportOf[r[0]], Whole(r[1])), r => r[2]);
        var standing = Standing(dirty, exportOf);
        foreach (var k in dirty.Key)
        {
            var (answered, reason) = k.Answer switch
            {
                "set_aside" or "cannot_be_seen" or "nothing" => aside.TryGetValue((k.Export, k.Line, k.Column), out var a) ? (true, a.Reason) : (false, ""),
                "rejected" => rejected.TryGetValue((k.Export, k.Line), out var r) ? (true, r) : (false, ""),
                "superseded" or "duplicate" => (k.Answer == "duplicate" || !standing.ContainsKey((k.Export, k.Line)), k.Kind),
                _ => (standing.ContainsKey((k.Export, k.Line)), k.Kind),
            };

            // What was not marked must stand as it was written: neither mended nor lost.
            var value = double.NaN;
            var asWritten = answered || !Numbers.Contains(k.Column) || k.Answer == "rejected"
                || (standing.TryGetValue((k.Export, k.Line), out var values) && !double.IsNaN(value = values[Array.IndexOf(Numbers, k.Column)]) && Math.Abs(value - k.ReadsAs) <= 0.02 + 1e-4 * Math.Abs(value));
            var right = k.Answer == "nothing" ? !answered && asWritten : answered && (k.Reasons.Length == 0 || k.Reasons.Contains(reason));
            var counts = new Counts(1, right ? 1 : 0, right && reason == k.Kind ? 1 : 0, 0, asWritten ? 0 : 1);
            Count(k.Answer == "cannot_be_seen" ? tally.Unseen : tally.ByKind, k.Kind, counts);
            if (k.Answer != "cannot_be_seen")
            {
                Count(tally.ByExport, k.Export, counts);
            }

            if (k.Answer != "cannot_be_seen" && (!right || !asWritten))
            {
                tally.Examples.Add($"missed {k.Export} {k.Line} {k.Column} {k.Kind} '{(k.Raw.Length > 40 ? k.Raw[..40] : k.Raw)}' reads as {k.ReadsAs}: asked {k.Answer} {string.Join('|', k.Reasons)}, got '{reason}', value {value}");
            }

            if (answered && k.Answer == "set_aside" && aside[(k.Export, k.Line, k.Column)] is var (_, raw, _) && raw.Trim() != k.Raw.Trim())
            {
                tally.Examples.Add($"raw text differs: {k.Export} {k.Line} {k.Column}: '{k.Raw}' is kept as '{raw}'");
            }
        }

        var cells = dirty.Key.Where(k => k.Column.Length > 0 && k.Answer is "set_aside" or "cannot_be_seen").Select(k => (k.Export, k.Line, k.Column)).ToHashSet();
        var rows = dirty.Key.Where(k => k.Answer == "rejected").Select(k => (k.Export, k.Line)).ToHashSet();
        foreach (var (place, a) in aside.Where(a => !cells.Contains(a.Key)))
        {
            tally.False(place.Item1, a.Reason, $"false {place} '{a.Raw}' {a.Reason}; dirt of the row: {string.Join(' ', dirty.Key.Where(k => (k.Export, k.Line) == (place.Item1, place.Item2)).Select(k => k.Kind + " " + k.Column + " " + k.Raw))}");
        }

        foreach (var (place, reason) in rejected.Where(r => !rows.Contains(r.Key)))
        {
            tally.False(place.Item1, reason, $"false {place} {reason}");
        }

        var slips = aside.Values.Where(a => a.Reason is "unit_slip" or "decimal_slip").ToList();
        (tally.Slips, tally.SlipsWithoutSuggestion) = (slips.Count, slips.Count(s => s.Suggestion == "NULL"));
        return tally;
    }

    /// <summary>Cells that differ between the lake of a dirty fleet and that of the same fleet without dirt, where the key names no dirt and nothing was set aside: "export line column: sound → dirty".</summary>
    public static List<string> Altered(DirtyLake dirty, DirtyLake sound)
    {
        var exportOf = dirty.SourceOf.ToDictionary(s => s.Value, s => s.Key);
        var known = dirty.Key.Select(k => (k.Export, k.Line, k.Column)).ToHashSet();
        known.UnionWith(dirty.Lake.Query("SELECT source_id, source_line, column_name FROM set_aside_values").Select(r => (exportOf[r[0]], Whole(r[1]), r[2])));

        // Without its elevation an absolute pressure is read at another barometer; the elevation set aside says so.
        known.UnionWith(dirty.Lake.Query("SELECT source_id, source_line FROM set_aside_values WHERE column_name = 'elevation_ft' AND detail LIKE '%absolute pressures of this row%'")
            .SelectMany(r => new[] { "suction_pressure_psig", "liquid_pressure_psig" }.Select(c => (exportOf[r[0]], Whole(r[1]), c))));
        using var a = Lake.At(dirty.Lake.Folder).OpenSession();
        using var b = Lake.At(sound.Lake.Folder).OpenSession();
        var columns = string.Join(", ", Kept.Append("saved_at").Append("visited_at").Append("install_id").Append("crew_id").Append("visit_kind"));
        var sql = $"SELECT visit_id, reading_no, source_id, source_line, {columns} FROM readings ORDER BY 1, 2";
        using var left = a.Query(sql);
        using var right = b.Query(sql);
        var found = new List<string>();
        var (more, other) = (left.Read(), right.Read());
        while (more && other)
        {
            var order = string.CompareOrdinal(left.GetString(0), right.GetString(0)) is var byVisit and not 0 ? byVisit : Convert.ToInt32(left.GetValue(1), CultureInfo.InvariantCulture).CompareTo(Convert.ToInt32(right.GetValue(1), CultureInfo.InvariantCulture));
            if (order < 0)
            {
                found.Add($"{left.GetString(0)} {left.GetValue(1)} is in no sound export");
                more = left.Read();
            }
            else if (order > 0)
            {
                other = right.Read(); // rejected for its dirt
            }
            else
            {
                var (export, line) = (exportOf[left.GetString(2)], Convert.ToInt32(left.GetValue(3), CultureInfo.InvariantCulture));
                for (var i = 4; i < left.FieldCount; i++)
                {
                    if (!Equals(left.GetValue(i), right.GetValue(i)) && !known.Contains((export, line, left.GetName(i))) && !known.Contains((export, line, "")))
                    {
                        found.Add($"{export} {line} {left.GetName(i)}: {right.GetValue(i)} → {left.GetValue(i)}; dirt of the row: {string.Join(' ', dirty.Key.Where(k => (k.Export, k.Line) == (export, line)).Select(k => k.Kind + " " + k.Column + " " + k.Raw))}");
                    }
                }

                (more, other) = (left.Read(), right.Read());
            }
        }

        return found;
    }

    public IEnumerable<string> Table()
    {
        yield return $"{"kind",-24}{"planted",9}{"found",9}{"recall %",10}{"95 % interval",18}{"named",9}{"false",7}{"precision %",13}{"95 % interval",18}{"silent",8}";
        foreach (var (kind, c) in ByKind)
        {
            yield return Line(kind, c);
        }

        yield return Line("all", ByKind.Values.Aggregate((x, y) => x + y));
        foreach (var (export, c) in ByExport)
        {
            yield return Line("  " + export, c);
        }

        foreach (var (kind, c) in Unseen)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"cannot be seen: {kind,-24} planted {c.Planted,6}, set aside all the same {c.Found,6}, altered {c.Silent}");
        }

        yield return $"slips set aside {Slips}, of them without a suggestion {SlipsWithoutSuggestion}";
    }

    private static string Line(string kind, Counts c) => string.Create(CultureInfo.InvariantCulture,
        $"{kind,-24}{c.Planted,9}{c.Found,9}{Share(c.Found, c.Planted),28}{c.Named,9}{c.False,7}{Share(c.Found, c.Found + c.False),31}{c.Silent,8}");

    private static string Share(int some, int of)
    {
        var (low, high) = Wilson.Interval(some, of);
        return of == 0 ? "-" : string.Create(CultureInfo.InvariantCulture, $"{100.0 * some / of:0.00} ({100 * low:0.00}…{100 * high:0.00})");
    }

    private void False(string export, string reason, string example)
    {
        Count(ByKind, reason, new(0, 0, 0, 1, 0));
        Count(ByExport, export, new(0, 0, 0, 1, 0));
        Examples.Add(example);
    }

    private static void Count(SortedDictionary<string, Counts> into, string kind, Counts counts) => into[kind] = into.TryGetValue(kind, out var sum) ? sum + counts : counts;

    private static int Whole(string text) => int.Parse(text, CultureInfo.InvariantCulture);

    /// <summary>Of the keyed lines that stand in readings: their numbers.</summary>
    private static Dictionary<(string Export, int Line), double[]> Standing(DirtyLake dirty, Dictionary<string, string> exportOf)
    {
        var standing = new Dictionary<(string, int), double[]>();
        foreach (var some in dirty.Key.Where(k => k.Answer != "rejected").Select(k => (k.Export, k.Line)).Distinct().GroupBy(k => k.Export).SelectMany(g => g.Chunk(5_000)))
        {
            var sql = $"SELECT source_id, source_line, {string.Join(", ", Numbers)} FROM readings WHERE source_id = '{dirty.SourceOf[some[0].Export]}' AND source_line IN ({string.Join(", ", some.Select(s => s.Line))})";
            foreach (var row in dirty.Lake.Query(sql))
            {
                standing[(exportOf[row[0]], Whole(row[1]))] = [.. row.Skip(2).Select(c => c == "NULL" ? double.NaN : double.Parse(c, CultureInfo.InvariantCulture))];
            }
        }

        return standing;
    }
}
