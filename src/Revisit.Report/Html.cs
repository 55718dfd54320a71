using System.Globalization;
using System.Runtime.CompilerServices;
using System.Text;

namespace Revisit.Report;

/// <summary>
/// Markup that is safe to put into a page. Text becomes markup only through <see cref="Of"/>, whose holes escape every
/// string, so a page cannot forget to.
/// </summary>
/// <param name="Markup">The finished markup.</param>
public readonly record struct Html(string Markup)
{
    /// <summary>No markup.</summary>
    public static readonly Html None = new("");

    /// <summary>Markup with holes: <c>Html.Of($"&lt;p&gt;{text}&lt;/p&gt;")</c> escapes <c>text</c>; only a hole of type Html stays as it is.</summary>
    public static Html Of(Hole holes) => new(holes.Text);

    /// <summary>Pieces one after another.</summary>
    public static Html Join(IEnumerable<Html> pieces) => new(string.Concat(pieces.Select(p => p.Markup)));

    /// <summary>
    /// A text for element content or a quoted attribute. Control characters and those that turn the reading direction
    /// become U+FFFD, so that a text from outside cannot disguise itself.
    /// </summary>
    public static string Escape(string? text)
    {
        var result = new StringBuilder(text?.Length ?? 0);
        foreach (var c in text ?? "")
        {
            _ = c switch
            {
                '&' => result.Append("&amp;"),
                '<' => result.Append("&lt;"),
                '>' => result.Append("&gt;"),
                '"' => result.Append("&quot;"),
                '\'' => result.Append("&#39;"),
                '\n' or '\t' => result.Append(c),
                '\r' => result,
                _ when char.IsControl(c) || c is >= '\u202A' and <= '\u202E' or >= '\u2066' and <= '\u2069' => result.Append('\uFFFD'),
                _ => result.Append(c),
            };
        }

        return result.ToString();
    }

    public override string ToString() => Markup;

    /// <summary>Collects literal markup and escaped holes.</summary>
    [InterpolatedStringHandler]
    public readonly ref struct Hole
    {
        private readonly StringBuilder builder;

        public Hole(int literalLength, int formattedCount) => builder = new(literalLength + formattedCount * 16);

        internal string Text => builder.ToString();

        public void AppendLiteral(string markup) => builder.Append(markup);

        public void AppendFormatted(string? text) => builder.Append(Escape(text));

        public void AppendFormatted(int number) => builder.Append(CultureInfo.InvariantCulture, $"{number}");

        public void AppendFormatted(Html markup) => builder.Append(markup.Markup);

        public void AppendFormatted(IEnumerable<Html> pieces) => builder.Append(Join(pieces).Markup);
    }
}
