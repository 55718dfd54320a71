namespace Revisit.Architecture.Tests;

/// <summary>The list of dependencies and the bill of materials say what the lock files say.</summary>
public class DependencyTests
{
    private static IReadOnlyList<LockedPackage> Locked => Dependencies.Locked(Repository.Texts.Where(t => t.Name == "packages.lock.json"));

    [Fact]
    public void Every_package_is_listed_with_its_licence()
    {
        if (Environment.GetEnvironmentVariable("REVISIT_DEPENDENCIES") == "1")
        {
            File.WriteAllText(Path.Combine(Repository.Root, Dependencies.ListPath), Dependencies.List(Locked));
            File.WriteAllText(Path.Combine(Repository.Root, Dependencies.BillPath), Bill(File.ReadAllText(Path.Combine(Repository.Root, Dependencies.ListPath))));
            return;
        }

        Assert.Equal([], Dependencies.Differences(Locked, Dependencies.Listed(Repository.Text(Dependencies.ListPath))));
    }

    [Fact]
    public void The_bill_of_materials_is_that_of_the_lock_files() => Assert.Equal(Bill(Repository.Text(Dependencies.ListPath)), Repository.Text(Dependencies.BillPath));

    [Fact]
    public void A_package_that_is_not_listed_is_seen()
    {
        var extra = new SourceText("src/X/packages.lock.json", """{ "version": 2, "dependencies": { "net10.0": { "New.Thing": { "type": "Direct", "resolved": "1.0.0", "contentHash": "AAAA" } } } }""");
        var locked = Dependencies.Locked(Repository.Texts.Where(t => t.Name == "packages.lock.json").Append(extra));
        var listed = Dependencies.Listed(Repository.Text(Dependencies.ListPath));
        Assert.Contains(Dependencies.Differences(locked, listed), d => d.StartsWith("New.Thing 1.0.0, direct, shipped: not in", StringComparison.Ordinal));
        Assert.Contains(Dependencies.Differences(Locked, [.. listed, new("Old.Thing", "1.0.0", "MIT", "x", "direct", "shipped")]), d => d.Contains("in no lock file", StringComparison.Ordinal));
        Assert.Contains(Dependencies.Differences(Locked, [.. listed.Skip(1), listed[0] with { Licence = "Custom" }]), d => d.Contains("licence 'Custom'", StringComparison.Ordinal));
    }

    private static string Bill(string list) => Dependencies.Bill(Locked, Dependencies.Listed(list),
        System.Xml.Linq.XDocument.Parse(Repository.Text("Directory.Build.props")).Descendants("Version").Single().Value);
}
