using Revisit.Records;
using YamlDotNet.Core;
using YamlDotNet.Core.Events;

namespace Revisit.Ingest;

/// <summary>YAML of settings and profiles, kept small: what a person writes by hand needs no megabytes, no depth and no references.</summary>
public static class YamlText
{
    /// <summary>Largest file [bytes].</summary>
    public const int MostBytes = 1 << 20;

    /// <summary>Deepest nesting.</summary>
    public const int MostDepth = 32;

    /// <summary>Reads a file of YAML.</summary>
    /// <exception cref="UserError">It is too large.</exception>
    /// <exception cref="IOException">It cannot be read.</exception>
    public static string Read(string path)
    {
        using var stream = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
        var bytes = new byte[MostBytes + 1];
        var length = stream.ReadAtLeast(bytes, bytes.Length, throwOnEndOfStream: false);
        if (length > MostBytes)
        {
            throw new UserError($"{path} is larger than {MostBytes >> 20} MB, which no settings are; nothing was read. Is it the right file?");
        }

        using var reader = new StreamReader(new MemoryStream(bytes, 0, length));
        return reader.ReadToEnd();
    }

    /// <summary>Refuses text whose meaning could be larger than itself, before anything is built from it.</summary>
    /// <exception cref="YamlException">It is nested too deeply, holds references, or is not YAML; with the place.</exception>
    public static void Check(string text)
    {
        var parser = new Parser(new StringReader(text));
        for (var depth = 0; parser.MoveNext();)
        {
            var now = parser.Current!;
            depth += now.NestingIncrease;
            if (depth > MostDepth)
            {
                throw new YamlException(now.Start, now.End, $"nested deeper than {MostDepth} levels");
            }

            if (now is AnchorAlias or NodeEvent { Anchor.IsEmpty: false })
            {
                throw new YamlException(now.Start, now.End, "references (& and *) are not taken; write the value where it is needed");
            }
        }
    }
}
