using System.Buffers.Binary;
using System.IO.Hashing;
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

/// <summary>
/// Shares one string among equal short texts: a table with one place for each hash, so a text that was pushed out by another is made
/// anew. That costs a string now and then, and saves decoding and hashing characters for nearly every cell.
/// </summary>
internal sealed class TextPool
{
    private const int LongestShared = 40, Places = 1 << 14;
    private readonly (byte[]? Utf8, string Text)[] places = new (byte[]?, string)[Places];

    /// <summary>The string of some UTF-8.</summary>
    public string Share(ReadOnlySpan<byte> utf8)
    {
        if (utf8.Length > LongestShared)
        {
            return Encoding.UTF8.GetString(utf8);
        }

        ref var place = ref places[(int)(XxHash3.HashToUInt64(utf8) & (Places - 1))];
        if (place.Utf8 is null || !utf8.SequenceEqual(place.Utf8))
        {
            place = (utf8.ToArray(), Encoding.UTF8.GetString(utf8));
        }

        return place.Text;
    }
}
