using System.Diagnostics.CodeAnalysis;

namespace Revisit.Fleet;

/// <summary>Keeps each of few texts once, however many rows bear it.</summary>
internal sealed class FewTexts
{
    private readonly Dictionary<string, string> kept = new(StringComparer.Ordinal);

    /// <summary>The one object of a text; null for none.</summary>
    [return: NotNullIfNotNull(nameof(text))]
    public string? One(string? text) => text is null || kept.TryAdd(text, text) ? text : kept[text];
}
