using System.Buffers;
using System.Buffers.Binary;
using Microsoft.Win32.SafeHandles;

namespace Revisit.Ingest;

/// <summary>A file in blocks, each its length and as many bytes, so that it need not be held as a whole.</summary>
internal static class Blocks
{
    /// <summary>What stands before a block of so many bytes.</summary>
    public static byte[] HeadOf(int length)
    {
        var head = new byte[sizeof(int)];
        BinaryPrimitives.WriteInt32LittleEndian(head, length);
        return head;
    }

    /// <summary>The blocks that hold anything, each good until the next is asked for. The file is open only while a block is read: there may be many files.</summary>
    public static IEnumerable<ByteReader> Read(string path)
    {
        var head = HeadOf(0);
        for (long position = 0, size = new FileInfo(path).Length; position < size;)
        {
            byte[] bytes;
            int count;
            using (var file = File.OpenHandle(path))
            {
                Fill(file, head, position);
                count = BinaryPrimitives.ReadInt32LittleEndian(head);
                bytes = ArrayPool<byte>.Shared.Rent(count);
                Fill(file, bytes.AsSpan(0, count), position + head.Length);
            }

            using var block = new ByteReader(bytes, count);
            if (!block.AtEnd)
            {
                yield return block;
            }

            position += head.Length + count;
        }
    }

    private static void Fill(SafeFileHandle file, Span<byte> bytes, long position)
    {
        for (var filled = 0; filled < bytes.Length;)
        {
            filled += RandomAccess.Read(file, bytes[filled..], position + filled) is var read and > 0 ? read : throw new EndOfStreamException("a landed file ends within a block");
        }
    }
}
