namespace Revisit.Ingest.Tests;

/// <summary>Exact duplicates, later saves and the order in which files come.</summary>
public class IdentityTests
{
    private static string Row(string outdoor, string savedAt = "", string visitedAt = "2026-07-14T15:00:00Z", string visit = "V1") =>
        PlainRows.Row(("visit_id", visit), ("outdoor_db_f", outdoor), ("saved_at", savedAt), ("visited_at", visitedAt));

    private static (int Read, int Accepted, int Duplicates, int Superseded, int Rejected) Counts(SourceSummary s) => (s.RowsRead, s.Accepted, s.Duplicates, s.Superseded, s.Rejected);

    private const string Early = "2026-07-14T16:00:00Z", Late = "2026-07-14T17:00:00Z";

    [Fact]
    public void Exact_duplicates_stand_once()
    {
        using var lake = new SampleLake();
        Assert.Equal((5, 2, 3, 0, 0), Counts(lake.IngestText(PlainRows.Csv(Row("88"), Row("88"), Row("90", visit: "V2"), Row("88"), Row("90", visit: "V2")))));
        Assert.Equal([["V1", "88"], ["V2", "90"]], lake.Query("SELECT visit_id, outdoor_db_f FROM readings ORDER BY 1"));
    }

    public static TheoryData<string[]> Orders => new([.. new[] { "ABC", "ACB", "BAC", "BCA", "CAB", "CBA" }.Select(o => o.Select(c => c.ToString()).ToArray())]);

    private static string Save(string which) => which switch { "A" => Row("81"), "B" => Row("82", Early), _ => Row("83", Late) };

    [Theory]
    [MemberData(nameof(Orders))]
    public void The_latest_save_wins_in_whichever_order_the_rows_stand(string[] order)
    {
        using var lake = new SampleLake();
        Assert.Equal((3, 1, 0, 2, 0), Counts(lake.IngestText(PlainRows.Csv([.. order.Select(Save)]))));
        Assert.Equal("83", lake.One("SELECT outdoor_db_f FROM readings"));
    }

    [Fact]
    public void Of_equal_saves_the_later_line_stands()
    {
        using var lake = new SampleLake();
        Assert.Equal((2, 1, 0, 1, 0), Counts(lake.IngestText(PlainRows.Csv(Row("81", Early), Row("82", Early)))));
        Assert.Equal(["82", "3"], lake.Query("SELECT outdoor_db_f, source_line FROM readings").Single());
    }

    [Fact]
    public void A_duplicate_of_a_superseded_row_is_told_from_a_superseded_one()
    {
        using var lake = new SampleLake();
        Assert.Equal((4, 1, 1, 2, 0), Counts(lake.IngestText(PlainRows.Csv(Row("81", Early), Row("81", Early), Row("82"), Row("83", Late)))));
    }

    [Fact]
    public void Another_reading_of_the_visit_and_a_space_around_an_id_are_told_apart_rightly()
    {
        using var lake = new SampleLake();
        var summary = lake.IngestText(PlainRows.Csv(PlainRows.Row(), PlainRows.Row(("reading_no", "2")), PlainRows.Row(("visit_id", " V1 ")), PlainRows.Row(("visit_id", "V11")), PlainRows.Row(("visit_id", "v1"))));
        Assert.Equal((5, 4, 1, 0, 0), Counts(summary));
    }

    private static string[] TwoFiles(SampleLake lake) =>
    [
        lake.File("first.csv", PlainRows.Csv(Row("81", Early), Row("70", visit: "V2"), Row("60", "", "2026-08-02T15:00:00Z", "V3"), "V9,1\n", PlainRows.Row(("visit_id", "V7"), ("outdoor_db_f", "hot")))),
        lake.File("second.csv", PlainRows.Csv(Row("82", Late), Row("70", visit: "V2"), Row("61", "", "2026-08-02T15:00:00Z", "V3"), Row("50", Early, "2026-09-02T15:00:00Z", "V4"), PlainRows.Row(("visit_id", "V7"), ("outdoor_db_f", "hot")))),
    ];

