using Revisit.Records;

namespace Revisit.Ingest.Tests;

/// <summary>Reading source profiles: a sound one, and every fault of a bad one at once with its line.</summary>
public class ProfileTests
{
    internal const string Identity = """
          visit_id: Job
          reading_no: No
          install_id: Unit
          crew_id: Crew
          visit_kind: { from: Why, values: { startup: commissioning } }
          visited_at: { from: [Day, Clock], format: ["M/d/yyyy h:mm tt", "yyyy-MM-dd HH:mm"] }
        """;

    internal static UserError Fails(string text) => Assert.Throws<UserError>(() => ProfileReader.Parse(text, "made.yaml"));

    /// <summary>The one fault of a profile that has the identity columns and the lines given.</summary>
    private static string Fault(string lines, string extraColumns = "") => Assert.Single(Fails($"{lines}\ncolumns:\n{Identity}\n{extraColumns}").Problems);

    [Fact]
    public void A_sound_profile_says_what_it_means()
    {
        var profile = ProfileReader.Parse($$"""
            name: made
            format: { kind: csv, delimiter: ";", encoding: windows-1252, decimal: ",", thousands: ".", preamble_lines: 3 }
            zone: America/Denver
            missing: ["N/A", "-"]
            constants: { region: made, elevation_ft: 5280 }
            columns:
            {{Identity}}
              outdoor_db_f: { from: Outside, unit: Cel }
              liquid_pressure_psig: { from: High, unit: kPa, pressure: absolute }
              technician_id: { from: Tech, case: upper, drop: "." }
            private: [Phone]
            ignored: [Page]
            """, "made.yaml");
        Assert.Equal(("made", SourceKind.Csv, ';', "windows-1252", ',', '.', 3), (profile.Name, profile.Kind, profile.Delimiter, profile.Encoding, profile.Decimal, profile.Thousands, profile.PreambleLines));
        Assert.Equal("America/Denver", profile.Zone!.Id);
        Assert.Equal(["-", "na"], profile.Missing.Order(StringComparer.Ordinal));
        Assert.Equal("5280", profile.Constants["elevation_ft"]);
        Assert.Equal(["Phone"], profile.Private);
        Assert.Equal(["Page"], profile.Ignored);
        var at = profile.Columns.Single(c => c.Column == "visited_at");
        Assert.Equal(["Day", "Clock"], at.From);
        Assert.Equal(["M/d/yyyy h:mm tt", "yyyy-MM-dd HH:mm"], at.Formats);
        Assert.Equal("commissioning", profile.Columns.Single(c => c.Column == "visit_kind").Values["startup"]);
        var high = profile.Columns.Single(c => c.Column == "liquid_pressure_psig");
        Assert.True(high.Absolute && high.Unit!.Code == "kPa" && high.Line == 14, $"{high}");
        Assert.False(profile.Columns.Single(c => c.Column == "outdoor_db_f").Absolute);
        Assert.True(profile.Columns.Single(c => c.Column == "technician_id") is { Upper: true, Drop: "." });
    }

