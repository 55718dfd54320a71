using System.Globalization;

namespace Revisit.Ingest;

/// <summary>Reads a number as people write it: decimal and thousands marks of the profile, a trailing unit sign such as °.</summary>
internal static class NumberText
{
    private static readonly double[] Powers = [1, 10, 100, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9];

    /// <summary>Reads a number; false when the text is not one. NaN and infinity are not numbers.</summary>
    public static bool TryRead(ReadOnlySpan<char> text, char decimalMark, char thousands, out double value)
    {
        if (Simple(text, decimalMark, out value))
        {
            return true;
        }

        text = text.Trim();
        while (text.Length > 1 && text[^1] is '°' or '%')
        {
            text = text[..^1].TrimEnd();
        }

        return Simple(text, decimalMark, out value) || General(text, decimalMark, thousands, out value);
    }

    /// <summary>Digits with at most one decimal mark: exact, since both the digits and the power of ten are exact doubles.</summary>
    public static bool Simple(ReadOnlySpan<char> text, char decimalMark, out double value)
    {
        value = 0;
        var negative = text.Length > 0 && text[0] == '-';
        if (negative)
        {
            text = text[1..];
        }

        if (text.Length is 0 or > 15)
        {
            return false;
        }

        long digits = 0;
        var point = -1;
        for (var i = 0; i < text.Length; i++)
        {
            var c = text[i];
            if (char.IsAsciiDigit(c))
            {
                digits = digits * 10 + (c - '0');
            }
            else if (c == decimalMark && point < 0 && i > 0)
            {
                point = i;
            }
            else
            {
                return false;
            }
        }

        var decimals = point < 0 ? 0 : text.Length - 1 - point;
        if (decimals >= Powers.Length)
        {
            return false;
        }

        value = digits / Powers[decimals];
        value = negative ? -value : value;
        return true;
    }

    private static bool General(ReadOnlySpan<char> text, char decimalMark, char thousands, out double value)
    {
        value = double.NaN;
        if (text.Length is 0 or > 64)
        {
            return false;
        }

        Span<char> plain = stackalloc char[text.Length];
        var n = 0;
        var groups = 0;
        var sinceGroup = 0;
        foreach (var c in text)
        {
            if (c == thousands && thousands != '\0')
            {
                // A thousands mark stands before groups of three digits only; anything else is another number form.
                if (groups > 0 ? sinceGroup != 3 : sinceGroup is 0 or > 3)
                {
                    return false;
                }

                groups++;
                sinceGroup = 0;
                continue;
            }

            if (c == decimalMark && groups > 0 && sinceGroup != 3)
            {
                return false;
            }

            sinceGroup += char.IsAsciiDigit(c) ? 1 : 0;
            if (c == '.' && decimalMark != '.')
            {
                return false;
            }

            plain[n++] = c == decimalMark ? '.' : c is '\u2212' ? '-' : c;
        }

        if (groups > 0 && plain[..n].IndexOf('.') < 0 && sinceGroup != 3)
        {
            return false;
        }

        return double.TryParse(plain[..n], NumberStyles.Float, CultureInfo.InvariantCulture, out value) && double.IsFinite(value);
    }
}
