using System.Text;
using System.Text.Json;
using Revisit.Records;
using Revisit.Simulator.Exports;

namespace Revisit.Simulator.Tests;

public sealed class BranchExportTests
{
    private static readonly IReadOnlyList<ExportFile> Files = BranchExports.All();

    private static string Committed() => Repository.Path("synthetic-data/exports");

    /// <summary>Set REVISIT_WRITE_EXPORTS=1 to write the committed files anew; otherwise they must equal the generator's bytes.</summary>
    [Fact]
    public void CommittedFilesAreWhatTheGeneratorWrites()
    {
        if (Environment.GetEnvironmentVariable("REVISIT_WRITE_EXPORTS") == "1")
            BranchExports.WriteTo(Committed());
        Assert.Equal(Files.Select(f => f.Name).Order(StringComparer.Ordinal), Directory.GetFiles(Committed()).Select(f => Path.GetFileName(f)!).Order(StringComparer.Ordinal));
        foreach (var file in Files)
            Assert.True(File.ReadAllBytes(Path.Combine(Committed(), file.Name)).AsSpan().SequenceEqual(file.Bytes), file.Name);
    }

    [Theory]
    [InlineData("harbor.csv", new byte[] { 0xEF, 0xBB, 0xBF })]
    [InlineData("prairie.tsv", new byte[] { 0xFF, 0xFE })]
    public void ByteOrderMarksStandWhereTheBranchWritesThem(string name, byte[] mark) => Assert.True(Find(name).AsSpan().StartsWith(mark));

    [Fact]
    public void PlateauIsNotUtf8() => Assert.Throws<DecoderFallbackException>(() => new UTF8Encoding(false, true).GetString(Find("plateau.txt")));

    [Theory]
    [InlineData("harbor.csv", "wrong_number_of_fields")]
    [InlineData("plateau.txt", "bad_time")]
    [InlineData("lakeside.ndjson", "not_json")]
    [InlineData("prairie.tsv", "missing_identity")]
    public void KeysNameLinesThatExistAndKindsThatAreKnown(string name, string expected)
    {
        var key = Encoding.UTF8.GetString(Find(Path.GetFileNameWithoutExtension(name) + ".key.csv")).Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1).Select(l => l.Split(',')).ToList();
        var lines = Text(name).Split('\n').Length;
        var kinds = Codes.SetAside.Concat(Codes.Rejected).Concat(["exact_duplicate", "superseded", "later_save"]).ToHashSet();
        Assert.InRange(key.Count, 9, 14);
        Assert.All(key, k =>
        {
            Assert.InRange(int.Parse(k[0], System.Globalization.CultureInfo.InvariantCulture), 1, lines);
            Assert.True(k[1].Length == 0 || Tables.PlainColumns.Contains(k[1]), k[1]);
            Assert.Contains(k[2], kinds);
        });
        Assert.Contains(key, k => k[2] == expected);
    }

    [Fact]
    public void NestedLinesParseButForTheTwoTheKeyNames()
    {
        var broken = new List<int>();
        var lines = Text("lakeside.ndjson").Split('\n', StringSplitOptions.RemoveEmptyEntries);
        for (var i = 0; i < lines.Length; i++)
        {
            try
            {
                using var document = JsonDocument.Parse(lines[i]);
                Assert.True(document.RootElement.GetProperty("customer").TryGetProperty("phone", out _));
            }
            catch (JsonException)
            {
                broken.Add(i + 1);
            }
        }

        var keyed = Encoding.UTF8.GetString(Find("lakeside.key.csv")).Split('\n').Where(l => l.Contains("not_json", StringComparison.Ordinal) || l.Contains("not_a_data_row", StringComparison.Ordinal))
            .Select(l => int.Parse(l.Split(',')[0], System.Globalization.CultureInfo.InvariantCulture));
        Assert.Equal(keyed, broken);
    }

    [Fact]
    public void TheKeyedLineHoldsTheDirt()
    {
        // Kelvin and °F, MPa and kPa: the slipped values stand on the keyed lines and nowhere else.
        var lines = Text("prairie.tsv").Split("\r\n");
        var heading = lines[0].Split('\t').ToList();
        int out_ = heading.IndexOf("T_OUT"), liquid = heading.IndexOf("P_LIQ");
        var slipped = new List<(int Line, string Column)>();
        for (var i = 1; i < lines.Length; i++)
        {
            var cells = lines[i].Split('\t');
            if (cells.Length != heading.Count)
                continue;
            if (cells[liquid].Length > 0 && double.Parse(cells[liquid], System.Globalization.CultureInfo.InvariantCulture) > 10)
                slipped.Add((i + 1, "liquid_pressure_psig"));
            if (cells[out_].Length > 0 && double.Parse(cells[out_], System.Globalization.CultureInfo.InvariantCulture) < 200)
                slipped.Add((i + 1, "outdoor_db_f"));
        }

        var keyed = Encoding.UTF8.GetString(Find("prairie.key.csv")).Split('\n').Where(l => l.Contains("unit_slip", StringComparison.Ordinal)).Select(l => l.Split(','))
            .Select(k => (int.Parse(k[0], System.Globalization.CultureInfo.InvariantCulture), k[1]));
        Assert.Equal(keyed.Order(), slipped.Order());
    }

    private static byte[] Find(string name) => Files.Single(f => f.Name == name).Bytes;

    private static string Text(string name)
    {
        var encoding = name switch { "plateau.txt" => CodePagesEncodingProvider.Instance.GetEncoding(1252)!, "prairie.tsv" => Encoding.Unicode, _ => Encoding.UTF8 };
        return encoding.GetString(Find(name)).TrimStart('\uFEFF');
    }
}
