using System.Collections.Immutable;
using System.Text.RegularExpressions;
using Microsoft.CodeAnalysis;

namespace Revisit.Notebooks.Tests;

/// <summary>
/// Resolves <c>#r "../src/X/bin/Release/net10.0/X.dll"</c> to the X that was built with these tests, whatever its configuration; any other
/// reference is not found. So a notebook runs against the code beside it and never against an old build.
/// </summary>
internal sealed partial class BuiltReferences : MetadataReferenceResolver
{
    public override ImmutableArray<PortableExecutableReference> ResolveReference(string reference, string? baseFilePath, MetadataReferenceProperties properties)
    {
        var match = Built().Match(reference);
        var path = Path.Combine(AppContext.BaseDirectory, match.Groups["name"].Value + ".dll");
        return match.Success && File.Exists(path) ? [MetadataReference.CreateFromFile(path, properties)] : [];
    }

    public override bool Equals(object? other) => other is BuiltReferences;

    public override int GetHashCode() => 1;

    [GeneratedRegex(@"^\.\./src/(?<name>Revisit\.\w+)/bin/Release/net10\.0/\k<name>\.dll$", RegexOptions.CultureInvariant)]
    private static partial Regex Built();
}
