namespace Revisit.EndToEnd.Tests;

/// <summary>One demo and one monthly run over the committed exports, made once for the tests that only look at them.</summary>
public sealed class Runs : IDisposable
{
    private readonly TestFolder folder = new();

    public Runs()
    {
        Repository.CopyMonth(Folder);
        using var demo = new Running(Folder, ["demo", "--installs", "120", "--folder", "demo"]);
        Monthly = Command.Run(Folder, "run", "pipelines/monthly.yaml");
        Demo = demo.Wait();
    }

    public string Folder => folder.Path;

    /// <summary>Lake of the demo.</summary>
    public string DemoLake => Path.Combine(Folder, "demo", "lake");

    /// <summary>Lake of the monthly run.</summary>
    public string MonthlyLake => Path.Combine(Folder, "lake");

    internal Ended Demo { get; }

    internal Ended Monthly { get; }

    /// <summary>Asks the demo's lake.</summary>
    internal Ended Sql(string sql, params string[] options) => Command.Run(Folder, ["sql", sql, "--lake", DemoLake, .. options]);

    public void Dispose() => folder.Dispose();
}

/// <summary>Classes that share one demo and one monthly run, since making them takes most of the time.</summary>
[CollectionDefinition(Name)]
public sealed class SharedRuns : ICollectionFixture<Runs>
{
    public const string Name = "one demo and one month";
}
