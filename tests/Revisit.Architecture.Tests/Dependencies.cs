using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace Revisit.Architecture.Tests;

/// <summary>A package that a lock file names.</summary>
/// <param name="Name">Name.</param>
/// <param name="Version">Version.</param>
/// <param name="Direct">Whether a project of ours names it; else it comes with another.</param>
/// <param name="Shipped">Whether a project that is not a test uses it.</param>
/// <param name="Sha512">SHA-512 of its content as the lock file holds it, in base 64.</param>
/// <param name="Needs">Names of the packages it needs.</param>
internal sealed record LockedPackage(string Name, string Version, bool Direct, bool Shipped, string Sha512, IReadOnlyList<string> Needs)
{
    /// <summary>The address of a package, as software bills of materials write it.</summary>
    public string Purl => $"pkg:nuget/{Name}@{Version}";
}

/// <summary>A row of the list of dependencies.</summary>
internal sealed record ListedPackage(string Name, string Version, string Licence, string KeptBy, string How, string Where);

/// <summary>The packages of the lock files, the list of them in docs, and the bill of materials that both give.</summary>
internal static partial class Dependencies
{
    public const string ListPath = "docs/dependencies.md", BillPath = "docs/sbom.cdx.json";

    private const string Head = """
        # Dependencies
        Every package of the lock files, direct and transitive, with its licence as the package states it (SPDX expression). Written by
        `REVISIT_DEPENDENCIES=1 dotnet test tests/Revisit.Architecture.Tests --filter DependencyTests` from the lock files and the restored packages; the same writes the bill of materials
        `sbom.cdx.json` (CycloneDX 1.6). A test holds both to the lock files. Where: shipped with the command, or only used by tests and the build.

        | package | version | licence | kept by | how | where |
        |---|---|---|---|---|---|

        """;

    /// <summary>Licences of packages that name a file or an address in place of an expression; read there.</summary>
    private static readonly Dictionary<string, string> Read = new(StringComparer.Ordinal)
    {
        ["Fable.Core"] = "MIT",
        ["K4os.Compression.LZ4"] = "MIT",
        ["xunit.abstractions"] = "Apache-2.0",
    };

    /// <summary>Only used to build or test, though projects that ship name it.</summary>
    private static readonly string[] BuildOnly = ["Microsoft.CodeAnalysis.BannedApiAnalyzers"];

    /// <summary>All packages of lock files, in name and version order.</summary>
    public static IReadOnlyList<LockedPackage> Locked(IEnumerable<SourceText> lockFiles)
    {
        var found = new SortedDictionary<(string Name, string Version), LockedPackage>(Comparer<(string Name, string Version)>.Create((a, b) =>
            string.CompareOrdinal(a.Name, b.Name) is var c and not 0 ? c : string.CompareOrdinal(a.Version, b.Version)));
        foreach (var file in lockFiles)
        {
            foreach (var (name, body) in JsonNode.Parse(file.Text)!["dependencies"]!.AsObject().SelectMany(framework => framework.Value!.AsObject()))
            {
                var type = (string)body!["type"]!;
                if (type == "Project")
                {
                    continue;
                }

                var version = (string)body["resolved"]!;
                var shipped = !file.Path.StartsWith("tests/", StringComparison.Ordinal) && !BuildOnly.Contains(name);
                var had = found.GetValueOrDefault((name, version));
                found[(name, version)] = new(name, version, type == "Direct" || had is { Direct: true }, shipped || had is { Shipped: true }, (string)body["contentHash"]!,
                    [.. body["dependencies"]?.AsObject().Select(d => d.Key).Order(StringComparer.Ordinal) ?? Enumerable.Empty<string>()]);
            }
        }

        return [.. found.Values];
    }

    /// <summary>The rows of the list.</summary>
    public static IReadOnlyList<ListedPackage> Listed(string list) => [.. list.Split('\n').Where(l => l.StartsWith("| ", StringComparison.Ordinal)).Skip(1)
        .Select(l => l.Trim('|', ' ').Split('|', StringSplitOptions.TrimEntries)).Select(c => new ListedPackage(c[0], c[1], c[2], c[3], c[4], c[5]))];

