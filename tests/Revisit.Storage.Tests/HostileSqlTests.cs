using DuckDB.NET.Data;
using Revisit.Records;

namespace Revisit.Storage.Tests;

/// <summary>What SQL could be asked to do besides answering from the tables of the lake: write, read elsewhere, fetch, change settings, tell of the machine.</summary>
public sealed class HostileSqlTests : IDisposable
{
    private const string Secret = "told-nobody-5150";
    private readonly string outside = Directory.CreateTempSubdirectory("revisit-outside-").FullName;
    private readonly Lake lake;

    public HostileSqlTests()
    {
        lake = Lake.At(Path.Combine(outside, "lake"));
        using var publication = lake.BeginPublication();
        publication.Put(Tables.Visits, "2026-03", [new Batch(Tables.Visits, 1)]);
        publication.Commit();
        File.WriteAllText(Path.Combine(outside, "secret.csv"), $"a\n{Secret}\n");
        File.WriteAllText(Path.Combine(outside, "secret.json"), $$"""{"a":"{{Secret}}"}""");
        File.Copy(Directory.GetFiles(Path.Combine(lake.Folder, "visits"))[0], Path.Combine(outside, "secret.parquet"));
        File.CreateSymbolicLink(Path.Combine(outside, "link.csv"), Path.Combine(outside, "secret.csv"));
    }

    public void Dispose() => Directory.Delete(outside, recursive: true);

