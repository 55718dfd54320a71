using System.CommandLine;
using System.Data.Common;
using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;
using DuckDB.NET.Data;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Cli.Commands;

/// <summary>revisit sql: read-only questions to the lake.</summary>
internal static class SqlCommand
{
    private const int Tries = 3;

    public static Command Make()
    {
        var sql = new Argument<string>("SQL") { Description = "One SELECT over the tables of the lake" };
        var lake = Options.Lake();
        var csv = new Option<bool>("--csv") { Description = "Print CSV" };
        var json = new Option<bool>("--json") { Description = "Print one JSON object a line" };
        var command = new Command("sql", """
            Ask the lake a read-only question.

            Examples:
              revisit sql "select count(*), count(superheat_f) from metrics" --lake lake
              revisit sql "select finding, count(*) as readings from findings group by all order by 2 desc" --csv
              revisit sql "show tables"
            """)
        { sql, lake, csv, json };
        command.SetAction(result => Terminal.Guard(() =>
            Run(Lake.At(result.GetValue(lake)!), result.GetValue(sql)!, result.GetValue(csv) ? Csv : result.GetValue(json) ? Json : Table)));
        return command;
    }

    private static void Run(Lake lake, string sql, Action<DbDataReader> print)
    {
        for (var attempt = 1; ; attempt++)
        {
            using var session = lake.OpenSession(table => sql.Contains(table, StringComparison.OrdinalIgnoreCase));
            if (sql.Trim().TrimEnd(';').Equals("show tables", StringComparison.OrdinalIgnoreCase))
            {
                sql = "SELECT view_name AS name FROM duckdb_views() WHERE NOT internal ORDER BY 1";
            }

            if (!session.IsOneSelect(sql, out var complaint))
            {
                throw new UserError($"One SELECT is answered here{(complaint.Length > 0 ? $" ({complaint})" : "")}. The lake changes through ingest, diagnose and run.");
            }

            try
            {
                using var reader = session.Query(sql);
                print(reader);
                return;
            }
            catch (DuckDBException) when (attempt < Tries && !lake.ReadCatalog().SameAs(session.Catalog))
            {
                // The lake was published anew between opening and reading: ask the new one.
            }
            catch (DuckDBException e)
            {
                throw new UserError(e.Message);
            }
        }
    }

    private static void Table(DbDataReader reader)
    {
        var rows = new List<string[]> { Enumerable.Range(0, reader.FieldCount).Select(reader.GetName).ToArray() };
        while (reader.Read())
        {
            rows.Add([.. Enumerable.Range(0, reader.FieldCount).Select(i => Text(reader, i).ReplaceLineEndings(" "))]);
        }

        var widths = Enumerable.Range(0, reader.FieldCount).Select(i => Math.Min(60, rows.Max(r => r[i].Length))).ToArray();
        foreach (var row in rows)
        {
            Console.WriteLine(string.Join("  ", row.Select((c, i) => (c.Length > 60 ? c[..59] + "…" : c).PadRight(widths[i]))).TrimEnd());
        }
    }

    private static void Csv(DbDataReader reader)
    {
        Console.WriteLine(string.Join(',', Enumerable.Range(0, reader.FieldCount).Select(i => CsvCell.Of(reader.GetName(i)))));
        while (reader.Read())
        {
            Console.WriteLine(string.Join(',', Enumerable.Range(0, reader.FieldCount).Select(i => CsvCell.Of(Text(reader, i)))));
        }
    }

    private static void Json(DbDataReader reader)
    {
        // Columns of one name get a number, since a JSON object holds each name once.
        var names = Enumerable.Range(0, reader.FieldCount).Select(i => (Name: reader.GetName(i), Earlier: Enumerable.Range(0, i).Count(k => reader.GetName(k) == reader.GetName(i))))
            .Select(n => n.Earlier == 0 ? n.Name : $"{n.Name}_{n.Earlier + 1}").ToArray();
        var options = new JsonSerializerOptions { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };
        while (reader.Read())
        {
            Console.WriteLine(JsonSerializer.Serialize(names.Select((n, i) => (n, Value: Value(reader, i))).ToDictionary(c => c.n, c => c.Value), options));
        }
    }

    private static object? Value(DbDataReader reader, int column) => reader.IsDBNull(column) ? null : reader.GetValue(column) switch
    {
        double number => double.IsFinite(number) ? number : null,
        float number => float.IsFinite(number) ? number : null,
        System.Numerics.BigInteger whole when whole >= long.MinValue && whole <= long.MaxValue => (long)whole,
        var value when value is bool or byte or sbyte or short or ushort or int or uint or long or ulong or decimal => value,
        _ => Text(reader, column),
    };

    private static string Text(DbDataReader reader, int column) => reader.IsDBNull(column) ? "" : reader.GetValue(column) switch
    {
        DateTime moment => moment.ToString("yyyy-MM-ddTHH:mm:ssZ", CultureInfo.InvariantCulture),
        DateOnly day => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
        var value => Convert.ToString(value, CultureInfo.InvariantCulture) ?? "",
    };
}
