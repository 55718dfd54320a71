namespace Revisit.EndToEnd.Tests;

/// <summary>Same input, same bytes: whatever the language, the time zone and the number of cores of the machine.</summary>
public class SameBytesTests(Runs runs) : IClassFixture<Runs>
{
    private static readonly (string Name, string Value)[] Elsewhere =
        [("LC_ALL", "de_DE.UTF-8"), ("LANG", "de_DE.UTF-8"), ("TZ", "Asia/Tokyo"), ("DOTNET_PROCESSOR_COUNT", "1")];

    /// <summary>Another calendar, other digits and marks, other cores.</summary>
    private static readonly (string Name, string Value)[] FromRightToLeft =
        [("LC_ALL", "fa_IR.UTF-8"), ("LANG", "fa_IR.UTF-8"), ("TZ", "Asia/Kolkata"), ("DOTNET_PROCESSOR_COUNT", "1")];

    /// <summary>A folder as people name them, with what SQL and patterns of files could mistake.</summary>
    private const string OddName = "it's \"July\" [1] *? Größe فحص 空調";

    [Fact]
    public void A_month_is_the_same_elsewhere()
    {
        using var folder = new TestFolder();
        var at = folder.At(OddName);
        Repository.CopyMonth(at);
        using var run = new Running(at, ["run", "pipelines/monthly.yaml"], Elsewhere);
        run.Wait().Well();
        AssertSame(runs.Folder, at, "lake", "pages");
    }

    [Fact]
    public void A_demo_is_the_same_elsewhere()
    {
        using var folder = new TestFolder();
        using var run = new Running(folder.Path, ["demo", "--installs", "120", "--folder", "demo"], FromRightToLeft);
        run.Wait().Well();
        AssertSame(Path.Combine(runs.Folder, "demo"), folder.At("demo"), "data", "lake", "pages");
    }

    [Fact]
    public void Another_fleet_has_other_bytes()
    {
        using var folder = new TestFolder();
        Command.Run(folder.Path, "demo", "--installs", "119", "--folder", "demo").Well();
        Assert.NotEqual(FileHashes.Of(Path.Combine(runs.Folder, "demo"), "lake"), FileHashes.Of(folder.At("demo"), "lake"));
    }

    private static void AssertSame(string one, string other, params string[] folders)
    {
        var (a, b) = (FileHashes.Of(one, folders), FileHashes.Of(other, folders));
        Assert.True(a == b, FileHashes.Difference(a, b));
    }
}
