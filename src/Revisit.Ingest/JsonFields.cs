using System.Text.Json;

namespace Revisit.Ingest;

/// <summary>The cells of one JSON document, found by dotted path.</summary>
internal sealed class JsonFields(IReadOnlyList<string> paths) : FieldSource
{
    private static readonly JsonDocumentOptions Options = new() { MaxDepth = 32 };
    private readonly string[][] parts = [.. paths.Select(p => p.Split('.'))];
    private readonly string[] cells = new string[paths.Count];

    public override ReadOnlySpan<char> Cell(int slot) => slot < 0 ? default : cells[slot];

    /// <summary>Parses a line. Bare NaN and Infinity are not JSON: they are read as texts, so that only their value is lost.</summary>
    public bool TryParse(string line)
    {
        if (!line.AsSpan().TrimStart().StartsWith('{'))
        {
            return false; // without the cost of an exception: there may be millions of such lines
        }

        try
        {
            Load(line);
            return true;
        }
        catch (Exception e) when (e is JsonException or InvalidOperationException)
        {
            // InvalidOperationException: half a surrogate pair in a text.
            var mended = QuoteBareNaN(line);
            if (mended is null)
            {
                return false;
            }

            try
            {
                Load(mended);
                return true;
            }
            catch (Exception again) when (again is JsonException or InvalidOperationException)
            {
                return false;
            }
        }
    }

    private void Load(string line)
    {
        using var document = JsonDocument.Parse(line, Options);
        if (document.RootElement.ValueKind != JsonValueKind.Object)
        {
            throw new JsonException("not an object");
        }

        for (var i = 0; i < parts.Length; i++)
        {
            var at = document.RootElement;
            var found = true;
            foreach (var part in parts[i])
            {
                if (at.ValueKind != JsonValueKind.Object || !at.TryGetProperty(part, out at))
                {
                    found = false;
                    break;
                }
            }

            cells[i] = !found || at.ValueKind == JsonValueKind.Null ? "" : at.ValueKind == JsonValueKind.String ? at.GetString()! : at.GetRawText();
        }
    }

    private static string? QuoteBareNaN(string line)
    {
        var result = new System.Text.StringBuilder(line.Length + 16);
        var changed = false;
        var inText = false;
        for (var i = 0; i < line.Length; i++)
        {
            var c = line[i];
            if (inText && c == '\\' && i + 1 < line.Length)
            {
                result.Append(c).Append(line[++i]);
                continue;
            }

            inText ^= c == '"';

            var word = inText ? null : Words.FirstOrDefault(w => string.CompareOrdinal(line, i, w, 0, w.Length) == 0);
            if (word is not null)
            {
                result.Append('"').Append(word).Append('"');
                i += word.Length - 1;
                changed = true;
            }
            else
            {
                result.Append(c);
            }
        }

        return changed ? result.ToString() : null;
    }

    private static readonly string[] Words = ["-Infinity", "Infinity", "-NaN", "NaN"];
}
