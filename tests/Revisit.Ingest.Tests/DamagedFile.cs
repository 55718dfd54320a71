using System.IO.Compression;
using System.Text;

namespace Revisit.Ingest.Tests;

/// <summary>A source file with something done to it, the same for the same seed.</summary>
internal sealed class DamagedFile
{
    private const int Levels = 10_000, Columns = 100_000, LongField = 10 << 20;
    private static readonly string[] Strange =
        ["1e308", "-1e308", "1E+999", "1e-400", "-0", "0x10", "NaN", "-Infinity", new('9', 400), "1.2.3", "1,234,56", "٣", "", " ", "\0", "\uFEFF", "\u2028", "=1+1", "null", "true", "[]", "{}"];

    private static readonly string[] StrangeTimes =
        ["0000-00-00T00:00:00Z", "0001-01-01T00:00:00+14:00", "9999-12-31T23:59:59-14:00", "2100-12-31T23:59:59-14:00", "1990-01-01T00:00:00+14:00", "2026-02-29T10:00:00Z", "2026-07-14T24:00:00Z", "45852.5", "12/31/99 12:00 AM"];

    private static readonly (string Name, string Profile)[] Exports = [("harbor.csv", "harbor"), ("plateau.txt", "plateau"), ("prairie.tsv", "prairie"), ("lakeside.ndjson", "lakeside")];

    /// <summary>What can be done, and how often in comparison.</summary>
    private static readonly (int Weight, string Name, Action<DamagedFile> Do)[] Ways =
    [
        (6, "cut", f => f.bytes = f.bytes[..f.Place]),
        (6, "bytes changed", f => f.Times(1, 8, () => f.Splice(f.Place, 1, f.Noise(1)))),
        (4, "bytes inserted", f => f.Splice(f.Place, 0, f.Noise(f.random.Next(1, 100)))),
        (4, "bytes removed", f => f.Splice(f.Place, f.random.Next(1, 100), [])),
        (3, "zeros inserted", f => f.Splice(f.Place, 0, new byte[f.random.Next(1, 200)])),
        (2, "byte order mark inside", f => f.Splice(f.Place, 0, f.One<byte[]>([[0xEF, 0xBB, 0xBF], [0xFF, 0xFE], [0xFE, 0xFF], [0xFF, 0xFE, 0, 0]]))),
        (3, "rest in another encoding", f => f.InAnotherEncoding()),
        (4, "column dropped", f => f.EachLine((cells, column) => cells.RemoveAt(column))),
        (4, "column doubled", f => f.EachLine((cells, column) => cells.Insert(column, cells[column]))),
        (3, "cells of one line changed", f => f.OneLine(line => f.Cells(line, cells => cells.RemoveAt(f.random.Next(cells.Count))))),
        (3, "heading renamed", f => f.Line(f.isJson ? f.random.Next(f.lines) : f.profile?.PreambleLines ?? 0, line => f.InText(line, f.One<string>(["x", "\"", "é", " ", "\0"])))),
        (2, "heading line removed", f => f.Line(f.profile?.PreambleLines ?? 0, _ => null)),
        (6, "quotation marks", f => f.Times(1, 5, () => f.Text = f.InText(f.Text, f.One<string>(["\"", "\"\"", ",\"", "\",", "\"\n"])))),
        (3, "another delimiter", f => f.OtherDelimiter()),
        (5, "line ends", f => f.Times(1, 6, () => f.OneLine(line => line[..^Math.Min(line.Length, 1)] + f.One<string>(["\r", "\r\n", "\n\r", "\n\n", "\v", "\u2028", ""])))),
        (6, "strange cells", f => f.Times(1, 6, () => f.OneLine(line => f.Cells(line, cells => cells[f.random.Next(cells.Count)] = f.One(Strange))))),
        (4, "strange times", f => f.Times(1, 3, () => f.OneLine(line => f.Cells(line, cells => cells[f.random.Next(cells.Count)] = f.One(StrangeTimes))))),
        (4, "pairs of surrogates", f => f.Text = f.InText(f.Text, new string('x', f.random.Next(2)) + string.Concat(Enumerable.Repeat("😀", f.random.Next(1, 4_000))))),
        (2, "a field of 1 to 10 MB", f => f.Text = f.InText(f.Text, f.One<string>(["", "\"", f.delimiter + "\""]) + f.LongText())),
        (1, "100,000 columns", f => f.Line(f.random.Next(f.lines), line => f.One<string>([line.TrimEnd('\n'), ""]) + new string(f.delimiter, Columns) + "\n")),
        (2, "10,000 levels", f => f.Text = f.InText(f.Text, string.Concat(Enumerable.Repeat(f.One<string>(["[", "{\"a\":"]), Levels)) + f.One<string>(["", "1" + new string(']', Levels), "1" + new string('}', Levels)]))),
        (3, "lines repeated", f => f.OneLine(line => string.Concat(Enumerable.Repeat(line, f.random.Next(2, 60))))),
        (3, "keys repeated", f => f.OneLine(line => line.Replace("{", "{" + line.Trim().Trim('{', '}') + ",", StringComparison.Ordinal))),
        (1, "the whole many times", f => f.Text = string.Concat(Enumerable.Repeat(f.Text, Math.Max(1, 4_000 / f.lines)))),
        (1, "nothing left", f => f.bytes = f.One<byte[]>([[], [10], [0], [0xEF, 0xBB, 0xBF], [0xFF, 0xFE], [31], [31, 139], [31, 139, 8]])),
    ];

