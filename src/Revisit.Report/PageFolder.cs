using System.Text;
using Revisit.Records;

namespace Revisit.Report;

/// <summary>Writes a folder of pages aside and swaps it in, so that a reader meets the old pages or the new ones, never a mixture.</summary>
internal static class PageFolder
{
    /// <summary>Replaces <paramref name="outFolder"/>/<paramref name="name"/> by the given pages.</summary>
    /// <returns>The full path of each page, in the order given.</returns>
    /// <exception cref="UserError">Another run writes there, the folder holds other files, or it cannot be written.</exception>
    public static IReadOnlyList<string> Replace(string outFolder, string name, IReadOnlyList<(string File, string Content)> pages)
    {
        var root = Path.GetFullPath(outFolder);
        var target = Path.Combine(root, name);
        var aside = Path.Combine(root, $".{name}.new");
        var old = Path.Combine(root, $".{name}.old");
        try
        {
            Directory.CreateDirectory(root);
            using var writing = new FileStream(Path.Combine(root, $".{name}.writing"), FileMode.Create, FileAccess.Write, FileShare.None, 1, FileOptions.DeleteOnClose);
            RefuseForeignFiles(target);
            Clear(aside);
            Clear(old);
            Directory.CreateDirectory(aside);
            foreach (var (file, content) in pages)
            {
                using var stream = new FileStream(Path.Combine(aside, file), FileMode.CreateNew, FileAccess.Write, FileShare.None);
                stream.Write(Encoding.UTF8.GetBytes(content));
                stream.Flush(flushToDisk: true);
            }

            if (Directory.Exists(target)) Directory.Move(target, old);
            try
            {
                Directory.Move(aside, target);
            }
            catch when (Directory.Exists(old))
            {
                Directory.Move(old, target);
                throw;
            }

            Clear(old);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new UserError($"The pages could not be written to {target} ({e.Message}). Close what uses the folder, give write permission or name another folder, then run again.");
        }

        return [.. pages.Select(p => Path.Combine(target, p.File))];
    }

    private static void RefuseForeignFiles(string target)
    {
        if (!Directory.Exists(target)) return;
        var foreign = Directory.EnumerateFileSystemEntries(target).FirstOrDefault(e => !e.EndsWith(".html", StringComparison.Ordinal) && Path.GetFileName(e) != PageShell.Plotly);
        if (foreign is not null)
        {
            throw new UserError($"{target} holds '{Path.GetFileName(foreign)}', which is not a page; replacing the folder would lose it. Move it away or name another folder.");
        }
    }

    private static void Clear(string folder)
    {
        if (Directory.Exists(folder)) Directory.Delete(folder, recursive: true);
    }
}
