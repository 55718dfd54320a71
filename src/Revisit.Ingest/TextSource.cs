using System.Text;

namespace Revisit.Ingest;

/// <summary>Opens a source as text.</summary>
internal static class TextSource
{
    static TextSource() => Encoding.RegisterProvider(CodePagesEncodingProvider.Instance);

    /// <summary>The encoding of a name.</summary>
    /// <exception cref="ArgumentException">The name is unknown.</exception>
    /// <remarks>What cannot be decoded becomes U+FFFD, so that it shows; the library's own fallback writes a question mark, which could be text.</remarks>
    public static Encoding EncodingOf(string name) => Encoding.GetEncoding(name, EncoderFallback.ReplacementFallback, new DecoderReplacementFallback("\uFFFD"));

    /// <summary>Opens a stream as text; a byte order mark wins over the profile.</summary>
    public static StreamReader Open(Stream stream, string encoding) =>
        new(stream, EncodingOf(encoding), detectEncodingFromByteOrderMarks: true, bufferSize: 1 << 16);
}
