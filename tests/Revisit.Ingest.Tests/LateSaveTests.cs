using System.Globalization;
using System.Text;
using System.Text.Json.Nodes;
using Revisit.Records;
using Revisit.Simulator;
using Revisit.Storage;

namespace Revisit.Ingest.Tests;

/// <summary>Four branch exports in one lake: the order of files and where they are cut play no part, and a late save changes only the months it touches.</summary>
public class LateSaveTests
{
    private static readonly string[] MonthTables = [Tables.Readings.Name, Tables.Visits.Name, Tables.Corrections.Name, Tables.SetAsideValues.Name];

    /// <summary>How an export is edited: its encoding, lines above the data, and the cells of a moment.</summary>
    private sealed record Shape(Encoding Encoding, string NewLine, char Delimiter, int HeadLines, string LiquidLine, Func<DateTime, (string Heading, string Cell)[]> Visited, Func<DateTime, (string Heading, string Cell)[]> Saved);

    private static readonly Dictionary<string, Shape> Shapes = new()
    {
        ["harbor"] = new(new UTF8Encoding(true), "\r\n", ',', 3, "Small pipe °F", t => [("Taken at", In(t, "M/d/yyyy h:mm tt"))], t => [("Edited at", In(t, "M/d/yyyy h:mm tt"))]),
        ["plateau"] = new(CodePagesEncodingProvider.Instance.GetEncoding(1252)!, "\r\n", ';', 1, "Tube liquide (°C)", t => [("Moment", In(t, "dd/MM/yyyy HH:mm"))], t => [("Enregistré", In(t, "dd/MM/yyyy HH:mm"))]),
        ["lakeside"] = new(new UTF8Encoding(false), "\n", '\0', 0, "loop.liquid_pipe", t => [("when.taken", In(t, "yyyy-MM-dd'T'HH:mm:ss'Z'"))], t => [("when.stored", In(t, "yyyy-MM-dd'T'HH:mm:ss'Z'"))]),
        ["prairie"] = new(Encoding.Unicode, "\r\n", '\t', 1, "T_LIQ", t => [("VDAY", In(t, "yyyy-MM-dd")), ("VCLK", In(t, "HH:mm"))], t => [("SDAY", In(t, "yyyy-MM-dd")), ("SCLK", In(t, "HH:mm"))]),
    };

    private static DirtyLake Fleet() => new(new SimulatorSettings { Seed = 41, Installs = 300, Dirt = new Dictionary<string, double> { ["unit_slip"] = 0.02, ["bad_time"] = 0.02, ["exact_duplicate"] = 0.02, ["superseded"] = 0.02 } }, plain: false);

    private static string In(DateTime time, string format) => time.ToString(format, CultureInfo.InvariantCulture);

    private static string[] Lines(Shape shape, string path) => shape.Encoding.GetString(File.ReadAllBytes(path)).TrimStart('\uFEFF').Split(shape.NewLine, StringSplitOptions.RemoveEmptyEntries);

    private static string Write(SampleLake lake, Shape shape, string name, IEnumerable<string> lines) => lake.File(name, string.Concat(lines.Select(l => l + shape.NewLine)), shape.Encoding);

    [Fact]
    public void The_order_of_files_plays_no_part_and_the_same_files_again_change_no_byte()
    {
        using var fleet = Fleet();
        var together = fleet.Lake.Bytes();
        Assert.All(fleet.Lake.IngestWith([.. fleet.Files.Select(f => new IngestFile(f.Path, DirtyLake.Profile(f.Export)))]), s => Assert.True(s.HeldAlready));
        Assert.Equal(together, fleet.Lake.Bytes());
        foreach (var order in (int[][])[[3, 2, 1, 0], [1, 3, 0, 2]])
        {
            using var lake = new SampleLake();
            foreach (var (export, path) in order.Select(i => fleet.Files[i]))
            {
                _ = lake.Ingest(DirtyLake.Profile(export), path);
            }

            Assert.Equal(together, lake.Bytes());
        }
    }

