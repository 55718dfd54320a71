using System.Numerics;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Revisit.Ingest;

/// <summary>
/// Reads delimited text record by record (RFC 4180 with any delimiter) in a buffer that does not grow with the file.
/// Our own rather than a library because a stray quote must not swallow the rows after it: a record whose quotes are broken
/// is given up after its first physical line, and reading goes on with the next line.
/// </summary>
internal sealed class RecordReader(TextReader text, char delimiter)
{
    /// <summary>Longest record in characters; a longer one is broken, not data.</summary>
    public const int MaxRecord = 1 << 20;

    private const int Window = 64;

    // Of the text from windowAt on, which characters end a field: fields are short, so one look at many characters serves several.
    private int windowAt = -Window;
    private ulong windowStops;
    private char[] buffer = new char[1 << 16];
    private int end;
    private int next;
    private bool ended;
    private int nextLine = 1;
    private (int Start, int Length, bool Escaped)[] fields = new (int, int, bool)[64];

    /// <summary>Physical line the current record starts on, from 1.</summary>
    public int Line { get; private set; }

    /// <summary>Number of fields in the current record.</summary>
    public int FieldCount { get; private set; }

    /// <summary>Whether the current record's quotes are broken; it then has one field, its first line.</summary>
    public bool Broken { get; private set; }

    /// <summary>Whether the current record is longer than <see cref="MaxRecord"/>; it is then broken too.</summary>
    public bool TooLong { get; private set; }

    /// <summary>Whether the current record is an empty line.</summary>
    public bool Blank => FieldCount == 1 && fields[0].Length == 0 && !Broken;

    /// <summary>A field without its quotes; doubled quotes inside are still doubled.</summary>
    public ReadOnlySpan<char> Field(int index) => buffer.AsSpan(fields[index].Start, fields[index].Length);

    /// <summary>The text of the record from its first field to its last, and where in it a field stands.</summary>
    public ReadOnlySpan<char> Record => buffer.AsSpan(fields[0].Start, fields[FieldCount - 1].Start + fields[FieldCount - 1].Length - fields[0].Start);

    /// <summary>Place of a field in <see cref="Record"/>.</summary>
    public (int Start, int Length) Place(int index) => (fields[index].Start - fields[0].Start, fields[index].Length);

    /// <summary>Whether quotes inside the field stand doubled.</summary>
    public bool IsEscaped(int index) => fields[index].Escaped;

    /// <summary>A field as text.</summary>
    public string FieldText(int index) =>
        fields[index].Escaped ? Field(index).ToString().Replace("\"\"", "\"", StringComparison.Ordinal) : Field(index).ToString();

    /// <summary>Skips whole physical lines.</summary>
    public void SkipLines(int count)
    {
        for (var i = 0; i < count && ReadLineAsOneField(); i++)
        {
        }
    }

    /// <summary>Reads one physical line as one field; a line over <see cref="MaxRecord"/> is <see cref="Broken"/>, and of one over twice that only the start is kept.</summary>
    public bool ReadLine()
    {
        Broken = TooLong = false;
        Line = nextLine;
        if (!ReadLineAsOneField())
        {
            return false;
        }

        Broken = TooLong = fields[0].Length > MaxRecord;
        return true;
    }

    /// <summary>Reads the next record.</summary>
    /// <returns>False at the end of the text.</returns>
    public bool Read()
    {
        Broken = TooLong = false;
        FieldCount = 0;
        Line = nextLine;
        if (next == end && !Fill(next))
        {
            return false;
        }

        var start = next;
        var at = next;
        var line = nextLine;
        while (true)
        {
            if (at == end && !More(ref start, ref at))
            {
                Add(at, 0, false);
                return Finish(start, at, line);
            }

            if (buffer[at] == '"')
            {
                if (!Quoted(ref start, ref at, ref line))
                {
                    return GiveUp(start);
                }
            }
            else
            {
                var from = at;
                int stop;
                while ((stop = NextStop(at)) < 0)
                {
                    var length = end - from;
                    at = end;
                    if (!More(ref start, ref at))
                    {
                        break;
                    }

                    from = at - length;
                    if (at - start > MaxRecord)
                    {
                        return GiveUp(start, tooLong: true);
                    }
                }

                at = stop < 0 ? end : stop;
                Add(from, at - from, false);
            }

            if (at == end && !More(ref start, ref at))
            {
                return Finish(start, at, line);
            }

            var c = buffer[at++];
            if (c == delimiter)
            {
                continue;
            }

            if (c == '\r' && (at < end || More(ref start, ref at)) && buffer[at] == '\n')
            {
                at++;
            }

            return Finish(start, at, line + 1);
        }
    }

    /// <summary>Place of the first delimiter or line end from a place on, or −1.</summary>
    private int NextStop(int at)
    {
        if (at < windowAt || at >= windowAt + Window)
        {
            Look(at);
        }

        while (true)
        {
            var ahead = windowStops >> (at - windowAt);
            if (ahead != 0)
            {
                return at + BitOperations.TrailingZeroCount(ahead);
            }

            at = windowAt + Window;
            if (at >= end)
            {
                return -1;
            }

            Look(at);
        }
    }

