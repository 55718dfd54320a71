namespace Revisit.Architecture.Tests;

/// <summary>Which project may name which: stages meet in tables of the lake, never in code.</summary>
internal static class ReferenceRules
{
    private const string Records = "Revisit.Records", Physics = "Revisit.Physics", Storage = "Revisit.Storage", Simulator = "Revisit.Simulator", Cli = "Revisit.Cli";

    /// <summary>What each project outside tests may reference; the command line may reference them all.</summary>
    private static readonly Dictionary<string, string[]> Allowed = new()
    {
        [Records] = [],
        [Physics] = [Records],
        [Storage] = [Records],
        ["Revisit.Ingest"] = [Records, Storage],
        ["Revisit.Diagnosis"] = [Records, Storage, Physics],
        ["Revisit.Fleet"] = [Records, Storage],
        ["Revisit.Forecast"] = [Records, Storage],
        ["Revisit.Report"] = [Records, Storage],
        [Simulator] = [Records, Physics],
    };

    /// <summary>Tests of the whole; any other test project sees the project it is named for and what that stands on.</summary>
    private static readonly string[] Whole = ["Revisit.Architecture.Tests", "Revisit.EndToEnd.Tests", "Benchmarks"];

    /// <summary>The one place of each package that must stay in place.</summary>
    private static readonly Dictionary<string, string[]> Homes = new(StringComparer.OrdinalIgnoreCase)
    {
        ["YamlDotNet"] = ["Revisit.Ingest", "Revisit.Fleet", Cli],
        ["MathNet.Numerics"] = ["Revisit.Fleet"],
        ["Parquet.Net"] = [Storage],
        ["DuckDB.NET"] = [Storage],
        ["Microsoft.ML"] = ["Revisit.Forecast"],
        ["Google.OrTools"] = ["Revisit.Forecast"],
        ["Plotly.NET"] = ["Revisit.Report"],
        ["Ical.Net"] = ["Revisit.Report"],
        ["SpreadCheetah"] = ["Revisit.Report"],
        ["NodaTime"] = ["Revisit.Ingest"],
        ["System.CommandLine"] = [Cli],
    };

    /// <summary>What breaks the rules on references, one line a fault.</summary>
    public static IReadOnlyList<string> References(IEnumerable<Project> projects)
    {
        var faults = new List<string>();
        foreach (var project in projects)
        {
            string[] allowed;
            if (project.Name == Cli || Whole.Contains(project.Name))
            {
                continue;
            }
            else if (project.IsTest)
            {
                allowed = [project.Name[..^".Tests".Length], Records, Physics, Storage, Simulator];
            }
            else if (!Allowed.TryGetValue(project.Name, out allowed!))
            {
                faults.Add($"{project.Path}: there is no rule for this project; add one");
                continue;
            }

            faults.AddRange(project.Projects.Except(allowed).Select(r => $"{project.Path} references {r}"));
        }

        return faults;
    }

    /// <summary>Packages outside their home, and homes that do not hold theirs any more (the rule would then hold nothing).</summary>
    public static IReadOnlyList<string> Packages(IReadOnlyCollection<Project> projects)
    {
        var faults = new List<string>();
        foreach (var (package, homes) in Homes)
        {
            var named = projects.Where(p => !p.IsTest && p.Packages.Any(n => Belongs(n, package))).ToList();
            faults.AddRange(named.Where(p => !homes.Contains(p.Name)).Select(p => $"{p.Path} names {package}; it belongs in {string.Join(", ", homes)}"));
            faults.AddRange(homes.Where(h => named.All(p => p.Name != h)).Select(h => $"{package} is not named in {h}"));
        }

        return faults;
    }

    private static bool Belongs(string name, string package) =>
        name.Equals(package, StringComparison.OrdinalIgnoreCase) || name.StartsWith(package + ".", StringComparison.OrdinalIgnoreCase);
}
