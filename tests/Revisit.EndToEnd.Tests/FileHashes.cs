using System.Security.Cryptography;

namespace Revisit.EndToEnd.Tests;

/// <summary>What a run left behind, as hashes of its files.</summary>
internal static class FileHashes
{
    /// <summary>Every file below the given folders of a place with its SHA-256, a line each; the lake's lock file holds nothing and is left out.</summary>
    public static string Of(string at, params string[] folders) => string.Concat(
        folders.SelectMany(d => Directory.EnumerateFiles(Path.Combine(at, d), "*", new EnumerationOptions { RecurseSubdirectories = true, AttributesToSkip = 0 }))
            .Where(f => Path.GetFileName(f) != ".writing").Select(f => Path.GetRelativePath(at, f)).Order(StringComparer.Ordinal)
            .Select(f => $"{f} {Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(Path.Combine(at, f))))}\n"));

    /// <summary>The first lines in which two lists differ.</summary>
    public static string Difference(string expected, string actual)
    {
        var (a, b) = (expected.Split('\n'), actual.Split('\n'));
        return string.Join('\n', a.Except(b).Select(l => "- " + l).Concat(b.Except(a).Select(l => "+ " + l)).Take(20));
    }
}
