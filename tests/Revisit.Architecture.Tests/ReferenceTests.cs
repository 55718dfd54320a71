namespace Revisit.Architecture.Tests;

/// <summary>References and packages stay where the layout puts them. Each rule has a twin that shows it can fail.</summary>
public class ReferenceTests
{
    private static readonly IReadOnlyList<Project> Projects =
        [.. Repository.Texts.Where(t => t.Extension == ".csproj").Select(Project.Of)];

    [Fact]
    public void Every_project_is_in_the_solution() =>
        Assert.Equal(Projects.Select(p => p.Path).Order(StringComparer.Ordinal), Project.InSolution(Repository.Text("Analytics.sln")));

    [Fact]
    public void A_project_missing_from_a_solution_is_seen()
    {
        var short_ = string.Join('\n', Repository.Text("Analytics.sln").Split('\n').Where(l => !l.Contains("Revisit.Fleet.csproj", StringComparison.Ordinal)));
        Assert.Equal(["src/Revisit.Fleet/Revisit.Fleet.csproj"], Projects.Select(p => p.Path).Except(Project.InSolution(short_)));
    }

    [Fact]
    public void Stages_never_name_one_another() => Assert.Empty(ReferenceRules.References(Projects));

    [Theory]
    [InlineData("src/Revisit.Report/Revisit.Report.csproj", "Revisit.Diagnosis")]
    [InlineData("src/Revisit.Forecast/Revisit.Forecast.csproj", "Revisit.Fleet")]
    [InlineData("src/Revisit.Fleet/Revisit.Fleet.csproj", "Revisit.Physics")]
    [InlineData("src/Revisit.Ingest/Revisit.Ingest.csproj", "Revisit.Diagnosis")]
    [InlineData("src/Revisit.Diagnosis/Revisit.Diagnosis.csproj", "Revisit.Ingest")]
    [InlineData("src/Revisit.Storage/Revisit.Storage.csproj", "Revisit.Ingest")]
    [InlineData("synthetic-data/Revisit.Simulator/Revisit.Simulator.csproj", "Revisit.Diagnosis")]
    [InlineData("tests/Revisit.Report.Tests/Revisit.Report.Tests.csproj", "Revisit.Fleet")]
    public void An_offending_reference_is_seen(string path, string reference)
    {
        var text = Repository.Text(path).Replace("</Project>", $"<ItemGroup><ProjectReference Include=\"..\\{reference}\\{reference}.csproj\" /></ItemGroup></Project>", StringComparison.Ordinal);
        Assert.Equal([$"{path} references {reference}"], ReferenceRules.References([Project.Of(new(path, text))]));
    }

    [Fact]
    public void A_new_project_needs_a_rule() =>
        Assert.Single(ReferenceRules.References([Project.Of(new("src/Revisit.Else/Revisit.Else.csproj", "<Project />"))]));

    [Fact]
    public void Packages_stay_in_one_place() => Assert.Empty(ReferenceRules.Packages(Projects));

    [Theory]
    [InlineData("src/Revisit.Report/Revisit.Report.csproj", "YamlDotNet")]
    [InlineData("src/Revisit.Ingest/Revisit.Ingest.csproj", "Parquet.Net")]
    [InlineData("src/Revisit.Fleet/Revisit.Fleet.csproj", "DuckDB.NET.Data.Full")]
    [InlineData("src/Revisit.Fleet/Revisit.Fleet.csproj", "Microsoft.ML.LightGbm")]
    [InlineData("src/Revisit.Cli/Revisit.Cli.csproj", "Plotly.NET.CSharp")]
    [InlineData("src/Revisit.Records/Revisit.Records.csproj", "NodaTime")]
    public void A_package_out_of_place_is_seen(string path, string package)
    {
        var others = Projects.Where(p => p.Path != path);
        var kept = Projects.Single(p => p.Path == path);
        var offending = kept with { Packages = [.. kept.Packages, package] };
        var fault = Assert.Single(ReferenceRules.Packages([.. others, offending]));
        Assert.StartsWith($"{path} names ", fault, StringComparison.Ordinal);
    }

    [Fact]
    public void A_package_that_left_its_home_is_seen() =>
        Assert.Equal(["NodaTime is not named in Revisit.Ingest"], ReferenceRules.Packages([.. Projects.Select(p => p with { Packages = [.. p.Packages.Where(n => n != "NodaTime")] })]));
}
