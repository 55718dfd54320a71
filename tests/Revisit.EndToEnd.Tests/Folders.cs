namespace Revisit.EndToEnd.Tests;

/// <summary>A folder of a test, removed at its end.</summary>
internal sealed class TestFolder : IDisposable
{
    public string Path { get; } = Directory.CreateTempSubdirectory("revisit-test-").FullName;

    /// <summary>Path of something in the folder.</summary>
    public string At(params string[] parts) => System.IO.Path.Combine([Path, .. parts]);

    /// <summary>Writes a file, making its folder.</summary>
    public string Write(string name, string text)
    {
        var path = At(name);
        Directory.CreateDirectory(System.IO.Path.GetDirectoryName(path)!);
        File.WriteAllText(path, text);
        return path;
    }

    public void Dispose() => Directory.Delete(Path, recursive: true);

    /// <summary>Copies a folder and what is in it.</summary>
    public static void Copy(string from, string to)
    {
        foreach (var file in Directory.EnumerateFiles(from, "*", SearchOption.AllDirectories))
        {
            var target = System.IO.Path.Combine(to, System.IO.Path.GetRelativePath(from, file));
            Directory.CreateDirectory(System.IO.Path.GetDirectoryName(target)!);
            File.Copy(file, target);
        }
    }
}

/// <summary>The repository: its pipelines and exports are copied, never written to.</summary>
internal static class Repository
{
    public static string Root { get; } = Find();

    /// <summary>The committed exports.</summary>
    public static readonly IReadOnlyList<string> Exports = ["harbor.csv", "lakeside.ndjson", "plateau.txt", "prairie.tsv"];

    public static string Export(string name) => Path.Combine(Root, "synthetic-data", "exports", name);

    /// <summary>Copies what the monthly run reads.</summary>
    public static void CopyMonth(string to)
    {
        TestFolder.Copy(Path.Combine(Root, "pipelines"), Path.Combine(to, "pipelines"));
        TestFolder.Copy(Path.Combine(Root, "synthetic-data", "exports"), Path.Combine(to, "synthetic-data", "exports"));
    }

    private static string Find()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Analytics.sln")))
        {
            folder = folder.Parent;
        }

        return folder?.FullName ?? throw new InvalidOperationException($"no Analytics.sln above {AppContext.BaseDirectory}");
    }
}