    private void Look(int at)
    {
        windowAt = at;
        windowStops = 0;
        var text = MemoryMarshal.Cast<char, ushort>(buffer.AsSpan(at, Math.Min(Window, end - at)));
        var i = 0;
        for (; i + Vector256<ushort>.Count <= text.Length; i += Vector256<ushort>.Count)
        {
            var some = Vector256.Create(text[i..]);
            var stops = Vector256.Equals(some, Vector256.Create((ushort)delimiter)) | Vector256.Equals(some, Vector256.Create((ushort)'\n')) | Vector256.Equals(some, Vector256.Create((ushort)'\r'));
            windowStops |= (ulong)stops.ExtractMostSignificantBits() << i;
        }

        for (; i < text.Length; i++)
        {
            windowStops |= text[i] == delimiter || text[i] is '\n' or '\r' ? 1UL << i : 0;
        }
    }

    /// <summary>Reads a quoted field that starts at the opening quote; leaves <paramref name="at"/> after the closing one.</summary>
    private bool Quoted(ref int start, ref int at, ref int line)
    {
        at++;
        var from = at - start;
        var escaped = false;
        var lines = 0;
        while (true)
        {
            var quote = buffer.AsSpan(at, end - at).IndexOf('"');
            var scanned = quote < 0 ? end - at : quote;
            lines += buffer.AsSpan(at, scanned).Count('\n');
            at += scanned;
            if (at - start > MaxRecord || lines > 500)
            {
                return false;
            }

            if (quote < 0)
            {
                if (!More(ref start, ref at))
                {
                    return false;
                }

                continue;
            }

            var closing = at++;
            if (at == end && !More(ref start, ref at))
            {
                Add(start + from, at - 1 - (start + from), escaped);
                line += lines;
                return true;
            }

            closing = at - 1;
            if (buffer[at] == '"')
            {
                escaped = true;
                at++;
                continue;
            }

            if (buffer[at] != delimiter && buffer[at] is not ('\n' or '\r'))
            {
                return false;
            }

            Add(start + from, closing - (start + from), escaped);
            line += lines;
            return true;
        }
    }

    private void Add(int start, int length, bool escaped)
    {
        if (FieldCount == fields.Length)
        {
            Array.Resize(ref fields, fields.Length * 2);
        }

        fields[FieldCount++] = (start, length, escaped);
    }

    private bool Finish(int start, int at, int line)
    {
        if (at - start > MaxRecord)
        {
            return GiveUp(start, tooLong: true);
        }

        next = at;
        nextLine = line;
        return true;
    }

    private bool GiveUp(int start, bool tooLong = false)
    {
        next = start;
        FieldCount = 0;
        ReadLineAsOneField();
        Broken = true;
        TooLong = tooLong;
        return true;
    }

    private bool ReadLineAsOneField()
    {
        if (next == end && !Fill(next))
        {
            return false;
        }

        var start = next;
        var at = next;
        int stop;
        while ((stop = buffer.AsSpan(at, end - at).IndexOfAny('\n', '\r')) < 0)
        {
            at = end;
            if (at - start > 2 * MaxRecord)
            {
                // Too long to be data: the rest of the line is passed over, so that it stays one line and takes no more room.
                at = end = start + MaxRecord + 1;
            }

            if (!More(ref start, ref at))
            {
                break;
            }
        }

        at = stop < 0 ? end : at + stop;
        FieldCount = 0;
        Add(start, at - start, false);
        if (at < end)
        {
            at++;
            if (buffer[at - 1] == '\r' && (at < end || More(ref start, ref at)) && buffer[at] == '\n')
            {
                at++;
            }
        }

        next = at;
        nextLine++;
        return true;
    }

    /// <summary>Gets more text while keeping the record that starts at <paramref name="start"/>; moves it to the front of the buffer.</summary>
    private bool More(ref int start, ref int at)
    {
        var shift = start;
        if (!Fill(start))
        {
            return false;
        }

        at -= shift;
        start = 0;
        for (var i = 0; i < FieldCount; i++)
        {
            fields[i].Start -= shift;
        }

        return true;
    }

    private bool Fill(int keepFrom)
    {
        if (ended)
        {
            return false;
        }

        var kept = end - keepFrom;
        if (kept > buffer.Length / 2)
        {
            var larger = new char[buffer.Length * 2];
            buffer.AsSpan(keepFrom, kept).CopyTo(larger);
            buffer = larger;
        }
        else
        {
            buffer.AsSpan(keepFrom, kept).CopyTo(buffer);
        }

        next -= keepFrom;
        end = kept;
        windowAt = -Window;
        var read = text.Read(buffer, end, buffer.Length - end);
        if (read == 0)
        {
            ended = true;
            // The text that was kept has moved to the front all the same.
            return MovedWithoutMore(keepFrom);
        }

        end += read;
        return true;
    }

    private bool MovedWithoutMore(int keepFrom)
    {
        // Undo the move so that callers' positions stay right.
        if (keepFrom > 0 && end > 0)
        {
            if (buffer.Length < keepFrom + end)
            {
                Array.Resize(ref buffer, keepFrom + end);
            }

            buffer.AsSpan(0, end).CopyTo(buffer.AsSpan(keepFrom));
        }

        next += keepFrom;
        end += keepFrom;
        return false;
    }
}
