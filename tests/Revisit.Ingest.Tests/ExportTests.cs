namespace Revisit.Ingest.Tests;

/// <summary>The committed exports, taken in with their profiles, against the keys that say what was put into them.</summary>
public class ExportTests
{
    /// <summary>Reasons that name one cause only; for the others any reason that fits the number is right.</summary>
    private static readonly string[] Definite = ["wet_bulb_over_dry_bulb", "pressures_crossed", "supply_return_crossed", "not_a_number", "unknown_code"];

    private static readonly string[] Slips = ["unit_slip", "decimal_slip", "out_of_range"];

    private static List<(int Line, string Column, string Kind)> Key(string export) =>
        [.. File.ReadLines(Path.Combine(SampleLake.Repository, "synthetic-data", "exports", export + ".key.csv")).Skip(1).Select(l => l.Split(','))
            .Select(c => (int.Parse(c[0], System.Globalization.CultureInfo.InvariantCulture), c[1], c[2]))];

    private static (SourceSummary Summary, List<string[]> Aside, List<string[]> Rejected) Ingest(string export, string extension)
    {
        using var lake = new SampleLake();
        var profile = ProfileReader.Read(Path.Combine(SampleLake.Repository, "pipelines", "sources", export + ".yaml"));
        var summary = lake.Ingest(profile, Path.Combine(SampleLake.Repository, "synthetic-data", "exports", export + extension)).Single();
        return (summary, lake.Query("SELECT source_line, column_name, set_aside_reason FROM set_aside_values ORDER BY 1, 2"), lake.Query("SELECT source_line, rejected_reason FROM rejected_rows ORDER BY 1"));
    }

    [Theory]
    [InlineData("harbor", ".csv")]
    [InlineData("plateau", ".txt")]
    [InlineData("prairie", ".tsv")]
    [InlineData("lakeside", ".ndjson")]
    public void Counts_and_values_set_aside_agree_with_the_key(string export, string extension)
    {
        var key = Key(export);
        var (summary, aside, rejected) = Ingest(export, extension);
        var values = key.Where(k => k.Column.Length > 0 && (Definite.Contains(k.Kind) || Slips.Contains(k.Kind))).ToList();
        var wholeRows = key.Where(k => k.Kind is not ("exact_duplicate" or "superseded" or "later_save")).Except(values).ToList();
        Assert.True(values.Count >= 6 && wholeRows.Count >= 2, $"{values.Count} values and {wholeRows.Count} rows in the key");

        Assert.Equal(key.Count(k => k.Kind == "exact_duplicate"), summary.Duplicates);
        Assert.Equal(key.Count(k => k.Kind == "superseded"), summary.Superseded);
        Assert.Equal(wholeRows.Select(k => Text(k.Line)), rejected.OrderBy(r => int.Parse(r[0], System.Globalization.CultureInfo.InvariantCulture)).Select(r => r[0]));
        Assert.All(wholeRows.Where(k => k.Kind != "not_a_data_row"), k => Assert.Contains(rejected, r => r[0] == Text(k.Line) && r[1] == k.Kind));

        // Of a wet and a dry bulb that were swapped only the wet bulb must go: which of the two is wrong cannot be seen.
        var must = values.Where(k => !(k.Kind == "wet_bulb_over_dry_bulb" && k.Column.EndsWith("_db_f", StringComparison.Ordinal)));
        Assert.All(must, k => Assert.Contains(aside, a => a[0] == Text(k.Line) && a[1] == k.Column && (a[2] == k.Kind || (Slips.Contains(k.Kind) && Slips.Contains(a[2])))));
        Assert.All(aside, a => Assert.Contains(values, k => a[0] == Text(k.Line) && a[1] == k.Column));
    }

    private static string Text(int number) => number.ToString(System.Globalization.CultureInfo.InvariantCulture);
}