    private readonly Random random;
    private readonly SourceProfile? profile;
    private readonly bool isJson;
    private readonly char delimiter;
    private readonly Encoding encoding;
    private readonly int lines;
    private readonly List<string> done = [];
    private byte[] bytes;

    /// <summary>Makes the file of a seed.</summary>
    public DamagedFile(int seed)
    {
        random = new Random(seed);
        var source = random.Next(Exports.Length + 2);
        if (source < Exports.Length)
        {
            var (name, profileName) = Exports[source];
            (Name, profile) = (name, Profiles[profileName]);
            bytes = File.ReadAllBytes(Path.Combine(SampleLake.Repository, "synthetic-data", "exports", name));
        }
        else
        {
            Name = source == Exports.Length ? "plain.csv" : "plain.ndjson";
            bytes = Encoding.UTF8.GetBytes(source == Exports.Length ? PlainText() : PlainJson());
        }

        var read = profile ?? SourceProfile.Plain(Name.EndsWith("json", StringComparison.Ordinal) ? SourceKind.Ndjson : SourceKind.Csv);
        (Reads, isJson, delimiter, encoding) = (read, read.Kind == SourceKind.Ndjson, read.Delimiter, TextSource.EncodingOf(read.Encoding));
        lines = Text.Count(c => c == '\n');
        for (var n = random.Next(1, 4); n > 0; n--)
        {
            var at = random.Next(Ways.Sum(w => w.Weight));
            var way = Ways.First(w => (at -= w.Weight) < 0);
            done.Add(way.Name);
            way.Do(this);
        }

        // What begins like a compressed file is taken for one.
        MustBeRefused = bytes.AsSpan().StartsWith((byte[])[0x1f, 0x8b]);
        (Content, Stored) = (MustBeRefused ? null : bytes, bytes);
        (TextLength, TextLines) = (bytes.Length, bytes.Count(b => b is (byte)'\n' or (byte)'\r'));
        Compress();
    }

    private static readonly Dictionary<string, SourceProfile> Profiles = Exports.ToDictionary(e => e.Profile,
        e => ProfileReader.Read(Path.Combine(SampleLake.Repository, "pipelines", "sources", e.Profile + ".yaml")));

    public string Name { get; private set; }

    /// <summary>The profile to read it with; none for plain rows.</summary>
    public SourceProfile? Profile => profile;

    /// <summary>What it is read with in the end.</summary>
    public SourceProfile Reads { get; }

    /// <summary>The bytes of the file.</summary>
    public byte[] Stored { get; private set; }

    /// <summary>The bytes of its text; none when a compressed file was damaged in a way that may or may not show.</summary>
    public byte[]? Content { get; private set; }

    /// <summary>Bytes of the text before it was compressed, and how many of them end lines.</summary>
    public int TextLength { get; }

    public int TextLines { get; }

    /// <summary>Whether a compressed file was damaged in a way that must be seen.</summary>
    public bool MustBeRefused { get; private set; }

    /// <summary>Where it comes from and what was done.</summary>
    public override string ToString() => $"{Name}: {string.Join(", ", done)} ({Stored.Length} bytes)";

    private static string PlainText() => PlainRows.Csv([.. Enumerable.Range(1, 12).Select(n => PlainRows.Row(("visit_id", $"V{n}"), ("outdoor_db_f", $"{80 + n}"), ("notes", n % 5 == 0 ? "two\nlines, \"quoted\"" : "quiet")))]);

    private static string PlainJson() => string.Concat(Enumerable.Range(1, 12).Select(n =>
        $$"""{"visit_id":"V{{n}}","reading_no":1,"install_id":"I1","crew_id":"C1","visit_kind":"other","visited_at":"2026-07-14T15:00:00Z","outdoor_db_f":{{80 + n}},"notes":"a \"b\" é"}""" + "\n"));

