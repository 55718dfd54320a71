using System.Globalization;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Cli;

/// <summary>Months as written on the command line.</summary>
internal static class Months
{
    /// <summary>The last day of a month YYYY-MM.</summary>
    /// <exception cref="UserError">It is no month.</exception>
    public static DateOnly LastDay(string month) => DateOnly.TryParseExact(month + "-01", "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var first)
        ? first.AddMonths(1).AddDays(-1)
        : throw new UserError($"'{month}' is no month; write YYYY-MM.");

    /// <summary>The last day of the month asked for, else of the latest month with readings.</summary>
    /// <exception cref="UserError">It is no month, or there are no readings.</exception>
    public static DateOnly LastDay(string? month, Catalog catalog) => LastDay(month
        ?? catalog.Of(Tables.Readings.Name).Select(e => e.Partition).Max(StringComparer.Ordinal)
        ?? throw new UserError("The lake holds no reading. Take some in with 'revisit ingest FILE'."));
}