    /// <summary>Where the list and the lock files differ.</summary>
    public static IReadOnlyList<string> Differences(IReadOnlyList<LockedPackage> locked, IReadOnlyList<ListedPackage> listed)
    {
        static string Key(string name, string version, string how, string where) => $"{name} {version}, {how}, {where}";
        var (a, b) = (locked.Select(p => Key(p.Name, p.Version, How(p), Where(p))).ToList(), listed.Select(p => Key(p.Name, p.Version, p.How, p.Where)).ToList());
        return [.. a.Except(b).Select(k => $"{k}: not in {ListPath}"), .. b.Except(a).Select(k => $"{k}: in {ListPath} and in no lock file"),
            .. listed.Where(p => !Expression().IsMatch(p.Licence) || p.KeptBy.Length == 0).Select(p => $"{p.Name}: licence '{p.Licence}', kept by '{p.KeptBy}'")];
    }

    /// <summary>The list, from the restored packages.</summary>
    public static string List(IReadOnlyList<LockedPackage> locked)
    {
        var packages = Environment.GetEnvironmentVariable("NUGET_PACKAGES") ?? Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.UserProfile), ".nuget", "packages");
        return Head + string.Concat(locked.Select(p =>
        {
            var metadata = XDocument.Load(Path.Combine(packages, p.Name.ToLowerInvariant(), p.Version.ToLowerInvariant(), p.Name.ToLowerInvariant() + ".nuspec")).Root!.Elements().First();
            string? Of(string name) => metadata.Elements().FirstOrDefault(e => e.Name.LocalName == name) is { } element && (name != "license" || (string?)element.Attribute("type") == "expression") ? element.Value.Trim() : null;
            var licence = Of("license") ?? (Read.TryGetValue(p.Name, out var read) ? read : "unknown");
            return $"| {p.Name} | {p.Version} | {licence} | {Of("authors")?.Replace("|", "/", StringComparison.Ordinal)} | {How(p)} | {Where(p)} |\n";
        }));
    }

    /// <summary>The bill of materials in CycloneDX 1.6, of what the command ships with; the same lock files and list give the same bytes.</summary>
    public static string Bill(IReadOnlyList<LockedPackage> locked, IReadOnlyList<ListedPackage> listed, string version)
    {
        var licences = listed.ToDictionary(l => (l.Name, l.Version));
        var shipped = locked.Where(p => p.Shipped).ToList();
        var bill = new JsonObject
        {
            ["bomFormat"] = "CycloneDX",
            ["specVersion"] = "1.6",
            ["version"] = 1,
            ["metadata"] = new JsonObject { ["component"] = new JsonObject { ["type"] = "application", ["bom-ref"] = "revisit", ["name"] = "revisit", ["version"] = version } },
            ["components"] = new JsonArray([.. shipped.Select(p => new JsonObject
            {
                ["type"] = "library",
                ["bom-ref"] = p.Purl,
                ["name"] = p.Name,
                ["version"] = p.Version,
                ["hashes"] = new JsonArray(new JsonObject { ["alg"] = "SHA-512", ["content"] = Convert.ToHexStringLower(Convert.FromBase64String(p.Sha512)) }),
                ["licenses"] = new JsonArray(new JsonObject { ["license"] = new JsonObject { ["id"] = licences[(p.Name, p.Version)].Licence } }),
                ["purl"] = p.Purl,
            })]),
            ["dependencies"] = new JsonArray([
                new JsonObject { ["ref"] = "revisit", ["dependsOn"] = new JsonArray([.. shipped.Where(p => p.Direct).Select(p => JsonValue.Create(p.Purl))]) },
                .. shipped.Select(p => new JsonObject { ["ref"] = p.Purl, ["dependsOn"] = new JsonArray([.. shipped.Where(o => p.Needs.Contains(o.Name)).Select(o => JsonValue.Create(o.Purl))]) })]),
        };
        return Encoding.UTF8.GetString(JsonSerializer.SerializeToUtf8Bytes(bill, new JsonSerializerOptions { WriteIndented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping })) + "\n";
    }

    private static string How(LockedPackage p) => p.Direct ? "direct" : "transitive";

    private static string Where(LockedPackage p) => p.Shipped ? "shipped" : "tests and build";

    /// <summary>SPDX identifiers in use here; another one is looked at before it is added.</summary>
    [GeneratedRegex("^(MIT|Apache-2[.]0|BSD-3-Clause|MPL-2[.]0)$")]
    private static partial Regex Expression();
}
