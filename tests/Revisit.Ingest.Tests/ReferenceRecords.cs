namespace Revisit.Ingest.Tests;

/// <summary>
/// The rule of records written down plainly over a whole text, to hold the reader of buffers against. A field that begins with a
/// quotation mark ends at the next single one, before a delimiter or line end; a record of which that is not so, of more than
/// <see cref="RecordReader.MaxRecord"/> characters or of a quoted field over more than 500 lines is broken: its first line is given up.
/// </summary>
internal static class ReferenceRecords
{
    /// <summary>Every record with its line from 1 and its fields; null for the fields of a broken one.</summary>
    public static IEnumerable<(int Line, List<string>? Fields)> Delimited(string text, char delimiter, int preambleLines)
    {
        var (at, line) = (0, 1);
        for (; line <= preambleLines && at < text.Length; line++)
        {
            at = AfterLineEnd(text, LineEnd(text, at));
        }

        while (at < text.Length)
        {
            var fields = Record(text, at, delimiter, out var end, out var lines);
            if (fields is null || AfterLineEnd(text, end) - at > RecordReader.MaxRecord)
            {
                yield return (line, null);
                (at, line) = (AfterLineEnd(text, LineEnd(text, at)), line + 1);
                continue;
            }

            yield return (line, fields);
            (at, line) = (AfterLineEnd(text, end), line + 1 + lines);
        }
    }

    /// <summary>Every line that is not empty.</summary>
    public static IEnumerable<(int Line, List<string>? Fields)> Lines(string text)
    {
        var line = 1;
        for (var at = 0; at < text.Length; line++)
        {
            var end = LineEnd(text, at);
            if (end > at)
            {
                yield return (line, null);
            }

            at = AfterLineEnd(text, end);
        }
    }

    private static List<string>? Record(string text, int start, char delimiter, out int at, out int lines)
    {
        var fields = new List<string>();
        (at, lines) = (start, 0);
        while (true)
        {
            var from = at;
            if (at < text.Length && text[at] == '"')
            {
                at = Closing(text, start, at, out var within);
                if (at < 0 || (at + 1 < text.Length && text[at + 1] != delimiter && text[at + 1] is not ('\r' or '\n')))
                {
                    return null;
                }

                fields.Add(text[(from + 1)..at].Replace("\"\"", "\"", StringComparison.Ordinal));
                lines += within;
                at++;
            }
            else
            {
                var stop = text.AsSpan(at).IndexOfAny(delimiter, '\r', '\n');
                at = stop < 0 ? text.Length : at + stop;
                fields.Add(text[from..at]);
            }

            if (at == text.Length || text[at] != delimiter)
            {
                return fields;
            }

            at++;
        }
    }

    private static int Closing(string text, int start, int at, out int lines)
    {
        lines = 0;
        for (at++; at < text.Length && lines <= 500 && at - start <= RecordReader.MaxRecord; at++)
        {
            lines += text[at] == '\n' ? 1 : 0;
            if (text[at] == '"')
            {
                if (at + 1 == text.Length || text[at + 1] != '"')
                {
                    return at;
                }

                at++;
            }
        }

        return -1;
    }

    private static int LineEnd(string text, int at)
    {
        var end = text.AsSpan(at).IndexOfAny('\r', '\n');
        return end < 0 ? text.Length : at + end;
    }

    private static int AfterLineEnd(string text, int end) =>
        end >= text.Length ? text.Length : text.AsSpan(end).StartsWith("\r\n") ? end + 2 : end + 1;
}