    /// <summary>Only what names the source may differ: its id, its lines, its counts.</summary>
    [Fact]
    public void An_export_cut_in_two_gives_the_same_tables_and_in_either_order_the_same_bytes()
    {
        using var fleet = Fleet();
        var bytes = new List<SortedDictionary<string, string>>();
        foreach (var turned in new[] { false, true })
        {
            using var lake = new SampleLake();
            foreach (var (export, path) in fleet.Files)
            {
                var (shape, lines) = (Shapes[export], Lines(Shapes[export], path));
                var cut = export == "harbor" ? Array.FindIndex(lines, lines.Length / 2, l => l.StartsWith('V')) : lines.Length / 2;
                string[] halves = [Write(lake, shape, "1-" + Path.GetFileName(path), lines[..cut]), Write(lake, shape, "2-" + Path.GetFileName(path), lines[..shape.HeadLines].Concat(lines[cut..]))];
                foreach (var half in turned ? halves.Reverse() : halves)
                {
                    _ = lake.Ingest(DirtyLake.Profile(export), half);
                }
            }

            foreach (var (table, apart) in new[] { ("readings", "source_id, source_line"), ("set_aside_values", "source_id, source_line"), ("rejected_rows", "source_id, source_name, source_line") })
            {
                var sql = $"SELECT * EXCLUDE ({apart}) FROM {table} ORDER BY ALL";
                Assert.Equal(fleet.Lake.Query(sql), lake.Query(sql));
            }

            foreach (var table in new[] { "visits", "corrections", "installs" })
            {
                Assert.Equal(Hashes(fleet.Lake, table), Hashes(lake, table));
            }

            var counts = "SELECT sum(rows_read), sum(rows_accepted), sum(rows_duplicate), sum(rows_superseded), sum(rows_rejected), sum(values_set_aside) FROM sources";
            Assert.Equal(fleet.Lake.Query(counts), lake.Query(counts));
            bytes.Add(lake.Bytes());
        }

        Assert.Equal(bytes[0], bytes[1]);
    }

