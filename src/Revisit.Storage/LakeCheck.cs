using System.Collections.Concurrent;
using System.Security.Cryptography;
using System.Text.RegularExpressions;
using Revisit.Records;

namespace Revisit.Storage;

/// <summary>What can be wrong with a file of a lake.</summary>
public enum FileFault
{
    /// <summary>The catalog names it and it is not there, or it cannot be read.</summary>
    Missing,

    /// <summary>Its bytes are not those that were written.</summary>
    Changed,

    /// <summary>Nothing names it and no run wrote it; runs leave it alone.</summary>
    Unknown,

    /// <summary>A run that ended early, or one that is at work, left it; readers do not see it and the next run removes it.</summary>
    LeftOver,
}

/// <summary>A file that is not as it should be.</summary>
/// <param name="Fault">What is wrong.</param>
/// <param name="File">Path below the lake, with forward slashes.</param>
/// <param name="Entry">What the catalog says of it; null for a file that the catalog does not name.</param>
/// <param name="Detail">What was found, and what was expected.</param>
public sealed record FileFinding(FileFault Fault, string File, CatalogEntry? Entry, string Detail)
{
    /// <summary>Whether something is lost or would be.</summary>
    public bool IsWrong => Fault != FileFault.LeftOver;
}

/// <summary>Holds the files of a lake against the hashes of its catalog.</summary>
public static partial class LakeCheck
{
    /// <summary>Looks before a lake that is published anew meanwhile is taken as it is.</summary>
    private const int Tries = 3;

    /// <summary>Every file that is not as it should be, in the order of the catalog, then those that it does not name.</summary>
    /// <exception cref="UserError">There is no lake, or its catalog cannot be read.</exception>
    public static IReadOnlyList<FileFinding> Of(Lake lake)
    {
        ArgumentNullException.ThrowIfNull(lake);
        lake.MustExist();
        for (var attempt = 1; ; attempt++)
        {
            var catalog = lake.ReadCatalog();
            var found = Of(lake, catalog);
            if (attempt == Tries || catalog.SameAs(lake.ReadCatalog()))
            {
                return found;
            }
        }
    }

    private static FileFinding[] Of(Lake lake, Catalog catalog)
    {
        var named = catalog.Entries.Select(e => e.File).ToHashSet(StringComparer.Ordinal);
        return
        [
            .. Damaged(lake.Folder, catalog.Entries),
            .. FilesIn(lake.Folder).Where(f => !named.Contains(f)).Order(StringComparer.Ordinal).Select(f => IsOwnName(f)
                ? new FileFinding(FileFault.LeftOver, f, null, "left by a run that ended early, or of one that is at work")
                : new FileFinding(FileFault.Unknown, f, null, "no run wrote it and nothing names it")),
        ];
    }

    /// <summary>The entries whose files are missing or changed, in their order.</summary>
    internal static IReadOnlyList<FileFinding> Damaged(string folder, IEnumerable<CatalogEntry> entries) =>
        [.. entries.Select(e => Look(folder, e)).OfType<FileFinding>()];

    /// <summary>What is wrong with the file of an entry; null when it is as it was written.</summary>
    public static FileFinding? Look(string folder, CatalogEntry entry)
    {
        try
        {
            using var file = new FileStream(Path.Combine(folder, entry.File), FileMode.Open, FileAccess.Read, FileShare.Read | FileShare.Delete, 1 << 20, FileOptions.SequentialScan);
            var sha = Convert.ToHexStringLower(SHA256.HashData(file));
            return sha == entry.Sha256 ? null : new(FileFault.Changed, entry.File, entry, $"its {file.Length} bytes have the SHA-256 {sha[..12]}… where the catalog names {Start(entry.Sha256)}…");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return new(FileFault.Missing, entry.File, entry, e is FileNotFoundException or DirectoryNotFoundException ? "it is not there" : $"it cannot be read: {e.Message}");
        }
    }

    /// <summary>The message for a reader or a stage that meets such files.</summary>
    internal static UserError Error(string folder, IReadOnlyList<FileFinding> damaged) => new(
        $"The lake {folder} holds files that are not as they were written; nothing was read from them and nothing was changed. 'revisit check --lake {folder}' says what they hold and how to make them again:",
        [.. damaged.Take(5).Select(d => $"{d.File}: {d.Detail}"), .. damaged.Count > 5 ? [$"and {damaged.Count - 5} more"] : Array.Empty<string>()]);

    /// <summary>Whether a run gives a file such a name; others are not ours to remove.</summary>
    internal static bool IsOwnName(string file) => OwnName().IsMatch(file);

    private static string Start(string sha) => sha.Length > 12 ? sha[..12] : sha;

    /// <summary>The files of a lake but its catalog and its lock, as paths below it.</summary>
    private static IEnumerable<string> FilesIn(string folder) =>
        Directory.EnumerateFiles(folder, "*", new EnumerationOptions { RecurseSubdirectories = true, AttributesToSkip = 0 })
            .Select(f => Path.GetRelativePath(folder, f).Replace('\\', '/'))
            .Where(f => f is not (Catalog.FileName or Publication.LockName) && !f.StartsWith(Publication.KeptFolder + "/", StringComparison.Ordinal));

    /// <summary>Names that a run gives: a table's file by its content, or one that is being written.</summary>
    [GeneratedRegex(@"^([^/]+/.+-[0-9a-f]{16}\.[a-z]+|[^/]+/\.tmp-[0-9]+\.[a-z]+|\.work/.+|\.catalog\.tmp)$")]
    private static partial Regex OwnName();
}

/// <summary>Looks at each file once before it is read first, so that damage is met by name and not as wrong numbers.</summary>
internal sealed class CheckedFiles(string folder)
{
    private readonly ConcurrentDictionary<string, bool> sound = new(StringComparer.Ordinal);

    /// <summary>Takes a file for sound that has just been written and read back.</summary>
    public void Add(CatalogEntry entry) => sound[entry.File] = true;

    /// <summary>Makes sure that files are as they were written.</summary>
    /// <exception cref="UserError">Some are not; all are named.</exception>
    public void MustBeSound(params IEnumerable<CatalogEntry> entries)
    {
        var unseen = entries.Where(e => !sound.ContainsKey(e.File)).ToList();
        if (LakeCheck.Damaged(folder, unseen) is { Count: > 0 } damaged)
        {
            throw LakeCheck.Error(folder, damaged);
        }

        unseen.ForEach(Add);
    }
}
