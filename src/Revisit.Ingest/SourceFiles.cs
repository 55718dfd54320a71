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

    /// <summary>How an archive of several files begins: a local file header, or the end of an empty one.</summary>
    private static readonly byte[] Archive = [(byte)'P', (byte)'K'];

    /// <summary>Times its size that a compressed file may expand to, unless a profile says otherwise: exports shrink to a third or a tenth; the format itself ends near a thousandth.</summary>
    public const int MostTimes = 200;

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

    /// <summary>What changes when somebody writes to a file: its length and the time it was last written.</summary>
    internal static (long Length, DateTime Written) StateOf(string path)
    {
        var file = new FileInfo(path);
        return file.Exists ? (file.Length, file.LastWriteTimeUtc) : default;
    }

    /// <summary>Refuses a file that somebody wrote to since its state was taken: its hash and its rows may then be of different contents.</summary>
    /// <exception cref="UserError">It has changed.</exception>
    internal static void MustBe((long Length, DateTime Written) before, string path)
    {
        if (StateOf(path) is var now && now != before)
        {
            throw new UserError($"{path} was written to while it was read ({before.Length} bytes before, {now.Length} after); nothing was taken in. Wait until it is whole, then run again.");
        }
    }

    /// <summary>Opens a file for reading its text; a compressed one is expanded while it is read.</summary>
    /// <exception cref="UserError">It cannot be read; thrown while reading when a compressed file is damaged or expands beyond all measure.</exception>
    /// <param name="path">The file.</param>
    /// <param name="mostTimes">Times its size that it may expand to.</param>
    internal static Stream Open(string path, int mostTimes = MostTimes) => Expand(OpenAsStored(path), path, mostTimes);

    /// <summary>The text of a file that is open.</summary>
    /// <exception cref="UserError">It is an archive of files.</exception>
    internal static Stream Expand(Stream file, string path, int mostTimes = MostTimes)
    {
        var (first, second, third) = (file.ReadByte(), file.ReadByte(), file.ReadByte());
        file.Position = 0;
        if (first == Archive[0] && second == Archive[1] && third is 3 or 5)
        {
            file.Dispose();
            throw new UserError($"{path} is an archive of files (ZIP) or a workbook; nothing was read. Expand it, or save the sheet as CSV, and take in the export itself.");
        }

        return first == Compressed[0] && second == Compressed[1] ? new ExpandingStream(file, path, mostTimes) : file;
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
    private sealed class ExpandingStream(Stream file, string path, int mostTimes) : ReadOnlyStream
    {
        private const long AlwaysAllowed = 64L << 20;

        /// <summary>Bytes of the head and the end of a compressed file, RFC 1952 section 2.3: cut off within its head, its last bytes say nothing.</summary>
        private const int SmallestFile = 18;
        private readonly GZipStream expanding = new(file, CompressionMode.Decompress);
        private readonly long most = Math.Max(AlwaysAllowed, file.Length * mostTimes);
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

                if (read == 0 && buffer.Length > 0 && (file.Length < SmallestFile || ((uint)expanded != storedLength && !EndsWithAWholeMember())))
                {
                    // The library takes a file that is cut off for one that ends.
                    throw new InvalidDataException($"{expanded} bytes where its end says {storedLength}");
                }

                return expanded <= most ? read
                    : throw new UserError($"{path} expands to more than {mostTimes} times its size, which no export does; nothing was read. Expand it yourself and look at it; where it is sound, 'expands_at_most' in the format of its profile allows more.");
            }
            catch (Exception e) when (e is InvalidDataException or EndOfStreamException)
            {
                throw new UserError($"{path} is compressed but damaged or cut off ({e.Message}); nothing was read. Fetch it again.");
            }
        }

        /// <summary>
        /// Whether the last of several compressed files put together (RFC 1952 section 2.2) is whole: its end holds its length and the CRC-32 of its text,
        /// which is then the end of all the text. The file is expanded a second time for it.
        /// </summary>
        private bool EndsWithAWholeMember()
        {
            if (storedLength >= expanded)
            {
                return false;
            }

            Span<byte> end = stackalloc byte[2 * sizeof(uint)];
            file.Position = file.Length - end.Length;
            file.ReadExactly(end);
            file.Position = 0;
            using var again = new GZipStream(file, CompressionMode.Decompress, leaveOpen: true);
            var (crc, buffer, passed) = (new System.IO.Hashing.Crc32(), new byte[1 << 16], 0L);
            for (int read; (read = again.Read(buffer)) > 0; passed += read)
            {
                var from = (int)Math.Clamp(expanded - storedLength - passed, 0, read);
                crc.Append(buffer.AsSpan(from, read - from));
            }

            return passed == expanded && crc.GetCurrentHashAsUInt32() == BinaryPrimitives.ReadUInt32LittleEndian(end);
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
