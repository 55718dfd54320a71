using System.Globalization;

namespace Revisit.Diagnosis.Tests;

/// <summary>Superheat and subcooling against rows whose saturation lines are published (citations in the file's header).</summary>
public sealed class PublishedSuperheatTests
{
    public static TheoryData<string> Rows() => [.. Lines()];

    private static List<string> Lines() =>
        [.. File.ReadLines(Path.Combine(AppContext.BaseDirectory, "Published", "superheat_subcooling_rows.csv")).Where(l => l.Length > 0 && l[0] != '#').Skip(1)];

    [Fact]
    public void The_file_holds_six_refrigerants_and_thirty_rows()
    {
        var rows = Lines();
        Assert.Equal(30, rows.Count);
        Assert.Equal(6, rows.Select(r => r.Split(',')[0]).Distinct().Count());
    }

    [Theory]
    [MemberData(nameof(Rows))]
    public void Superheat_and_subcooling_are_the_published_ones(string row)
    {
        var f = row.Split(',');
        double At(int i) => double.Parse(f[i], CultureInfo.InvariantCulture);
        var m = Worked.Metrics(new ReadingInputs
        {
            Refrigerant = f[0],
            Elevation = At(1),
            SuctionPressure = At(2),
            SuctionLine = At(3),
            LiquidPressure = At(4),
            LiquidLine = At(5),
        });

        // The file's own accuracy: 0.1 °F, and 0.01 °F where the source is the model under test.
        var tolerance = f[10] == "BB" ? 0.01 : 0.1;
        Assert.Equal(At(8), m[MetricId.Superheat].Value, tolerance);
        Assert.Equal(At(9), m[MetricId.Subcooling].Value, tolerance);
    }
}
