using System.Diagnostics;
using System.Text;

namespace Revisit.Architecture.Tests;

/// <summary>A text file of the repository: path from its root with forward slashes, and what it says.</summary>
internal sealed record SourceText(string Path, string Text)
{
    public string Extension => System.IO.Path.GetExtension(Path);

    public string Name => System.IO.Path.GetFileName(Path);
}

/// <summary>The repository these tests were built from.</summary>
internal static class Repository
{
    private static readonly Lazy<IReadOnlyList<SourceText>> Files = new(ReadFiles);

    /// <summary>Folder that holds Analytics.sln.</summary>
    public static string Root { get; } = FindRoot();

    /// <summary>Every file git keeps, or would keep, that is text in UTF-8; in path order.</summary>
    public static IReadOnlyList<SourceText> Texts => Files.Value;

    /// <summary>The text of one file.</summary>
    public static string Text(string path) => Texts.Single(t => t.Path == path).Text;

    private static string FindRoot()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "Analytics.sln")))
            {
                return folder.FullName;
            }
        }

        throw new InvalidOperationException($"no Analytics.sln above {AppContext.BaseDirectory}");
    }

    private static List<SourceText> ReadFiles()
    {
        var start = new ProcessStartInfo("git", ["ls-files", "-z", "--cached", "--others", "--exclude-standard"])
        {
            WorkingDirectory = Root,
            RedirectStandardOutput = true,
            StandardOutputEncoding = Encoding.UTF8,
        };
        using var git = Process.Start(start)!;
        var listed = git.StandardOutput.ReadToEnd().Split('\0', StringSplitOptions.RemoveEmptyEntries);
        git.WaitForExit();
        Assert.Equal(0, git.ExitCode);
        var texts = new List<SourceText>();
        foreach (var path in listed.Distinct().Order(StringComparer.Ordinal))
        {
            var full = Path.Combine(Root, path);
            if (!File.Exists(full))
            {
                continue;
            }

            var bytes = File.ReadAllBytes(full);
            if (!bytes.AsSpan().Contains((byte)0))
            {
                texts.Add(new(path, Encoding.UTF8.GetString(bytes)));
            }
        }

        return texts;
    }
}
