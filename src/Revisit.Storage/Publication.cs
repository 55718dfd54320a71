using System.Globalization;
using System.Security.Cryptography;
using Revisit.Records;

namespace Revisit.Storage;

/// <summary>
/// A change of the lake that becomes visible as a whole or not at all: files are written aside under names made from their
/// content, read back and verified, and one rename of the catalog switches to them. A run that dies leaves only files that
/// no catalog names; the next commit removes them.
/// </summary>
public sealed class Publication : IDisposable
{
    internal const string LockName = ".writing";

    /// <summary>Where damaged files are kept that no run can make again.</summary>
    internal const string KeptFolder = ".damaged";
    private readonly string folder;
    private readonly CheckedFiles files;
    private readonly FileStream writing;
    private readonly Catalog pending;
    private readonly Lock gate = new();
    private int temporary;

    internal Publication(string folder)
    {
        this.folder = folder;
        files = new(folder);
        try
        {
            Directory.CreateDirectory(folder);
            // An exclusive open is a lock that the system drops when the process ends, however it ends.
            writing = new FileStream(Path.Combine(folder, LockName), FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
        }
        catch (IOException e) when (IsBusy(e))
        {
            throw new UserError($"Another run is working on the lake {folder} ({e.Message}). Wait until it has ended, then run again; nothing was changed.");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new UserError($"The lake {folder} cannot be written ({e.Message}); nothing was changed. Give room and write permission, or name another folder for the lake.");
        }

        pending = Catalog.Load(folder);
    }

    /// <summary>The catalog as it will be after the commit. Change it through this publication only.</summary>
    public Catalog Pending => pending;

    /// <summary>A session that sees what has been put so far.</summary>
    /// <param name="keepsOrder">False where every query orders its rows itself: tables kept in memory are then made in half the time.</param>
    /// <exception cref="UserError">A table is not as it was written.</exception>
    public LakeSession OpenSession(bool keepsOrder = true)
    {
        var seen = pending.Copy();
        files.MustBeSound(seen.Entries.Where(e => e.IsTable));
        return new(folder, seen, keepsOrder);
    }

    /// <summary>Full path of a catalog entry whose bytes are those that were written.</summary>
    /// <exception cref="UserError">They are not.</exception>
    public string PathOf(CatalogEntry entry)
    {
        files.MustBeSound(entry);
        return Path.Combine(folder, entry.File);
    }

    /// <summary>The entries whose files are missing or changed. Every file is read.</summary>
    public IReadOnlyList<FileFinding> Damaged() => LakeCheck.Damaged(folder, pending.Entries);

    /// <summary>Copies a damaged file to where no run removes it, and returns its new path; null when there is nothing to keep.</summary>
    public string? KeepDamaged(CatalogEntry entry)
    {
        var (from, to) = (Path.Combine(folder, entry.File), Path.Combine(folder, KeptFolder, entry.File.Replace('/', '~')));
        if (!File.Exists(from))
        {
            return null;
        }

        Directory.CreateDirectory(Path.GetDirectoryName(to)!);
        File.Copy(from, to, overwrite: true);
        return to;
    }

    /// <summary>Writes one partition of a table, verifies it and keeps it for the commit. Safe to call from several threads.</summary>
    /// <param name="table">The table.</param>
    /// <param name="partition">"all", a month "2026-03", or a source id.</param>
    /// <param name="batches">The rows, one row group a batch.</param>
    /// <param name="madeFrom">Fingerprint of the inputs, for skipping unchanged work.</param>
    public CatalogEntry Put(TableContract table, string partition, IEnumerable<Batch> batches, string madeFrom = "") =>
        Put(table.Name, partition, ".parquet", s => ParquetTable.Write(s, table, batches), ParquetTable.CountRows, madeFrom);

    /// <summary>Writes one whole table file.</summary>
    public CatalogEntry Put(TableContract table, Batch batch, string madeFrom = "") => Put(table, "all", [batch], madeFrom);

    /// <summary>Writes a file that is not a table: <paramref name="write"/> returns its rows.</summary>
    public CatalogEntry PutFile(string area, string partition, string extension, Func<Stream, long> write, string madeFrom = "") =>
        Put(area, partition, extension, write, null, madeFrom);

    /// <summary>Moves a finished file into the lake, named by its content, whose SHA-256 is <paramref name="sha"/>.</summary>
    public CatalogEntry Adopt(string area, string partition, string extension, string path, long rows, string sha)
    {
        Directory.CreateDirectory(Path.Combine(folder, area));
        var name = NameOf(area, partition, sha, extension);
        File.Move(path, Path.Combine(folder, name), overwrite: true);
        return Keep(new(area, partition, name, rows, sha, ""));
    }

    /// <summary>A folder for work in progress, on the lake's own disk; nothing in it is ever published as it stands.</summary>
    public string WorkFolder(string name) => Path.Combine(folder, ".work", name);

    /// <summary>Takes a partition out of the lake.</summary>
    public void Remove(string table, string partition)
    {
        lock (gate)
        {
            pending.Remove(table, partition);
        }
    }

    /// <summary>Switches readers to everything that was put, then removes files that nothing names any more.</summary>
    public void Commit()
    {
        // Somebody may have removed the folder, or files of it, while the run was at work; with the lock gone, another run may be writing.
        if (!File.Exists(Path.Combine(folder, LockName)) || pending.Entries.Any(e => !File.Exists(Path.Combine(folder, e.File))))
        {
            throw new UserError($"Files of the lake {folder} were removed while the run was at work; nothing was published. Find out by whom, then run again.");
        }

        var path = Path.Combine(folder, Catalog.FileName);
        var bytes = pending.ToBytes();
        if (!File.Exists(path) || !bytes.AsSpan().SequenceEqual(File.ReadAllBytes(path)))
        {
            var aside = Path.Combine(folder, ".catalog.tmp");
            using (var stream = new FileStream(aside, FileMode.Create, FileAccess.Write, FileShare.None))
            {
                stream.Write(bytes);
                stream.Flush(flushToDisk: true);
            }

            File.Move(aside, path, overwrite: true);
        }

        RemoveUnnamed();
    }

    public void Dispose() => writing.Dispose();

    /// <summary>Whether a file is held open by another process: the code of the system, of Windows, Linux and macOS.</summary>
    private static bool IsBusy(IOException fault) => OperatingSystem.IsWindows() ? (fault.HResult & 0xFFFF) is 32 or 33 : fault.HResult == (OperatingSystem.IsMacOS() ? 35 : 11);

    private CatalogEntry Put(string table, string partition, string extension, Func<Stream, long> write, Func<string, long>? count, string madeFrom)
    {
        var area = Path.Combine(folder, table);
        Directory.CreateDirectory(area);
        var aside = Path.Combine(area, string.Create(CultureInfo.InvariantCulture, $".tmp-{Interlocked.Increment(ref temporary)}{extension}"));
        long rows;
        byte[] written;
        using (var file = new FileStream(aside, FileMode.Create, FileAccess.ReadWrite, FileShare.None, 1 << 16))
        using (var hashing = new HashingStream(file))
        {
            // Hashing byte by byte is slow: small writes are gathered first. Not disposed, since that would close the streams under it.
            var buffered = new BufferedStream(hashing, 1 << 16);
            rows = write(buffered);
            buffered.Flush();
            written = hashing.Hash();
            file.Flush(flushToDisk: false);
        }

        // Read back: what the disk gives must be what was written, and a table must open with the rows it was given.
        using (var back = File.OpenRead(aside))
        {
            if (!SHA256.HashData(back).AsSpan().SequenceEqual(written) || (count is not null && count(aside) != rows))
            {
                throw new IOException($"{table}/{partition}: what was read back differs from what was written. Check the disk, then run again; readers still see the last good state.");
            }
        }

        var sha = Convert.ToHexStringLower(written);
        var name = NameOf(table, partition, sha, extension);
        File.Move(aside, Path.Combine(folder, name), overwrite: true);
        return Keep(new(table, partition, name, rows, sha, madeFrom));
    }

    private static string NameOf(string table, string partition, string sha, string extension) =>
        $"{table}/{partition.Replace('/', '~')}-{sha[..16]}{extension}";

    private CatalogEntry Keep(CatalogEntry entry)
    {
        files.Add(entry);
        lock (gate)
        {
            pending.Set(entry);
        }

        return entry;
    }

    private void RemoveUnnamed()
    {
        if (Directory.Exists(Path.Combine(folder, ".work")))
        {
            Directory.Delete(Path.Combine(folder, ".work"), recursive: true);
        }

        var named = pending.Entries.Select(e => e.File).ToHashSet(StringComparer.Ordinal);
        foreach (var area in Directory.EnumerateDirectories(folder).Where(d => !Path.GetFileName(d).StartsWith('.')))
        {
            foreach (var file in Directory.EnumerateFiles(area))
            {
                if (Path.GetRelativePath(folder, file).Replace('\\', '/') is var own && !named.Contains(own) && LakeCheck.IsOwnName(own))
                {
                    File.Delete(file);
                }
            }

            if (!Directory.EnumerateFileSystemEntries(area).Any())
            {
                Directory.Delete(area);
            }
        }
    }
}
