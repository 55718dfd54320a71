using System.Buffers.Binary;
using System.IO.Compression;
using Revisit.Records;

namespace Revisit.Ingest;

/// <summary>Finds the files of a source and opens them, gzip-compressed ones (RFC 1952) included, whatever they are named.</summary>
public static class SourceFiles
{
    private const string CompressedEnding = ".gz";

    /// <summary>How a compressed file begins, RFC 1952 section 2.3.1.</summary>
    private static readonly byte[] Compressed = [0x1f, 0x8b];

    /// <summary>The files that a path means: itself, all files of a folder, or those in a folder that fit a pattern with * and ?. In name order; names that begin with a dot are passed over.</summary>
    /// <param name="path">Path of a file or a folder, or a path whose last part is a pattern.</param>
    /// <exception cref="UserError">No file fits.</exception>
    public static IReadOnlyList<string> Find(string path)
    {
        if (File.Exists(path))
        {
            return [path];
        }

        var (folder, pattern) = Directory.Exists(path) ? (path, "*") : (Path.GetDirectoryName(path) is { Length: > 0 } parent ? parent : ".", Path.GetFileName(path));
        var files = Directory.Exists(folder)
            ? Directory.GetFiles(folder, pattern).Where(f => !Path.GetFileName(f).StartsWith('.')).Order(StringComparer.Ordinal).ToList()
            : [];
        return files.Count > 0 ? files : throw new UserError($"No file fits '{path}' (looked in {Path.GetFullPath(folder)}).");
    }

    /// <summary>Name of a file without the ending of a compressed one.</summary>
    internal static string PlainName(string path)
    {
        var name = Path.GetFileName(path);
        return name.EndsWith(CompressedEnding, StringComparison.OrdinalIgnoreCase) ? name[..^CompressedEnding.Length] : name;
    }

    /// <summary>Opens a file as it lies on the disk.</summary>
    /// <exception cref="UserError">It cannot be read; thrown while reading too.</exception>
    internal static Stream OpenAsStored(string path)
    {
        try
        {
            return new NamedStream(new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite, 1 << 16), path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new UserError($"{path} cannot be read: {e.Message}");
        }
    }

    /// <summary>Opens a file for reading its text; a compressed one is expanded while it is read.</summary>
    /// <exception cref="UserError">It cannot be read; thrown while reading when a compressed file is damaged or expands beyond all measure.</exception>
    internal static Stream Open(string path) => Expand(OpenAsStored(path), path);

    /// <summary>The text of a file that is open.</summary>
    internal static Stream Expand(Stream file, string path)
    {
        var compressed = file.ReadByte() == Compressed[0] && file.ReadByte() == Compressed[1];
        file.Position = 0;
        return compressed ? new ExpandingStream(file, path) : file;
    }

    /// <summary>A file whose faults while it is read, a share that is gone or a bad disk, name it.</summary>
    internal sealed class NamedStream(Stream file, string path) : ReadOnlyStream
    {
        public override bool CanSeek => file.CanSeek;
        public override long Length => file.Length;
        public override long Position { get => file.Position; set => file.Position = value; }

        public override int Read(Span<byte> buffer)
        {
            try
            {
                return file.Read(buffer);
            }
            catch (IOException e)
            {
                throw new UserError($"{path} could not be read to its end: {e.Message}; nothing was taken in.");
            }
        }

        protected override void Dispose(bool disposing)
        {
            if (disposing)
            {
                file.Dispose();
            }

            base.Dispose(disposing);
        }
    }

    /// <summary>What two kinds of streams have in common.</summary>
    internal abstract class ReadOnlyStream : Stream
    {
        public override bool CanRead => true;
        public override bool CanWrite => false;

        public override int Read(byte[] buffer, int offset, int count) => Read(buffer.AsSpan(offset, count));

        public abstract override int Read(Span<byte> buffer);

        public override void Flush()
        {
        }

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();
        public override void SetLength(long value) => throw new NotSupportedException();
        public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
    }

    /// <summary>Expands a compressed file, but not without limit: a small file must not fill the disk.</summary>
    private sealed class ExpandingStream(Stream file, string path) : ReadOnlyStream
    {
        /// <summary>Exports shrink to a third or a tenth; the format itself ends near a thousandth.</summary>
        private const int MostTimes = 200;
        private const long AlwaysAllowed = 64L << 20;

        /// <summary>Bytes of the head and the end of a compressed file, RFC 1952 section 2.3: cut off within its head, its last bytes say nothing.</summary>
        private const int SmallestFile = 18;
        private readonly GZipStream expanding = new(file, CompressionMode.Decompress);
        private readonly long most = Math.Max(AlwaysAllowed, file.Length * MostTimes);
        private readonly uint storedLength = StoredLength(file);
        private long expanded;
        private bool twice = true;

        public override bool CanSeek => false;
        public override long Length => throw new NotSupportedException();
        public override long Position { get => expanded; set => throw new NotSupportedException(); }

        public override int Read(Span<byte> buffer)
        {
            try
            {
                var read = expanding.Read(buffer);
                for (var i = 0; i < read && expanded + i < Compressed.Length; i++)
                {
                    twice &= buffer[i] == Compressed[expanded + i];
                }

                expanded += read;
                if (twice && expanded >= Compressed.Length)
                {
                    throw new UserError($"{path} has been compressed twice; nothing was read. Expand it once and take in what comes out.");
                }

                if (read == 0 && buffer.Length > 0 && ((uint)expanded != storedLength || file.Length < SmallestFile))
                {
                    // The library takes a file that is cut off for one that ends.
                    throw new InvalidDataException($"{expanded} bytes where its end says {storedLength}; files put together from several compressed ones cannot be read either");
                }

                return expanded <= most ? read
                    : throw new UserError($"{path} expands to more than {MostTimes} times its size, which no export does; nothing was read. Expand it yourself and look at it.");
            }
            catch (Exception e) when (e is InvalidDataException or EndOfStreamException)
            {
                throw new UserError($"{path} is compressed but damaged or cut off ({e.Message}); nothing was read. Fetch it again.");
            }
        }

        /// <summary>Length of the expanded text modulo 2³²: the last four bytes, RFC 1952 section 2.3.1.</summary>
        private static uint StoredLength(Stream file)
        {
            Span<byte> end = stackalloc byte[sizeof(uint)];
            file.Position = Math.Max(0, file.Length - end.Length);
            file.ReadAtLeast(end, end.Length, throwOnEndOfStream: false);
            file.Position = 0;
            return BinaryPrimitives.ReadUInt32LittleEndian(end);
        }

        protected override void Dispose(bool disposing)
        {
            if (disposing)
            {
                expanding.Dispose();
            }

            base.Dispose(disposing);
        }
    }
}