    private int Place => random.Next(bytes.Length + 1);

    private string Text
    {
        get => encoding.GetString(bytes);
        set => bytes = encoding.GetBytes(value);
    }

    private T One<T>(T[] of) => of[random.Next(of.Length)];

    private void Times(int low, int high, Action act)
    {
        for (var n = random.Next(low, high + 1); n > 0; n--)
        {
            act();
        }
    }

    private byte[] Noise(int count)
    {
        var noise = new byte[count];
        random.NextBytes(noise);
        return noise;
    }

    private void Splice(int at, int without, byte[] with) => bytes = [.. bytes[..at], .. with, .. bytes[Math.Min(bytes.Length, at + without)..]];

    private string InText(string text, string added) => text.Insert(random.Next(text.Length + 1), added);

    private string LongText()
    {
        var piece = One<string>(["x", "é", "a,b;", "😀", "one of very many lines of no data at all, but of some length\n", "\"\""]);
        return string.Concat(Enumerable.Repeat(piece, (random.Next(5) == 0 ? LongField : random.Next(LongField / 12, LongField / 4)) / piece.Length));
    }

    private void InAnotherEncoding()
    {
        var text = Text;
        var at = random.Next(text.Length + 1);
        bytes = [.. encoding.GetBytes(text[..at]), .. One<Encoding>([Encoding.Latin1, Encoding.UTF8, Encoding.Unicode, Encoding.BigEndianUnicode, Encoding.UTF32]).GetBytes(text[at..])];
    }

    private void OtherDelimiter()
    {
        var other = One<string>([";", "\t", "|", ",", "\0"]);
        if (random.Next(2) == 0)
        {
            Text = Text.Replace(delimiter.ToString(), other, StringComparison.Ordinal);
        }
        else
        {
            OneLine(line => line.Replace(delimiter.ToString(), other, StringComparison.Ordinal));
        }
    }

    private string Cells(string line, Action<List<string>> act)
    {
        var cells = line.TrimEnd('\n', '\r').Split(delimiter).ToList();
        act(cells);
        return string.Join(delimiter, cells) + "\n";
    }

    private void EachLine(Action<List<string>, int> act)
    {
        var column = random.Next(10);
        Text = string.Concat(SplitLines().Select(line => Cells(line, cells => act(cells, Math.Min(column, cells.Count - 1)))));
    }

    private void OneLine(Func<string, string?> change) => Line(random.Next(lines), change);

    private void Line(int number, Func<string, string?> change)
    {
        var all = SplitLines();
        if (all.Count > 0)
        {
            number = Math.Min(number, all.Count - 1);
            all[number] = change(all[number]) ?? "";
            Text = string.Concat(all);
        }
    }

    private List<string> SplitLines()
    {
        var (all, text, at) = (new List<string>(), Text, 0);
        for (var end = text.IndexOf('\n'); end >= 0; end = text.IndexOf('\n', at))
        {
            all.Add(text[at..(end + 1)]);
            at = end + 1;
        }

        if (at < text.Length)
        {
            all.Add(text[at..]);
        }

        return all;
    }

    private static byte[] Gzip(byte[] bytes)
    {
        using var stored = new MemoryStream();
        using (var gzip = new GZipStream(stored, CompressionLevel.Fastest))
        {
            gzip.Write(bytes);
        }

        return stored.ToArray();
    }

    /// <summary>One in five is compressed, and most of these are damaged then. An empty text is left as it is: the library writes no file for it.</summary>
    private void Compress()
    {
        if (random.Next(5) != 0 || bytes.Length == 0 || MustBeRefused)
        {
            return;
        }

        Name += random.Next(3) > 0 ? ".gz" : "";
        Stored = bytes = Gzip(bytes);
        switch (random.Next(5))
        {
            case 0:
                done.Add("compressed");
                break;
            case 1:
                done.Add("compressed and cut");
                (Stored, Content, MustBeRefused) = (bytes[..random.Next(2, bytes.Length)], null, true);
                break;
            case 2:
                done.Add("compressed, bytes behind it");
                (Stored, Content, MustBeRefused) = ([.. bytes, .. Noise(random.Next(1, 50))], null, true);
                break;
            case 3:
                done.Add("compressed twice");
                (Stored, Content, MustBeRefused) = (Gzip(bytes), null, true);
                break;
            default:
                done.Add("compressed, bytes changed");
                Times(1, 4, () => Splice(random.Next(bytes.Length), 1, Noise(1)));
                (Stored, Content) = (bytes, null);
                break;
        }
    }
}
