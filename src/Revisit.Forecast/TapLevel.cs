using System.Globalization;

namespace Revisit.Forecast;

/// <summary>Puts a blower tap, written in words or numbers, on one scale. Which words are used is common practice, no source.</summary>
public static class TapLevel
{
    /// <summary>0 for the lowest tap, 1 for the highest; NaN when the words are not known. Numbers run from 1 to 5, 1 lowest.</summary>
    public static double Of(string? written)
    {
        if (string.IsNullOrWhiteSpace(written))
        {
            return double.NaN;
        }

        var words = written.Trim().ToLowerInvariant().Replace('_', ' ').Replace('-', ' ');
        words = words.StartsWith("tap ", StringComparison.Ordinal) ? words[4..] : words;
        switch (words)
        {
            case "low": return 0;
            case "medium low" or "med low": return 0.25;
            case "medium" or "med": return 0.5;
            case "medium high" or "med high": return 0.75;
            case "high": return 1;
        }

        var digits = words.TrimStart('t', '#');
        return int.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out var tap) && tap is >= 1 and <= 5 ? (tap - 1) / 4.0 : double.NaN;
    }
}
