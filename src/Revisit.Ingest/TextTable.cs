using System.IO.Hashing;
using System.Text;

namespace Revisit.Ingest;

/// <summary>Gives equal texts one number and one string: 1 for the first text met, and so on; 0 stands for no text.</summary>
internal sealed class TextTable
{
    private string?[] texts = new string?[1 << 8];
    private readonly List<(int Start, int Length, int Hash)> keys = [default];
    private byte[] utf8 = new byte[1 << 12];
    private int used;
    private int[] places = new int[1 << 10];

    /// <summary>Texts by number, with room behind the last; good until another is added.</summary>
    public string?[] Texts => texts;

    /// <summary>One more than the largest number.</summary>
    public int Count { get; private set; } = 1;

    /// <summary>The number of a text.</summary>
    public int Add(string text) => Add(Encoding.UTF8.GetBytes(text));

    /// <summary>The number of a text given in UTF-8.</summary>
    public int Add(ReadOnlySpan<byte> text)
    {
        var hash = (int)XxHash3.HashToUInt64(text);
        var place = hash & (places.Length - 1);
        for (var at = places[place]; at != 0; place = (place + 1) & (places.Length - 1), at = places[place])
        {
            var (start, length, other) = keys[at];
            if (other == hash && text.SequenceEqual(utf8.AsSpan(start, length)))
            {
                return at;
            }
        }

        return Append(text, hash, place);
    }

    /// <summary>Whether a text is the one of a number.</summary>
    public bool Is(int number, ReadOnlySpan<byte> text)
    {
        var (start, length, _) = keys[number];
        return number != 0 && text.SequenceEqual(utf8.AsSpan(start, length));
    }

    private int Append(ReadOnlySpan<byte> text, int hash, int place)
    {
        if (used + text.Length > utf8.Length)
        {
            Array.Resize(ref utf8, Math.Max(utf8.Length * 2, used + text.Length));
        }

        text.CopyTo(utf8.AsSpan(used));
        keys.Add((used, text.Length, hash));
        used += text.Length;
        if (Count == texts.Length)
        {
            Array.Resize(ref texts, Count * 2);
        }

        texts[Count] = Encoding.UTF8.GetString(text);
        places[place] = Count++;
        if (Count * 2 > places.Length)
        {
            places = new int[places.Length * 2];
            for (var i = 1; i < Count; i++)
            {
                var free = keys[i].Hash & (places.Length - 1);
                while (places[free] != 0)
                {
                    free = (free + 1) & (places.Length - 1);
                }

                places[free] = i;
            }
        }

        return Count - 1;
    }
}
