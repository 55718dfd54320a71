using System.Buffers.Binary;
using System.Text;

namespace Revisit.Ingest;

/// <summary>Writes what <see cref="ByteReader"/> reads, into memory that is used again.</summary>
internal sealed class ByteWriter
{
    private byte[] bytes = new byte[1 << 12];

    /// <summary>Bytes written.</summary>
    public int Position { get; private set; }

    /// <summary>What has been written, from a position on.</summary>
    public ReadOnlyMemory<byte> Written(int from = 0) => bytes.AsMemory(from, Position - from);

    public void Clear() => Position = 0;

    public void Bytes(ReadOnlySpan<byte> value) => value.CopyTo(Room(value.Length));

    public void Byte(byte value) => Room(1)[0] = value;

    public void Int32(int value) => BinaryPrimitives.WriteInt32LittleEndian(Room(4), value);

    public void Int64(long value) => BinaryPrimitives.WriteInt64LittleEndian(Room(8), value);

    public void UInt64(ulong value) => BinaryPrimitives.WriteUInt64LittleEndian(Room(8), value);

    public void Double(double value) => BinaryPrimitives.WriteDoubleLittleEndian(Room(8), value);

    /// <summary>Writes over a number that was written before.</summary>
    public void UInt64At(int position, ulong value) => BinaryPrimitives.WriteUInt64LittleEndian(bytes.AsSpan(position), value);

    /// <summary>A number of things, small ones in one byte.</summary>
    public void Count(int value)
    {
        while (value >= 0x80)
        {
            Byte((byte)(value | 0x80));
            value >>= 7;
        }

        Byte((byte)value);
    }

    public void Text(string text)
    {
        if (text.Length < 0x80 / 3)
        {
            // Its length in bytes fits one byte whatever the characters are.
            var room = Room(1 + text.Length * 3);
            var length = Encoding.UTF8.GetBytes(text, room[1..]);
            room[0] = (byte)length;
            Position += length - text.Length * 3;
            return;
        }

        var bytesOfText = Encoding.UTF8.GetByteCount(text);
        Count(bytesOfText);
        Encoding.UTF8.GetBytes(text, Room(bytesOfText));
    }

    private Span<byte> Room(int length)
    {
        if (Position + length > bytes.Length)
        {
            Array.Resize(ref bytes, Math.Max(bytes.Length * 2, Position + length));
        }

        var room = bytes.AsSpan(Position, length);
        Position += length;
        return room;
    }
}
