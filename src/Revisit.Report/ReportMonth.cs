using System.Globalization;
using Revisit.Records;

namespace Revisit.Report;

/// <summary>A calendar month and the twelve months that end with it.</summary>
/// <param name="First">First day of the month.</param>
public readonly record struct ReportMonth(DateOnly First)
{
    /// <summary>YYYY-MM.</summary>
    public string Name => Label(First);

    /// <summary>First day after the month.</summary>
    public DateOnly Next => First.AddMonths(1);

    /// <summary>First day of the twelve months that end with this one.</summary>
    public DateOnly YearStart => First.AddMonths(-11);

    /// <summary>The twelve months that end with this one, oldest first.</summary>
    public IEnumerable<DateOnly> Year
    {
        get
        {
            var start = YearStart;
            return Enumerable.Range(0, 12).Select(i => start.AddMonths(i));
        }
    }

    /// <summary>A day's month as YYYY-MM.</summary>
    public static string Label(DateOnly day) => day.ToString("yyyy-MM", CultureInfo.InvariantCulture);

    /// <summary>A day's calendar quarter as YYYY-Qn.</summary>
    public static string Quarter(DateOnly day) => string.Create(CultureInfo.InvariantCulture, $"{day.Year:0000}-Q{(day.Month + 2) / 3}");

    /// <summary>A day as SQL takes it, YYYY-MM-DD.</summary>
    public static string Iso(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    /// <summary>Reads YYYY-MM.</summary>
    /// <exception cref="UserError">The text is not a month.</exception>
    public static ReportMonth Parse(string text) =>
        DateOnly.TryParseExact(text + "-01", "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day) && day.Year > 1
            ? new(day)
            : throw new UserError($"'{text}' is not a month. Write it as YYYY-MM, for example 2026-03.");
}