    [Theory]
    [InlineData("COPY (SELECT 1) TO '{at}/out.csv'")]
    [InlineData("COPY visits FROM '{at}/secret.csv'")]
    [InlineData("EXPORT DATABASE '{at}/out'")]
    [InlineData("IMPORT DATABASE '{at}'")]
    [InlineData("ATTACH '{at}/out.db'")]
    [InlineData("DETACH memory")]
    [InlineData("USE memory")]
    [InlineData("INSTALL httpfs")]
    [InlineData("LOAD httpfs")]
    [InlineData("FORCE INSTALL httpfs FROM '{at}'")]
    [InlineData("SET enable_external_access = true")]
    [InlineData("SET lock_configuration = false")]
    [InlineData("RESET allowed_directories")]
    [InlineData("PRAGMA enable_external_access = true")]
    [InlineData("PRAGMA database_list")]
    [InlineData("CREATE TABLE x AS SELECT 1")]
    [InlineData("CREATE SECRET s (TYPE s3)")]
    [InlineData("CREATE MACRO f() AS 1")]
    [InlineData("CREATE OR REPLACE VIEW readings AS SELECT 1")]
    [InlineData("DROP VIEW readings")]
    [InlineData("INSERT INTO visits VALUES (1)")]
    [InlineData("UPDATE visits SET readings = 1")]
    [InlineData("DELETE FROM visits")]
    [InlineData("ALTER TABLE visits ADD COLUMN x INT")]
    [InlineData("CALL pragma_version()")]
    [InlineData("EXPLAIN ANALYZE SELECT 1")]
    [InlineData("PREPARE p AS SELECT 1")]
    [InlineData("CHECKPOINT")]
    [InlineData("VACUUM")]
    [InlineData("BEGIN")]
    [InlineData("SELECT 1; COPY (SELECT 1) TO '{at}/out.csv'")]
    [InlineData("SELECT 1 /* ; */ ; ATTACH '{at}/out.db' --")]
    [InlineData("SELECT * FROM read_csv('{at}/secret.csv')")]
    [InlineData("SELECT * FROM '{at}/secret.csv'")]
    [InlineData("SELECT * FROM \"{at}/secret.csv\"")]
    [InlineData("SELECT * FROM '{at}/link.csv'")]
    [InlineData("SELECT * FROM read_csv('{at}/lake/../secret.csv')")]
    [InlineData("SELECT * FROM read_csv('{at}/lake/visits/../../secret.csv')")]
    [InlineData("SELECT * FROM read_csv('{at}/lake-other.csv')")]
    [InlineData("SELECT * FROM read_csv('/etc/passwd', header = false)")]
    [InlineData("SELECT * FROM read_csv(['{at}/secret.csv'])")]
    [InlineData("SELECT * FROM read_csv_auto('{at}/sec*.csv')")]
    [InlineData("SELECT * FROM sniff_csv('{at}/secret.csv')")]
    [InlineData("SELECT * FROM read_text('/etc/passwd')")]
    [InlineData("SELECT * FROM read_text('{at}/secret.csv')")]
    [InlineData("SELECT * FROM read_blob('{at}/secret.csv')")]
    [InlineData("SELECT * FROM read_json('{at}/secret.json')")]
    [InlineData("SELECT * FROM read_json_objects('{at}/secret.json')")]
    [InlineData("SELECT * FROM read_ndjson('{at}/secret.json')")]
    [InlineData("SELECT * FROM read_parquet('{at}/secret.parquet')")]
    [InlineData("SELECT * FROM parquet_scan('{at}/secret.parquet')")]
    [InlineData("SELECT * FROM parquet_metadata('{at}/secret.parquet')")]
    [InlineData("SELECT * FROM parquet_schema('{at}/secret.parquet')")]
    [InlineData("SELECT * FROM parquet_kv_metadata('{at}/secret.parquet')")]
    [InlineData("SELECT * FROM glob('/etc/*')")]
    [InlineData("SELECT * FROM glob('{at}/*')")]
    [InlineData("SELECT * FROM read_csv('https://127.0.0.1:9/x.csv')")]
    [InlineData("SELECT * FROM read_parquet('s3://bucket/x.parquet')")]
    [InlineData("SELECT * FROM read_csv('/proc/self/environ', header = false, delim = '\t')")]
    [InlineData("SELECT * FROM query('COPY (SELECT 1) TO ''{at}/out.csv''')")]
    [InlineData("SELECT * FROM query('SELECT * FROM read_csv(''{at}/secret.csv'')')")]
    [InlineData("SELECT * FROM query_table('{at}/secret.csv')")]
    [InlineData("SELECT * FROM json_execute_serialized_sql(json_serialize_sql('SELECT * FROM read_csv(''{at}/secret.csv'')'))")]
    [InlineData("SELECT getenv('REVISIT_TEST_SECRET')")]
    [InlineData("SELECT * FROM enable_logging(storage = 'file', storage_path = '{at}/out')")]
    [InlineData("SELECT * FROM enable_profiling()")]
    [InlineData("SELECT (SELECT max(1) FROM Enable_Logging())")]
    [InlineData("WITH t AS (SELECT * FROM query('SELECT * FROM enable_logging()')) SELECT * FROM t")]
    [InlineData("SELECT write_log('x')")]
    [InlineData("SELECT * FROM sqlite_scan('{at}/out.db', 't')")]
    [InlineData("SELECT * FROM force_checkpoint()")]
    [InlineData("SELECT load_aws_credentials()")]
    [InlineData("WITH t AS (DELETE FROM visits RETURNING *) SELECT * FROM t")]
    public void Is_refused(string sql)
    {
        Environment.SetEnvironmentVariable("REVISIT_TEST_SECRET", Secret);
        var before = Everything();
        using var session = lake.OpenSession();
        sql = sql.Replace("{at}", outside, StringComparison.Ordinal);
        Exception? refused = null;
        var answer = "";
        if (session.IsOneSelect(sql, out _))
        {
            refused = Record.Exception(() =>
            {
                using var reader = session.Query(sql);
                while (reader.Read())
                {
                    answer += string.Join(",", Enumerable.Range(0, reader.FieldCount).Select(reader.GetValue)) + "\n";
                }
            });
            Assert.True(refused is DuckDBException, $"answered with:\n{answer}\n{refused}");
            Assert.DoesNotContain(Secret, refused.Message, StringComparison.Ordinal);
            Assert.DoesNotContain("root:", refused.Message, StringComparison.Ordinal);
        }

        Assert.Equal(before, Everything());

        // The session answers on, and from the same tables.
        using var after = session.Query("SELECT count(*) FROM visits");
        Assert.True(after.Read() && after.GetInt64(0) == 1);
    }

