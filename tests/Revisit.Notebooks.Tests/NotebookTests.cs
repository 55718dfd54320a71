namespace Revisit.Notebooks.Tests;

/// <summary>Each committed notebook runs and shows what was saved in it. The rule has twins that show it can fail.</summary>
public class NotebookTests
{
    private static readonly string Folder = Path.Combine(FindRoot(), "notebooks");

    public static TheoryData<string> Names => new(Directory.GetFiles(Folder, "*.ipynb").Select(f => Path.GetFileName(f)!).Order(StringComparer.Ordinal));

    [Theory]
    [MemberData(nameof(Names))]
    public async Task A_notebook_runs_and_shows_what_was_saved(string name)
    {
        var notebook = Notebook.Of(name, await File.ReadAllTextAsync(Path.Combine(Folder, name)));
        Assert.Equal(".net-csharp", notebook.Kernel);
        Assert.NotEmpty(notebook.Code);
        var run = await NotebookRun.Of(notebook);
        if (run.Faults.Count == 0) return;
        var text = string.Join('\n', run.Faults);
        if (run.Outputs.Count == notebook.Code.Count)
        {
            var fresh = Path.Combine(AppContext.BaseDirectory, name);
            await File.WriteAllTextAsync(fresh, notebook.With(run.Outputs));
            text += $"\nWhat it shows now stands in {fresh}; look at it before you copy it over notebooks/{name}.";
        }

        Assert.Fail(text);
    }

    [Theory]
    [InlineData("throw new System.InvalidOperationException(\"no\");", "", "code cell 2 throws InvalidOperationException: no")]
    [InlineData("int x = two;", "", "code cell 2 does not compile: (1,9): error CS0103")]
    [InlineData("#r \"../src/Revisit.Else/bin/Release/net10.0/Revisit.Else.dll\"", "", "code cell 2 does not compile: (1,1): error CS0006")]
    [InlineData("display(one + 1);", "3", "code cell 2 throws NotSupportedException")]
    [InlineData("display($\"{one + 1}\");", "3", "code cell 2 shows \"2\"; saved was \"3\"")]
    [InlineData("$\"{one + 1}\"", "3", "code cell 2 shows \"2\"; saved was \"3\"")]
    [InlineData("HTML(\"2\")", "2", "code cell 2 shows text/html; text/plain was saved")]
    [InlineData("int quiet = 2;", "2", "code cell 2 shows 0 outputs; 1 were saved")]
    public async Task A_notebook_that_fails_or_shows_something_else_is_seen(string source, string saved, string fault)
    {
        var run = await NotebookRun.Of(Written(source, saved));
        Assert.StartsWith($"a.ipynb, {fault}", Assert.Single(run.Faults), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("display($\"{one + 1}\");")]
    [InlineData("#r \"../src/Revisit.Records/bin/Release/net10.0/Revisit.Records.dll\"\n#r \"../src/Revisit.Physics/bin/Release/net10.0/Revisit.Physics.dll\"\n$\"{Revisit.Physics.EquipmentConditions.Rated.OutdoorDbF / 47.5}\"")]
    public async Task A_sound_notebook_has_no_fault_and_a_rewritten_one_neither(string source)
    {
        Assert.Empty((await NotebookRun.Of(Written(source, "2"))).Faults);
        var stale = Written(source, "3");
        var run = await NotebookRun.Of(stale);
        Assert.Single(run.Faults);
        Assert.Empty((await NotebookRun.Of(Notebook.Of("a.ipynb", stale.With(run.Outputs)))).Faults);
    }

    /// <summary>A notebook of two code cells: the first sets <c>one</c>, the second is given, with the text it showed when it was saved.</summary>
    private static Notebook Written(string source, string saved)
    {
        var first = Notebook.Of("a.ipynb", System.Text.Json.JsonSerializer.Serialize(new
        {
            cells = new object[]
            {
                new { cell_type = "markdown", source = "# Two" },
                new { cell_type = "code", source = "int one = 1;", outputs = Array.Empty<object>() },
                new { cell_type = "code", source, outputs = Array.Empty<object>() },
            },
        }));
        return Notebook.Of("a.ipynb", first.With([[], saved.Length == 0 ? [] : [new("text/plain", saved)]]));
    }

    private static string FindRoot()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "Analytics.sln"))) return folder.FullName;
        }

        throw new InvalidOperationException($"no Analytics.sln above {AppContext.BaseDirectory}");
    }
}
