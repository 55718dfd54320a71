using System.Text;

namespace Revisit.Ingest.Tests;

/// <summary>Splitting delimited text into records, against a naive parser of the whole text.</summary>
public class RecordReaderTests
{
    private const int Buffer = 1 << 16;

    /// <summary>A reader that hands out its text in pieces, so that every record may be cut anywhere.</summary>
    private sealed class Dribble(string text, int piece) : TextReader
    {
        private int at;

        public override int Read(char[] buffer, int index, int count)
        {
            var n = Math.Min(Math.Min(piece, count), text.Length - at);
            text.CopyTo(at, buffer, index, n);
            at += n;
            return n;
        }
    }

    private static List<(int Line, string[] Fields, bool Broken)> ReadAll(TextReader text, char delimiter = ',')
    {
        var reader = new RecordReader(text, delimiter);
        var result = new List<(int, string[], bool)>();
        while (reader.Read())
        {
            result.Add((reader.Line, [.. Enumerable.Range(0, reader.FieldCount).Select(reader.FieldText)], reader.Broken));
        }

        return result;
    }

    internal static List<(int Line, string[] Fields, bool Broken)> ReadAll(string text, char delimiter = ',') => ReadAll(new StringReader(text), delimiter);

    /// <summary>RFC 4180 character by character; sound text only.</summary>
    private static List<(int Line, string[] Fields)> Naive(string text, char delimiter)
    {
        var (records, fields, field) = (new List<(int, string[])>(), new List<string>(), new StringBuilder());
        var (inQuotes, line, startLine) = (false, 1, 1);
        for (var i = 0; i < text.Length; i++)
        {
            var c = text[i];
            if (inQuotes)
            {
                if (c == '"' && i + 1 < text.Length && text[i + 1] == '"')
                {
                    field.Append(text[i++]);
                }
                else if (c == '"')
                {
                    inQuotes = false;
                }
                else
                {
                    line += c == '\n' ? 1 : 0;
                    field.Append(c);
                }
            }
            else if (c == '"' && field.Length == 0)
            {
                inQuotes = true;
            }
            else if (c == delimiter)
            {
                fields.Add(field.ToString());
                field.Clear();
            }
            else if (c is '\n' or '\r')
            {
                i += c == '\r' && i + 1 < text.Length && text[i + 1] == '\n' ? 1 : 0;
                fields.Add(field.ToString());
                field.Clear();
                records.Add((startLine, [.. fields]));
                fields.Clear();
                startLine = ++line;
            }
            else
            {
                field.Append(c);
            }
        }

        if (fields.Count > 0 || field.Length > 0)
        {
            fields.Add(field.ToString());
            records.Add((startLine, [.. fields]));
        }

        return records;
    }

    private static string RandomText(Random random, char delimiter, int records, bool endWithNewline)
    {
        string[] pieces = ["", "a", "7.5", "né", "long words of a note", "\"", "\"\"", "\n", "\r\n", delimiter.ToString(), " ", "😀", new('x', 300)];
        var text = new StringBuilder();
        for (var r = 0; r < records; r++)
        {
            for (var f = 0; f < 4; f++)
            {
                var value = string.Concat(Enumerable.Range(0, random.Next(4)).Select(_ => pieces[random.Next(pieces.Length)]));
                var quote = value.AsSpan().IndexOfAny("\"\r\n" + delimiter) >= 0 || random.Next(4) == 0;
                text.Append(f == 0 ? "" : delimiter).Append(quote ? "\"" + value.Replace("\"", "\"\"", StringComparison.Ordinal) + "\"" : value);
            }

            if (r + 1 < records || endWithNewline)
            {
                text.Append(random.Next(3) switch { 0 => "\n", 1 => "\r\n", _ => "\n" });
            }
        }

        return text.ToString();
    }

    private static void Same(string text, char delimiter, TextReader reader, string what)
    {
        var (expected, got) = (Naive(text, delimiter), ReadAll(reader, delimiter));
        Assert.True(expected.Count == got.Count, $"{what}: {expected.Count} records, got {got.Count}");
        for (var i = 0; i < got.Count; i++)
        {
            Assert.True(!got[i].Broken && expected[i].Line == got[i].Line && expected[i].Fields.SequenceEqual(got[i].Fields),
                $"{what}, record {i}: line {expected[i].Line} [{string.Join('|', expected[i].Fields)}], got line {got[i].Line} [{string.Join('|', got[i].Fields)}]");
        }
    }

