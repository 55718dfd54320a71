using System.Text;

namespace Revisit.Ingest;

/// <summary>The text of a rejected row with every place that may hold private data blanked.</summary>
internal sealed class PrivateText(int expected, int[] privateSlots, char delimiter)
{
    private const string Blank = "[private]";
    private const int Slack = 4;
    private readonly HashSet<string> heads = [];

    /// <summary>Learns from a block how the first field of a whole row looks.</summary>
    public void Learn(RecordBlock block)
    {
        heads.Clear();
        for (var i = 0; privateSlots.Length > 0 && i < block.Count && heads.Count < 100; i++)
        {
            if (!block.Broken(i) && block.FieldCount(i) == expected)
            {
                heads.Add(Shape(block.Field(i, 0)));
            }
        }
    }

    /// <summary>
    /// A row with too few or too many fields may have moved its private fields. Its first field tells which end is whole: when it looks
    /// like that of sound rows, private fields stand near their own place; otherwise the row may be the tail of a broken one, and they
    /// may stand anywhere up to their place. A row whose quotes are broken cannot be split: only what stands well before the first
    /// private field is kept.
    /// </summary>
    public string OfCsv(RecordBlock block, int record)
    {
        var broken = block.Broken(record);
        var fields = broken
            ? block.Field(record, 0).ToString().Split(delimiter)
            : [.. Enumerable.Range(0, block.FieldCount(record)).Select(i => block.Field(record, i).ToString())];
        if (privateSlots.Length == 0)
        {
            return string.Join(delimiter, fields);
        }

        if (broken)
        {
            return string.Join(delimiter, fields.Take(Math.Max(0, privateSlots[0] - Slack))) + delimiter + Blank;
        }

        var shift = Math.Abs(fields.Length - expected);
        var headIsWhole = heads.Contains(Shape(fields[0]));
        bool MayBePrivate(int i) => privateSlots.Any(p => headIsWhole ? Math.Abs(p - i) <= Math.Min(shift, Slack) : Math.Abs(p - i) <= shift);
        return string.Join(delimiter, fields.Select((f, i) => f.Length > 0 && MayBePrivate(i) ? Blank : f));
    }

    private static string Shape(ReadOnlySpan<char> text)
    {
        var shape = new StringBuilder();
        foreach (var c in text.Length > 64 ? text[..64] : text)
        {
            shape.Append(char.IsAsciiDigit(c) ? '9' : char.IsLetter(c) ? 'A' : c);
        }

        return shape.ToString();
    }

    /// <summary>Blanks the value of each private path wherever its last name stands as a key; the line need not be JSON.</summary>
    public static string OfJson(string line, IReadOnlyList<string> privatePaths)
    {
        foreach (var name in privatePaths.SelectMany(p => p.Split('.')).Distinct())
        {
            var key = "\"" + name + "\"";
            var at = line.IndexOf(key, StringComparison.OrdinalIgnoreCase);
            if (at >= 0)
            {
                // What follows may be nested or cut: nothing after a private key is kept.
                line = string.Concat(line.AsSpan(0, at + key.Length), ": ", Blank);
            }
        }

        return line;
    }
}
