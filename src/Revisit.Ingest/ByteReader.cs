using System.Buffers.Binary;
using System.Text;

namespace Revisit.Ingest;

/// <summary>Reads what a <see cref="BinaryWriter"/> wrote, from memory.</summary>
internal sealed class ByteReader(byte[] bytes, TextPool pool)
{
    private int position;

    /// <summary>Opens a landed file.</summary>
    public static ByteReader Open(string path, TextPool pool) => new(File.ReadAllBytes(path), pool);

    public bool AtEnd => position >= bytes.Length;

    public byte Byte() => bytes[position++];

    public bool Flag() => Byte() != 0;

    public int Int32() => BinaryPrimitives.ReadInt32LittleEndian(Take(4));

    public long Int64() => BinaryPrimitives.ReadInt64LittleEndian(Take(8));

    public ulong UInt64() => BinaryPrimitives.ReadUInt64LittleEndian(Take(8));

    public double Double() => BinaryPrimitives.ReadDoubleLittleEndian(Take(8));

    public int Count()
    {
        var (result, shift) = (0, 0);
        while (true)
        {
            var b = Byte();
            result |= (b & 0x7F) << shift;
            if (b < 0x80)
            {
                return result;
            }

            shift += 7;
        }
    }

    /// <summary>A text; equal short texts share one string.</summary>
    public string Text() => pool.Share(Take(Count()));

    private ReadOnlySpan<byte> Take(int length)
    {
        var span = bytes.AsSpan(position, length);
        position += length;
        return span;
    }
}

/// <summary>Shares one string among equal short texts.</summary>
internal sealed class TextPool
{
    private const int LongestShared = 40, Most = 500_000;
    private readonly HashSet<string> strings = new(StringComparer.Ordinal);
    private readonly HashSet<string>.AlternateLookup<ReadOnlySpan<char>> lookup;

    public TextPool() => lookup = strings.GetAlternateLookup<ReadOnlySpan<char>>();

    /// <summary>The string of some UTF-8.</summary>
    public string Share(ReadOnlySpan<byte> utf8)
    {
        if (utf8.Length > LongestShared)
        {
            return Encoding.UTF8.GetString(utf8);
        }

        Span<char> chars = stackalloc char[LongestShared];
        ReadOnlySpan<char> text = chars[..Encoding.UTF8.GetChars(utf8, chars)];
        if (lookup.TryGetValue(text, out var shared))
        {
            return shared;
        }

        if (strings.Count == Most)
        {
            strings.Clear();
        }

        shared = text.ToString();
        strings.Add(shared);
        return shared;
    }
}