    [Fact]
    public void Two_files_give_the_same_bytes_in_either_order_and_together()
    {
        var lakes = new List<SortedDictionary<string, string>>();
        foreach (var order in (int[][])[[0, 1], [1, 0]])
        {
            using var oneByOne = new SampleLake();
            var files = TwoFiles(oneByOne);
            _ = oneByOne.Ingest(null, files[order[0]]);
            _ = oneByOne.Ingest(null, files[order[1]]);
            Assert.Equal(["50", "82"], oneByOne.Query("SELECT outdoor_db_f FROM readings WHERE visit_id IN ('V1', 'V4') ORDER BY 1").Select(r => r[0]));
            lakes.Add(oneByOne.Bytes());
            using var together = new SampleLake();
            files = TwoFiles(together);
            var summaries = together.Ingest(null, files[order[0]], files[order[1]]);
            Assert.Equal(10, summaries.Sum(s => s.RowsRead));
            Assert.Equal((5, 2, 2, 1), (summaries.Sum(s => s.Accepted), summaries.Sum(s => s.Duplicates), summaries.Sum(s => s.Superseded), summaries.Sum(s => s.Rejected)));
            lakes.Add(together.Bytes());
        }

        Assert.All(lakes, l => Assert.Equal(lakes[0], l));
        Assert.Contains(lakes[0].Keys, k => k.EndsWith("catalog.json", StringComparison.Ordinal));
    }

    [Fact]
    public void The_same_input_twice_is_held_already_and_changes_no_byte()
    {
        using var lake = new SampleLake();
        var files = TwoFiles(lake);
        var first = lake.Ingest(null, files);
        Assert.All(first, s => Assert.False(s.HeldAlready));
        var before = lake.Bytes();
        var again = lake.Ingest(null, files);
        Assert.All(again, s => Assert.True(s.HeldAlready));
        Assert.Equal(first.Select(Counts), again.Select(Counts));
        Assert.Equal(before, lake.Bytes());
        Assert.Contains(lake.Messages, m => m.Contains("held already", StringComparison.Ordinal));
    }

    [Fact]
    public void The_same_bytes_under_another_name_are_held_already()
    {
        using var lake = new SampleLake();
        _ = lake.IngestText(PlainRows.Csv(Row("81")));
        var before = lake.Bytes();
        Assert.True(lake.IngestText(PlainRows.Csv(Row("81")), "renamed.csv").HeldAlready);
        Assert.Equal(before, lake.Bytes());
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_save_that_moves_the_visit_to_another_month_leaves_nothing_in_the_old_one(bool oldFirst)
    {
        using var lake = new SampleLake();
        var old = lake.File("old.csv", PlainRows.Csv(Row("81", Early)));
        var moved = lake.File("new.csv", PlainRows.Csv(Row("82", Late, "2026-08-14T15:00:00Z")));
        _ = lake.Ingest(null, oldFirst ? old : moved);
        _ = lake.Ingest(null, oldFirst ? moved : old);
        Assert.Equal(["82", "2026-08-14"], lake.Query("SELECT outdoor_db_f, visited_on FROM readings").Single());
        Assert.Equal(["2026-08-14", "1"], lake.Query("SELECT visited_on, readings FROM visits").Single());
        Assert.Equal(["2026-08-14", "2026-08-14"], lake.Query("SELECT first_visited_on, last_visited_on FROM installs").Single());
        Assert.Equal([["new.csv", "1", "0"], ["old.csv", "0", "1"]], lake.Query("SELECT source_name, rows_accepted, rows_superseded FROM sources ORDER BY 1"));
    }

    [Fact]
    public void Values_set_aside_in_a_superseded_row_do_not_count()
    {
        using var lake = new SampleLake();
        var summary = lake.IngestText(PlainRows.Csv(Row("warm", Early), Row("82", Late)));
        Assert.Equal((0, "0"), (summary.SetAside, lake.One("SELECT count(*) FROM set_aside_values")));
    }

    [Fact]
    public void A_file_of_many_rows_gives_the_same_bytes_every_time()
    {
        var rows = Enumerable.Range(0, 9_000).Select(n => n % 700 == 5 ? "short,row\n" : Row((60 + n % 50).ToString(System.Globalization.CultureInfo.InvariantCulture), visit: $"V{n % 6_000}", visitedAt: $"2026-0{1 + n % 3}-14T15:00:00Z")).ToArray();
        using var one = new SampleLake();
        using var other = new SampleLake();
        Assert.Equal(9_000, one.IngestText(PlainRows.Csv(rows)).RowsRead);
        _ = other.IngestText(PlainRows.Csv(rows));
        Assert.Equal(one.Bytes(), other.Bytes());
        using var shorter = new SampleLake();
        _ = shorter.IngestText(PlainRows.Csv(rows[..^1]));
        Assert.NotEqual(one.Bytes(), shorter.Bytes());
    }
}
