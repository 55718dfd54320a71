using System.Xml.Linq;

namespace Revisit.Architecture.Tests;

/// <summary>What a project file says: which projects and packages it names. Read from its XML, so that every project is seen.</summary>
internal sealed record Project(string Name, string Path, IReadOnlyList<string> Projects, IReadOnlyList<string> Packages)
{
    public bool IsTest => Path.StartsWith("tests/", StringComparison.Ordinal);

    /// <summary>Reads a project file from its text.</summary>
    public static Project Of(SourceText file)
    {
        var items = XDocument.Parse(file.Text).Descendants().ToList();
        IReadOnlyList<string> Includes(string item) =>
            [.. items.Where(e => e.Name.LocalName == item).Select(e => e.Attribute("Include")!.Value.Replace('\\', '/'))];
        return new(
            System.IO.Path.GetFileNameWithoutExtension(file.Name),
            file.Path,
            [.. Includes("ProjectReference").Select(p => System.IO.Path.GetFileNameWithoutExtension(p))],
            Includes("PackageReference"));
    }

    /// <summary>The paths of the projects a solution names, in order.</summary>
    public static IReadOnlyList<string> InSolution(string solution) =>
    [
        .. solution.Split('\n').Where(l => l.StartsWith("Project(", StringComparison.Ordinal))
            .Select(l => l.Split('"')[5].Replace('\\', '/')).Where(p => p.EndsWith(".csproj", StringComparison.Ordinal)).Order(StringComparer.Ordinal),
    ];
}
