using System.Globalization;
using Revisit.Records;

namespace Revisit.Cli;

/// <summary>Months as they are typed.</summary>
internal static class Months
{
    /// <summary>The last day of a month YYYY-MM.</summary>
    /// <exception cref="UserError">It is no month.</exception>
    public static DateOnly LastDay(string month) => DateOnly.TryParseExact(month + "-01", "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var first)
        ? first.AddMonths(1).AddDays(-1)
        : throw new UserError($"'{month}' is no month; write YYYY-MM.");
}