    [Theory]
    [InlineData(',')]
    [InlineData(';')]
    [InlineData('\t')]
    [InlineData('|')]
    public void Random_text_is_split_as_a_naive_parser_splits_it(char delimiter)
    {
        for (var seed = 0; seed < 60; seed++)
        {
            var random = new Random(seed);
            var text = RandomText(random, delimiter, random.Next(1, 40), seed % 2 == 0);
            Same(text, delimiter, new StringReader(text), $"seed {seed}");
            Same(text, delimiter, new Dribble(text, 1 + random.Next(7)), $"seed {seed} in pieces");
        }
    }

    [Fact]
    public void A_record_that_crosses_the_border_of_the_buffer_is_whole()
    {
        var tail = RandomText(new Random(7), ',', 30, endWithNewline: true);
        foreach (var border in (int[])[Buffer, 2 * Buffer, 4 * Buffer])
        {
            for (var before = border - 40; before <= border + 2; before++)
            {
                // The records after a filler of exactly so many characters are cut at every place in turn.
                var text = new string('f', before - 1) + "\n" + "a,\"b\"\"c\",\"d\r\ne\",f\r\n" + tail;
                Same(text, ',', new StringReader(text), $"after {before} characters");
            }
        }
    }

    [Fact]
    public void A_file_of_many_buffers_is_split_right()
    {
        var text = RandomText(new Random(11), ',', 4_000, endWithNewline: false);
        Assert.True(text.Length > 8 * Buffer, $"{text.Length}");
        Same(text, ',', new StringReader(text), "many buffers");
    }

    [Theory]
    [InlineData("a,b\nc,d")]
    [InlineData("a,b\r\nc,d\r\n")]
    [InlineData("a,b\rc,d\r")]
    public void Every_line_end_ends_a_record_and_the_last_may_lack_it(string text) =>
        Assert.Equal([(1, "a|b"), (2, "c|d")], ReadAll(text).Select(r => (r.Line, string.Join('|', r.Fields))));

    [Fact]
    public void An_empty_last_field_is_a_field() => Assert.Equal(["a", "b", ""], Assert.Single(ReadAll("a,b,")).Fields);

    [Fact]
    public void An_unclosed_quote_breaks_its_own_line_only()
    {
        var got = ReadAll("a,b\n1,\"open\n2,x\n3,\"sound, quoted\"\n4,\"\"\n");
        Assert.Equal([(1, false), (2, true), (3, false), (4, false), (5, false)], got.Select(r => (r.Line, r.Broken)));
        Assert.Equal(["1,\"open"], got[1].Fields);
        Assert.Equal(["3", "sound, quoted"], got[3].Fields);
    }

    [Theory]
    [InlineData("1,5\" duct\n2,x\n", "5\" duct")]
    [InlineData("1,the \"new\" coil\n2,x\n", "the \"new\" coil")]
    public void A_quote_inside_an_unquoted_field_is_a_character(string text, string field)
    {
        var got = ReadAll(text);
        Assert.Equal([field, "x"], got.Select(r => r.Fields[1]));
        Assert.DoesNotContain(got, r => r.Broken);
    }

    [Fact]
    public void Text_after_a_closing_quote_breaks_the_line_and_reading_goes_on()
    {
        var got = ReadAll("1,\"said \"hello\" twice\",3\n2,x,y\n");
        Assert.Equal([true, false], got.Select(r => r.Broken));
        Assert.Equal(["2", "x", "y"], got[1].Fields);
    }

    [Theory]
    [InlineData("", RecordReader.MaxRecord)]
    [InlineData("\"", 100_000)]
    public void A_record_over_the_limit_is_broken_and_the_next_is_read(string quote, int over)
    {
        var text = "h,i\n1," + quote + new string('x', RecordReader.MaxRecord + over) + "\n2,y\n";
        var got = ReadAll(text);
        Assert.Equal([(1, false), (2, true), (3, false)], got.Select(r => (r.Line, r.Broken)));
        Assert.Equal(["2", "y"], got[^1].Fields);
    }

    [Fact]
    public void A_line_of_several_limits_is_one_broken_record()
    {
        var got = ReadAll("h,i\n1," + new string('x', 3 * RecordReader.MaxRecord + 5) + "\n2,y\n");
        Assert.Equal([(1, false), (2, true), (3, false)], got.Select(r => (r.Line, r.Broken)));
    }
}
