using Revisit.Records;

namespace Revisit.Storage.Tests;

public sealed class LakeTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("revisit-lake-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    private static Batch Readings(params (string Visit, double Outdoor, DateTime At)[] rows)
    {
        var batch = new Batch(Tables.Readings, rows.Length);
        for (var i = 0; i < rows.Length; i++)
        {
            batch.Text("visit_id")[i] = rows[i].Visit;
            batch.Whole("reading_no")[i] = 1;
            batch.Number("outdoor_db_f")[i] = rows[i].Outdoor;
            batch.Instant("visited_at")[i] = rows[i].At;
            batch.Day("visited_on")[i] = DateOnly.FromDateTime(rows[i].At);
        }

        return batch;
    }

    private static readonly DateTime Noon = new(2026, 3, 8, 12, 0, 0, DateTimeKind.Utc);

    [Fact]
    public void What_is_put_comes_back_from_the_file_and_from_SQL()
    {
        var lake = Lake.At(folder);
        using (var publication = lake.BeginPublication())
        {
            var entry = publication.Put(Tables.Readings, "2026-03", [Readings(("V1", 88.5, Noon), ("V2", double.NaN, Noon.AddMinutes(1)))]);
            publication.Commit();
            var back = ParquetTable.Read(publication.PathOf(entry), Tables.Readings);
            Assert.Equal(new string?[] { "V1", "V2" }, back.Text("visit_id"));
            Assert.Equal([88.5, double.NaN], back.Number("outdoor_db_f"));
            Assert.Equal(Noon, back.Instant("visited_at")[0]!.Value.ToUniversalTime());
            Assert.Equal(new DateOnly(2026, 3, 8), back.Day("visited_on")[1]);
        }

        using var session = lake.OpenSession();
        var read = session.Read(Tables.Readings, "SELECT * FROM readings ORDER BY visit_id");
        Assert.Equal([88.5, double.NaN], read.Number("outdoor_db_f"));
        Assert.Equal(Noon, read.Instant("visited_at")[0]);
    }

    [Fact]
    public void Filters_on_instants_find_their_rows()
    {
        // A library bug gives finer timestamps wrong statistics, and readers then drop every row.
        var lake = Lake.At(folder);
        using (var publication = lake.BeginPublication())
        {
            publication.Put(Tables.Readings, "2026-03", [Readings([.. Enumerable.Range(0, 1000).Select(i => ($"V{i}", 70.0, Noon.AddMinutes(i)))])]);
            publication.Commit();
        }

        using var session = lake.OpenSession();
        using var reader = session.Query("SELECT count(*) FROM readings WHERE visited_at >= TIMESTAMPTZ '2026-03-08 12:10:00+00' AND visited_at < TIMESTAMPTZ '2026-03-08 12:20:00+00'");
        reader.Read();
        Assert.Equal(10, reader.GetInt64(0));
    }

    [Fact]
    public void Missing_numbers_are_null_not_NaN()
    {
        var lake = Lake.At(folder);
        using (var publication = lake.BeginPublication())
        {
            publication.Put(Tables.Readings, "2026-03", [Readings(("V1", double.NaN, Noon), ("V2", double.PositiveInfinity, Noon))]);
            publication.Commit();
        }

        using var session = lake.OpenSession();
        using var reader = session.Query("SELECT count(*) FROM readings WHERE outdoor_db_f > 10");
        reader.Read();
        Assert.Equal(0, reader.GetInt64(0));
    }

    [Fact]
    public void Nothing_is_visible_before_the_commit_and_same_input_gives_same_bytes()
    {
        var lake = Lake.At(folder);
        using (var publication = lake.BeginPublication())
        {
            publication.Put(Tables.Readings, "2026-03", [Readings(("V1", 80, Noon))]);
            Assert.Empty(lake.ReadCatalog().Entries);
            publication.Commit();
        }

        var first = File.ReadAllBytes(Path.Combine(folder, Catalog.FileName));
        using (var publication = lake.BeginPublication())
        {
            publication.Put(Tables.Readings, "2026-03", [Readings(("V1", 80, Noon))]);
            publication.Commit();
        }

        Assert.Equal(first, File.ReadAllBytes(Path.Combine(folder, Catalog.FileName)));
        Assert.Single(Directory.GetFiles(Path.Combine(folder, "readings")));
    }

    [Fact]
    public void Files_of_a_dead_run_are_removed_by_the_next_commit()
    {
        var lake = Lake.At(folder);
        using (var publication = lake.BeginPublication())
        {
            publication.Put(Tables.Readings, "2026-03", [Readings(("V1", 80, Noon))]);
            publication.Commit();
        }

        using (var dead = lake.BeginPublication())
        {
            dead.Put(Tables.Readings, "2026-03", [Readings(("V9", 80, Noon))]);
        }

        Assert.Equal(2, Directory.GetFiles(Path.Combine(folder, "readings")).Length);
        using var session = lake.OpenSession();
        Assert.Equal("V1", session.Read(Tables.Readings, "SELECT * FROM readings").Text("visit_id")[0]);
        using (var next = lake.BeginPublication())
        {
            next.Commit();
        }

        Assert.Single(Directory.GetFiles(Path.Combine(folder, "readings")));
    }

    [Fact]
    public void A_second_writer_is_told_to_wait()
    {
        var lake = Lake.At(folder);
        using var first = lake.BeginPublication();
        var error = Assert.Throws<UserError>(() => lake.BeginPublication());
        Assert.Contains("Another run is working", error.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("SELECT 1", true)]
    [InlineData("WITH a AS (SELECT 1) SELECT * FROM a", true)]
    [InlineData("COPY (SELECT 1) TO 'x.csv'", false)]
    [InlineData("SELECT 1; DROP VIEW readings", false)]
    [InlineData("SELECT 1; SELECT 2", false)]
    [InlineData("", false)]
    [InlineData("CREATE TABLE x AS SELECT 1", false)]
    public void Only_one_select_passes(string sql, bool expected)
    {
        using (var publication = Lake.At(folder).BeginPublication())
        {
            publication.Commit();
        }

        using var session = Lake.At(folder).OpenSession();
        Assert.Equal(expected, session.IsOneSelect(sql, out _));
    }

    [Fact]
    public void A_session_cannot_read_outside_its_lake()
    {
        var outside = Path.Combine(Path.GetTempPath(), $"revisit-outside-{Guid.NewGuid():N}.csv");
        File.WriteAllText(outside, "a\n1\n");
        try
        {
            using (var publication = Lake.At(folder).BeginPublication())
            {
                publication.Commit();
            }

            using var session = Lake.At(folder).OpenSession();
            Assert.ThrowsAny<Exception>(() => session.Query($"SELECT * FROM read_csv({LakeSession.Literal(outside)})"));
        }
        finally
        {
            File.Delete(outside);
        }
    }
}
