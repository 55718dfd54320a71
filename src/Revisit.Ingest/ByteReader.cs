using System.Buffers;
using System.Buffers.Binary;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Text;

namespace Revisit.Ingest;

/// <summary>Reads what a <see cref="ByteWriter"/> wrote, from memory.</summary>
internal sealed class ByteReader(byte[] bytes, int length) : IDisposable
{
    private int position;

    public bool AtEnd => position >= length;

    public void Dispose() => ArrayPool<byte>.Shared.Return(bytes);

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

    /// <summary>A text, as it is kept.</summary>
    public ReadOnlySpan<byte> Utf8() => Take(Count());

    public string Text() => Encoding.UTF8.GetString(Utf8());

    /// <summary>The next numbers, side by side.</summary>
    public ReadOnlySpan<T> Span<T>(int count)
        where T : unmanaged => MemoryMarshal.Cast<byte, T>(Take(count * Unsafe.SizeOf<T>()));

    /// <summary>Passes over bytes.</summary>
    public void Skip(int length) => Take(length);

    private ReadOnlySpan<byte> Take(int length)
    {
        var span = bytes.AsSpan(position, length);
        position += length;
        return span;
    }
}
