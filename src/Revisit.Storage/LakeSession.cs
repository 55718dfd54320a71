using System.Data.Common;
using System.Text.Json;
using DuckDB.NET.Data;
using Revisit.Records;

namespace Revisit.Storage;

/// <summary>
/// An in-memory DuckDB session with a view for each table of the lake. It reads the lake's folder and nothing else,
/// and its time zone is UTC. Not for use from several threads at once.
/// </summary>
public sealed partial class LakeSession : IDisposable
{
    private readonly DuckDBConnection connection;
    private readonly string folder;

    internal LakeSession(string folder, Catalog catalog, bool keepsOrder = true)
    {
        this.folder = folder;
        Catalog = catalog;
        connection = new DuckDBConnection("DataSource=:memory:");
        connection.Open();
        try
        {
            Prepare(catalog, keepsOrder);
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    private LakeSession(LakeSession beside)
    {
        (folder, Catalog) = (beside.folder, beside.Catalog);
        connection = beside.connection.Duplicate();
        connection.Open();
    }

    private void Prepare(Catalog catalog, bool keepsOrder)
    {
        // The folder is looked up under its name and, where that holds marks of a pattern, as it is written to be found.
        Execute($"SET allowed_directories = [{Literal(folder)}, {FileLiteral(folder)}]; SET enable_external_access = false; SET GLOBAL TimeZone = 'UTC'; SET parquet_metadata_cache = true; SET preserve_insertion_order = {(keepsOrder ? "true" : "false")};");
        foreach (var table in catalog.Entries.Where(e => e.IsTable).GroupBy(e => e.Table))
        {
            var files = string.Join(", ", table.Select(e => FileLiteral(Path.Combine(folder, e.File))));
            Execute($"CREATE VIEW {Name(table.Key)} AS SELECT * FROM read_parquet([{files}])");
        }

        foreach (var table in Tables.All.Where(t => !catalog.Of(t.Name).Any()))
        {
            var columns = string.Join(", ", table.Terms.Select(t => $"CAST(NULL AS {SqlType(t.Kind)}) AS {Name(t.Name)}"));
            Execute($"CREATE VIEW {Name(table.Name)} AS SELECT {columns} WHERE false");
        }

        Execute("SET lock_configuration = true");
    }

    /// <summary>The catalog this session reads.</summary>
    public Catalog Catalog { get; }

    /// <summary>Another session over the same views and tables, for another thread; dispose of it before this one.</summary>
    public LakeSession Beside() => new(this);

    /// <summary>The content of an entry that is not a table.</summary>
    /// <exception cref="UserError">It is not as it was written.</exception>
    public byte[] Bytes(CatalogEntry entry)
    {
        new CheckedFiles(folder).MustBeSound(entry);
        return File.ReadAllBytes(Path.Combine(folder, entry.File));
    }

    /// <summary>The SQL type of a kind of column.</summary>
    public static string SqlType(ColumnKind kind) => kind switch
    {
        ColumnKind.Text => "VARCHAR",
        ColumnKind.Whole => "INTEGER",
        ColumnKind.Number => "DOUBLE",
        ColumnKind.Day => "DATE",
        _ => "TIMESTAMPTZ",
    };

    /// <summary>Runs a statement that gives no rows.</summary>
    public void Execute(string sql)
    {
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }

    /// <summary>Opens a reader over a query; <paramref name="arguments"/> fill $1, $2, ….</summary>
    public DbDataReader Query(string sql, params object?[] arguments)
    {
        var command = connection.CreateCommand();
        command.CommandText = sql;
        foreach (var argument in arguments)
        {
            command.Parameters.Add(new DuckDBParameter(argument ?? DBNull.Value));
        }

        return command.ExecuteReader();
    }

    /// <summary>Functions that give rows and do nothing else. Others write logs, switch settings, or run text that was not looked at.</summary>
    private static readonly string[] Harmless = ["unnest", "range", "generate_series", "json_each", "json_tree", "duckdb_columns", "duckdb_views", "duckdb_tables", "duckdb_functions", "duckdb_types", "pragma_table_info"];

    /// <summary>Functions of values that leave something behind.</summary>
    private static readonly string[] Harmful = ["write_log", "nextval", "getenv"];

    /// <summary>Whether a text is one SELECT statement and nothing else, and calls nothing that does more than answer.</summary>
    public bool IsOneSelect(string sql, out string complaint)
    {
        using var reader = Query("""
            SELECT json_extract_string(j, '$.error'), json_extract_string(j, '$.error_message'), coalesce(json_array_length(j, '$.statements'), 0), CAST(j AS VARCHAR)
            FROM (SELECT json_serialize_sql(CAST($1 AS VARCHAR)) AS j)
            """, sql);
        reader.Read();
        var statements = Convert.ToInt64(reader.GetValue(2), System.Globalization.CultureInfo.InvariantCulture);
        complaint = reader.IsDBNull(1) ? statements == 1 ? "" : $"{statements} statements" : reader.GetString(1);
        if (reader.GetString(0) != "false" || statements != 1)
        {
            return false;
        }

        using var tree = JsonDocument.Parse(reader.GetString(3), new JsonDocumentOptions { MaxDepth = 2_000 });
        complaint = Functions(tree.RootElement, ofRows: false).FirstOrDefault(f => f.OfRows ? !Harmless.Contains(f.Name) : Harmful.Contains(f.Name)) is { Name: { } name } ? $"the function '{name}' is not taken" : "";
        return complaint.Length == 0;
    }

    /// <summary>The functions that a parsed statement calls, and whether each stands where a table does.</summary>
    private static IEnumerable<(string Name, bool OfRows)> Functions(JsonElement node, bool ofRows)
    {
        if (node.ValueKind == JsonValueKind.Array)
        {
            return node.EnumerateArray().SelectMany(e => Functions(e, false));
        }

        if (node.ValueKind != JsonValueKind.Object)
        {
            return [];
        }

        var table = node.TryGetProperty("type", out var type) && type.ValueKind == JsonValueKind.String && type.GetString() == "TABLE_FUNCTION";
        var own = node.TryGetProperty("function_name", out var name) && name.ValueKind == JsonValueKind.String ? new[] { (name.GetString()!.ToLowerInvariant(), ofRows) } : [];
        return own.Concat(node.EnumerateObject().SelectMany(p => Functions(p.Value, table && p.Name == "function")));
    }

    /// <summary>
    /// Runs a query and keeps its rows in the shape of a table: columns are matched by name, extra ones are ignored,
    /// missing ones are left empty. Order the query where order matters.
    /// </summary>
    public Batch Read(TableContract table, string sql, params object?[] arguments)
    {
        using var reader = Query(sql, arguments);
        var columns = Enumerable.Range(0, reader.FieldCount)
            .Select(i => (Source: i, Name: reader.GetName(i)))
            .Where(c => table.Columns.Contains(c.Name))
            .Select(c => (Target: table.IndexOf(c.Name), Gathered: Gather(reader, c.Source, table.Terms[table.IndexOf(c.Name)].Kind)))
            .ToArray();
        var rows = 0;
        for (; reader.Read(); rows++)
        {
            foreach (var (_, gathered) in columns)
            {
                gathered.Add();
            }
        }

        var batch = new Batch(table, rows);
        foreach (var (target, gathered) in columns)
        {
            gathered.Fill(batch.At(target));
        }

        return batch;
    }

    public void Dispose() => connection.Dispose();

    /// <summary>A text as an SQL string literal.</summary>
    public static string Literal(string text) => "'" + text.Replace("'", "''", StringComparison.Ordinal) + "'";

    /// <summary>A path as an SQL string literal for the functions that read files: the marks of a pattern stand for themselves.</summary>
    public static string FileLiteral(string path) => Literal(Marks().Replace(path, "[$0]"));

    /// <summary>A name as a quoted SQL identifier.</summary>
    public static string Name(string name) => "\"" + name.Replace("\"", "\"\"", StringComparison.Ordinal) + "\"";

    [System.Text.RegularExpressions.GeneratedRegex(@"[*?\[]")]
    private static partial System.Text.RegularExpressions.Regex Marks();

    /// <summary>Takes a column's value of each row, without a box where the query gives the very type.</summary>
    private static (Action Add, Action<Array> Fill) Gather(DbDataReader reader, int column, ColumnKind kind)
    {
        var (type, culture) = (reader.GetFieldType(column), System.Globalization.CultureInfo.InvariantCulture);
        (Action, Action<Array>) Into<T>(T missing, Func<T> value)
        {
            var values = new List<T>();
            return (() => values.Add(reader.IsDBNull(column) ? missing : value()), target => values.CopyTo((T[])target));
        }

        return kind switch
        {
            ColumnKind.Text when type == typeof(string) => Into<string?>(null, () => reader.GetString(column)),
            ColumnKind.Text => Into<string?>(null, () => Convert.ToString(reader.GetValue(column), culture)),
            ColumnKind.Whole when type == typeof(int) => Into<int?>(null, () => reader.GetInt32(column)),
            ColumnKind.Whole => Into<int?>(null, () => Convert.ToInt32(reader.GetValue(column), culture)),
            ColumnKind.Number when type == typeof(double) => Into(double.NaN, () => reader.GetDouble(column)),
            ColumnKind.Number => Into(double.NaN, () => Convert.ToDouble(reader.GetValue(column), culture)),
            ColumnKind.Day => Into<DateOnly?>(null, () => reader.GetFieldValue<DateOnly>(column)),
            _ => Into<DateTime?>(null, () => DateTime.SpecifyKind(reader.GetDateTime(column), DateTimeKind.Utc)),
        };
    }
}
