using System.Globalization;

namespace Revisit.Records;

/// <summary>A cell of a CSV file that a spreadsheet may open: quoted where needed, and never taken for a formula.</summary>
public static class CsvCell
{
    /// <summary>The cell as written. A text that a spreadsheet would calculate gets an apostrophe before it.</summary>
    /// <param name="text">What the cell says.</param>
    /// <param name="mayBeNumber">Whether a number with a sign may stand as it is.</param>
    public static string Of(string text, bool mayBeNumber = true)
    {
        if (text.Length > 0 && text[0] is '=' or '+' or '@' or '\t' || (text.StartsWith('-') && !(mayBeNumber && double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out _))))
        {
            text = "'" + text;
        }

        return text.AsSpan().ContainsAny(",\"\n\r") ? "\"" + text.Replace("\"", "\"\"", StringComparison.Ordinal) + "\"" : text;
    }
}