    [Fact]
    public void All_faults_are_listed_at_once_with_file_and_line()
    {
        var error = Fails("""
            name: made
            fromat: { kind: csv }
            format: { kind: xlsx, delimiter: "::", encoding: utf-99, preamble_lines: -1, quotes: no }
            zone: America/Denvr
            constants: { elevation_ft: 40000, altitude: 3, visit_kind: tune-up }
            columns:
              visit_id: Job
              reading_no: No
              install_id: Unit
              crew_id: Crew
              visit_kind:
                from: Why
                values: { startup: commissoning, Tune-up: maintenance, "tune up": callback }
              outdoor_db_f: { from: Outside, unit: degC }
              supply_db_f: { from: Supply, unit: kPa }
              outdoor_temp_f: Out
              installed_on: { from: Since, format: "qq/yyyy" }
              notes: { from: Phone, unit: K }
              liquid_pressure_psig: { from: High, unit: kPa, pressure: abs }
              return_db_f: { unit: Cel }
            private: [Phone]
            """);
        (int Line, string Part)[] expected =
        [
            (1, "'visited_at' is required"), (2, "unknown key 'fromat'"), (3, "'kind' is csv or ndjson"), (3, "'delimiter' is one character"), (3, "encoding 'utf-99' is unknown"),
            (3, "'preamble_lines' is a whole number"), (3, "unknown key 'format.quotes'"), (4, "zone 'America/Denvr'"), (5, "constant 'elevation_ft' is '40000'"),
            (5, "constant 'altitude'"), (5, "constant 'visit_kind' is 'tune-up'"), (13, "'visit_kind' cannot be 'commissoning'"), (13, "twice"),
            (14, "unknown unit 'degC'"), (15, "'supply_db_f' is a Temperature: the unit 'kPa' measures something else"), (16, "'outdoor_temp_f' is not a column"),
            (17, "format 'qq/yyyy'"), (18, "'notes' is not a number with a unit"), (18, "'Phone' is private and cannot feed 'notes'"), (19, "'pressure' is gauge or absolute"),
            (20, "'return_db_f' names no source heading"),
        ];
        Assert.All(expected, e => Assert.Contains(error.Problems, p => p.StartsWith($"made.yaml:{e.Line}: ", StringComparison.Ordinal) && p.Contains(e.Part, StringComparison.Ordinal)));
        Assert.Equal(expected.Length, error.Problems.Count);
        Assert.All(error.Problems, p => Assert.Contains(p, error.Message, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("visit_id")]
    [InlineData("reading_no")]
    [InlineData("install_id")]
    [InlineData("crew_id")]
    [InlineData("visit_kind")]
    [InlineData("visited_at")]
    public void Each_identity_column_is_required(string column)
    {
        var lines = Identity.Split('\n').Where(l => !l.TrimStart().StartsWith(column + ":", StringComparison.Ordinal));
        Assert.Contains($"'{column}' is required", Assert.Single(Fails("name: made\ncolumns:\n" + string.Join('\n', lines)).Problems), StringComparison.Ordinal);
    }

    [Fact]
    public void A_misspelt_column_is_answered_with_the_nearest() =>
        Assert.Contains("did you mean", Fault("name: made", "  outdoor_f: Out"), StringComparison.Ordinal);

    [Theory]
    [InlineData("zone: UTC\n  name: deeper")]
    [InlineData("zone: \"UTC")]
    public void Text_that_is_no_yaml_is_a_fault_with_its_line(string lines) =>
        Assert.Matches("^made.yaml:[0-9]+: not YAML", Fault("name: made\n" + lines));

    [Fact]
    public void A_column_written_twice_is_a_fault() => Assert.Contains("notes", Fault("name: made", "  notes: A\n  notes: B"), StringComparison.Ordinal);

    [Theory]
    [InlineData("")]
    [InlineData("- a\n- b\n")]
    public void A_profile_is_one_mapping(string text) => Assert.StartsWith("made.yaml:1: ", Assert.Single(Fails(text).Problems), StringComparison.Ordinal);

    [Fact]
    public void A_profile_that_is_not_there_is_named() =>
        Assert.Contains("nowhere.yaml", Assert.Throws<UserError>(() => ProfileReader.Read("nowhere.yaml")).Message, StringComparison.Ordinal);

    [Fact]
    public void Every_profile_of_the_repository_parses()
    {
        var files = Directory.GetFiles(Path.Combine(SampleLake.Repository, "pipelines", "sources"), "*.yaml");
        Assert.True(files.Length >= 4, $"{files.Length} profiles");
        Assert.All(files, f => Assert.Equal(Path.GetFileNameWithoutExtension(f), ProfileReader.Read(f).Name));
    }

    [Fact]
    public void The_hash_follows_the_text() =>
        Assert.NotEqual(ProfileReader.Parse($"name: made\ncolumns:\n{Identity}", "made.yaml").Hash, ProfileReader.Parse($"name: made\ncolumns:\n{Identity} ", "made.yaml").Hash);
}
