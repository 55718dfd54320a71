using System.Data.Common;
using System.Globalization;
using System.Numerics;
using Revisit.Storage;

namespace Revisit.Report.Facts;

/// <summary>Small queries and the reading of their rows.</summary>
internal static class Ask
{
    public static List<T> All<T>(this LakeSession session, Func<DbDataReader, T> row, string sql, params object?[] arguments)
    {
        using var reader = session.Query(sql, arguments);
        var rows = new List<T>();
        while (reader.Read())
        {
            rows.Add(row(reader));
        }

        return rows;
    }

    public static T One<T>(this LakeSession session, Func<DbDataReader, T> row, string sql, params object?[] arguments) =>
        session.All(row, sql, arguments).Single();

    public static int Count(this DbDataReader reader, int column) =>
        reader.IsDBNull(column)
        ? 0
        : reader.GetValue(column) is BigInteger sum ? (int)sum : Convert.ToInt32(reader.GetValue(column), CultureInfo.InvariantCulture);

    public static string? Words(this DbDataReader reader, int column) => reader.IsDBNull(column) ? null : reader.GetString(column);

    public static double Real(this DbDataReader reader, int column) => reader.IsDBNull(column) ? double.NaN : reader.GetDouble(column);

    public static DateOnly? Day(this DbDataReader reader, int column) => reader.IsDBNull(column) ? null : reader.GetFieldValue<DateOnly>(column);
}