    /// <summary>A visit saved again in a later file: a recent one, one of the first month, and one that moves to the month after.</summary>
    [Theory]
    [InlineData("harbor", false, false)]
    [InlineData("plateau", true, false)]
    [InlineData("lakeside", true, true)]
    [InlineData("prairie", false, true)]
    [InlineData("harbor", true, true)]
    public void A_late_save_changes_only_the_months_it_touches(string export, bool first, bool moves)
    {
        using var fleet = Fleet();
        var (shape, path) = (Shapes[export], fleet.Files.Single(f => f.Export == export).Path);
        var keyed = string.Join(", ", fleet.Key.Where(k => k.Export == export).Select(k => k.Line));
        var row = fleet.Lake.Query($"""
            SELECT source_line, visit_id, reading_no, visited_on, liquid_line_f FROM readings
            WHERE source_id = '{fleet.SourceOf[export]}' AND liquid_line_f > 60 AND notes IS NULL AND source_line NOT IN ({keyed}) AND visited_on < DATE '2026-09-01'
            ORDER BY visited_on {(first ? "" : "DESC")}, source_line LIMIT 1
            """).Single();
        var month = row[3][..7];
        var visited = DateTime.ParseExact(month + "-15 18:00", "yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture).AddMonths(1);
        var target = moves ? In(visited, "yyyy-MM") : month;
        // With another reading of its visit left in the month it stays there, whatever its own day.
        string[] touches = fleet.Lake.One($"SELECT readings FROM visits WHERE visit_id = '{row[1]}'") == "1" ? [month, target] : [month];
        var text = shape.Encoding.GetString(File.ReadAllBytes(path)).TrimStart('\uFEFF').Split('\n');
        var line = text[int.Parse(row[0], CultureInfo.InvariantCulture) - 1].TrimEnd('\r');
        var changed = Changed(shape, text[Math.Max(0, shape.HeadLines - 1)].TrimEnd('\r'), line,
            [(shape.LiquidLine, export switch { "plateau" => "31,5", "lakeside" => "31.5", "prairie" => "304.65", _ => "88.7" }), .. shape.Saved(new(2026, 12, 1, 12, 0, 0)), .. moves ? shape.Visited(visited) : []]);
        var before = Entries(fleet.Lake);

        var late = Write(fleet.Lake, shape, "late-" + Path.GetFileName(path), text[..shape.HeadLines].Select(l => l.TrimEnd('\r')).Append(changed));
        var summary = fleet.Lake.Ingest(DirtyLake.Profile(export), late).Single();

        Assert.Equal((1, 1, 0), (summary.RowsRead, summary.Accepted, summary.Rejected));
        var standing = fleet.Lake.Query($"SELECT strftime(visited_on, '%Y-%m'), round(liquid_line_f, 1) FROM readings WHERE visit_id = '{row[1]}' AND reading_no = {row[2]}").Single();
        Assert.Equal([target, "88.7"], standing);
        Assert.Equal("1", fleet.Lake.One($"SELECT rows_superseded - {fleet.Summaries.Single(s => s.SourceId == fleet.SourceOf[export]).Superseded} FROM sources WHERE source_id = '{fleet.SourceOf[export]}'"));
        var after = Entries(fleet.Lake);
        var touched = before.Keys.Union(after.Keys).Where(k => MonthTables.Contains(k.Table) && before.GetValueOrDefault(k) != after.GetValueOrDefault(k)).ToList();
        Assert.Equal(touches.Distinct().Order(), touched.Where(t => t.Table == "readings").Select(t => t.Partition).Order());
        Assert.All(touched, t => Assert.Contains(t.Partition, touches));
        Assert.DoesNotContain(before.Keys, k => k.Table is "landed" or "landed_keys" && before[k] != after[k]);
        Assert.True(before.Keys.Count(k => k.Table == "readings") >= 10);

        // A lake that meets the late file first ends the same.
        using var other = new SampleLake();
        _ = other.Ingest(DirtyLake.Profile(export), late);
        _ = other.IngestWith([.. fleet.Files.Select(f => new IngestFile(f.Path, DirtyLake.Profile(f.Export)))]);
        Assert.Equal(fleet.Lake.Bytes(), other.Bytes());
    }

    private static string Changed(Shape shape, string heading, string line, (string Heading, string Cell)[] changes)
    {
        if (shape.Delimiter == '\0')
        {
            var document = JsonNode.Parse(line)!;
            foreach (var (path, cell) in changes)
            {
                var parts = path.Split('.');
                document[parts[0]]![parts[1]] = double.TryParse(cell, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) ? number : cell;
            }

            return document.ToJsonString();
        }

        var (headings, cells) = (Cells(heading, shape.Delimiter), Cells(line, shape.Delimiter));
        Assert.Equal(headings.Count, cells.Count);
        foreach (var (name, cell) in changes)
        {
            cells[headings.IndexOf(name)] = cell;
        }

        return string.Join(shape.Delimiter, cells);
    }

    /// <summary>Cells with their quotes.</summary>
    private static List<string> Cells(string line, char delimiter)
    {
        List<string> cells = [""];
        var quoted = false;
        foreach (var c in line)
        {
            quoted ^= c == '"';
            if (c == delimiter && !quoted)
            {
                cells.Add("");
            }
            else
            {
                cells[^1] += c;
            }
        }

        return cells;
    }

    private static Dictionary<(string Table, string Partition), string> Entries(SampleLake lake) => Lake.At(lake.Folder).ReadCatalog().Entries.ToDictionary(e => (e.Table, e.Partition), e => e.Sha256);

    private static List<string> Hashes(SampleLake lake, string table) => [.. Lake.At(lake.Folder).ReadCatalog().Of(table).Select(e => e.Partition + " " + e.Sha256)];
}