    [Theory]
    [InlineData("SELECT count(*) FROM visits")]
    [InlineData("FROM visits")]
    [InlineData("WITH RECURSIVE t(n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM t WHERE n < 9) SELECT max(n) FROM t")]
    public void An_honest_question_is_answered(string sql)
    {
        using var session = lake.OpenSession();
        Assert.True(session.IsOneSelect(sql, out _));
        using var reader = session.Query(sql);
        Assert.True(reader.Read());
    }

    [Fact]
    public void What_a_name_holds_is_never_run()
    {
        string[] names = ["'; DROP VIEW visits; --", "\"; DROP VIEW visits; --", "$1", "?", "a'b\"c", "\\'", "x') UNION SELECT 'y", "*", "NULL"];
        var batch = new Batch(Tables.Visits, names.Length);
        for (var i = 0; i < names.Length; i++)
        {
            batch.Text("visit_id")[i] = $"V{i}";
            batch.Text("crew_id")[i] = names[i];
        }

        using (var publication = lake.BeginPublication())
        {
            publication.Put(Tables.Visits, "2026-03", [batch]);
            publication.Commit();
        }

        using var session = lake.OpenSession();
        Assert.All(names, name =>
        {
            foreach (var sql in new[] { "SELECT count(*) FROM visits WHERE crew_id = $1", $"SELECT count(*) FROM visits WHERE crew_id = {LakeSession.Literal(name)}" })
            {
                using var reader = sql.Contains("$1", StringComparison.Ordinal) && !sql.Contains("'", StringComparison.Ordinal) ? session.Query(sql, name) : session.Query(sql);
                Assert.True(reader.Read() && reader.GetInt64(0) == 1, name);
            }
        });
    }

    [Theory]
    [InlineData("../../etc/passwd")]
    [InlineData("/etc/passwd")]
    [InlineData("visits/../../secret.parquet")]
    [InlineData("readings/x.parquet")]
    [InlineData("visits/a/b.parquet")]
    [InlineData("visits\\..\\secret.parquet")]
    public void A_catalog_that_names_a_file_elsewhere_is_refused(string file)
    {
        var text = $$"""[{"table":"visits","partition":"all","file":"{{file.Replace("\\", "\\\\", StringComparison.Ordinal)}}","rows":1,"sha256":"00","made_from":""}]""";
        File.WriteAllText(Path.Combine(lake.Folder, Catalog.FileName), text);
        Assert.Contains("does not lie in the lake", Assert.Throws<UserError>(() => lake.OpenSession()).Message, StringComparison.Ordinal);
        Assert.Contains("does not lie in the lake", Assert.Throws<UserError>(() => lake.BeginPublication()).Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("")]
    [InlineData("null")]
    [InlineData("[null]")]
    [InlineData("[{}]")]
    [InlineData("{")]
    [InlineData("[{\"table\":\"a\",\"partition\":\"all\",\"file\":\"a/b\",\"rows\":\"many\",\"sha256\":\"\",\"made_from\":\"\"}]")]
    public void A_damaged_catalog_is_said(string text)
    {
        File.WriteAllText(Path.Combine(lake.Folder, Catalog.FileName), text);
        Assert.Contains("is not a catalog", Assert.Throws<UserError>(() => lake.OpenSession()).Message, StringComparison.Ordinal);
    }

    private string[] Everything() => [.. Directory.EnumerateFileSystemEntries(outside, "*", SearchOption.AllDirectories).Order(StringComparer.Ordinal)];
}
