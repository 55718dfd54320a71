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
        Assert.InRange(key.Count, 14, 24);
        Assert.All(key, k =>
        {
            Assert.InRange(int.Parse(k[0], System.Globalization.CultureInfo.InvariantCulture), 1, lines);
            Assert.True(k[1].Length == 0 || Tables.PlainColumns.Contains(k[1]), k[1]);
            Assert.Contains(k[2], kinds);
        });
        Assert.Contains(key, k => k[2] == expected);
    }

    /// <summary>A fleet as branch exports: every reading in one of them, dirt near the set share, keyed on the line that bears it.</summary>
    [Fact]
    public void AFleetIsWrittenWithDirtAtASetShare()
    {
        var (folder, again) = (Directory.CreateTempSubdirectory("revisit-simulator-").FullName, Directory.CreateTempSubdirectory("revisit-simulator-").FullName);
        var settings = new SimulatorSettings { Installs = 2_500, DirtShare = 0.05 };
        var rows = BranchExports.WriteFleet(folder, settings);
        BranchExports.WriteFleet(again, settings);
        Assert.All(Directory.GetFiles(folder), f => Assert.True(File.ReadAllBytes(f).AsSpan().SequenceEqual(File.ReadAllBytes(Path.Combine(again, Path.GetFileName(f)))), f));

        var key = File.ReadLines(Path.Combine(folder, "lakeside.key.csv")).Skip(1).Select(l => l.Split(',')).ToLookup(k => int.Parse(k[0], System.Globalization.CultureInfo.InvariantCulture), k => k[2]);
        var lines = File.ReadAllLines(Path.Combine(folder, "lakeside.ndjson"));
        var lakeside = FleetSimulator.Rows(settings).Count(r => r.Install.Region == "lakeside");
        var added = key.SelectMany(k => k).Count(k => k is "exact_duplicate" or "later_save" or "not_a_data_row");
        Assert.Equal(lakeside + added, lines.Length);
        Assert.InRange((key.Count - 1.0) / lakeside, 0.035, 0.065);
        for (var i = 0; i < lines.Length; i++)
            Assert.Equal(key[i + 1].Any(k => k is "not_json" or "not_a_data_row" or "broken_quotes"), !IsDocument(lines[i]));

        Assert.True(rows > lakeside);
        var kinds = Directory.GetFiles(folder, "*.key.csv").SelectMany(f => File.ReadLines(f).Skip(1)).Select(l => l.Split(',')[2]).ToHashSet();
        Assert.Empty(Codes.SetAside.Concat(Codes.Rejected).Concat(DirtKinds.All).Append("later_save").Except(kinds));
    }

    /// <summary>Bare NaN and Infinity are no JSON either, but ingest reads them.</summary>
    private static bool IsDocument(string line)
    {
        try
        {
            using var document = JsonDocument.Parse(line.Replace(":NaN", ":0", StringComparison.Ordinal).Replace(":Infinity", ":0", StringComparison.Ordinal));
            return document.RootElement.ValueKind == JsonValueKind.Object;
        }
        catch (JsonException)
        {
            return false;
        }
    }

    [Fact]
    public void EachKindFallsAtItsOwnRate()
    {
        var folder = Directory.CreateTempSubdirectory("revisit-simulator-").FullName;
        var settings = new SimulatorSettings { Installs = 1_500, Dirt = new Dictionary<string, double> { ["decimal_slip"] = 0.05, ["bad_time"] = 0.01 } };
        var rows = BranchExports.WritePlainFleet(folder, settings);
        var kinds = File.ReadLines(Path.Combine(folder, "plain.key.csv")).Skip(1).Select(l => l.Split(',')[2]).CountBy(k => k).ToDictionary();
        Assert.Equal(["bad_time", "decimal_slip"], kinds.Keys.Order());
        foreach (var (kind, share) in settings.Dirt)
        {
            // Four standard deviations of a count.
            var expected = rows * share;
            Assert.InRange(kinds[kind], expected - 4 * Math.Sqrt(expected), expected + 4 * Math.Sqrt(expected));
        }

        var error = Assert.Throws<UserError>(() => (settings with { Dirt = new Dictionary<string, double> { ["mud"] = 0.01, ["bad_time"] = 0.06 } }).Checked());
        Assert.Contains("mud", error.ToString(), StringComparison.Ordinal);
        Assert.Contains("0.06", error.ToString(), StringComparison.Ordinal);
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

        var keyed = Encoding.UTF8.GetString(Find("prairie.key.csv")).Split('\n').Select(l => l.Split(',')).Where(k => k.Length > 2 && k[2] == "unit_slip")
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
