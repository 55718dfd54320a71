using System.Data.Common;

namespace Revisit.Fleet;

/// <summary>Values of a row that may be missing.</summary>
internal static class ReaderValues
{
    public static string? TextOf(this DbDataReader reader, int column) => reader.IsDBNull(column) ? null : reader.GetString(column);

    /// <summary>A number; NaN where missing.</summary>
    public static double NumberOf(this DbDataReader reader, int column) => reader.IsDBNull(column) ? double.NaN : reader.GetDouble(column);

    public static DateOnly? DayOf(this DbDataReader reader, int column) => reader.IsDBNull(column) ? null : reader.GetFieldValue<DateOnly>(column);
}
