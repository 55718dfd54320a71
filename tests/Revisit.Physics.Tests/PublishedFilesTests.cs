namespace Revisit.Physics.Tests;

/// <summary>Every table of <c>Published/</c> names its source, and how exact or how rounded it is.</summary>
public class PublishedFilesTests
{
    [Fact]
    public void Every_table_names_source_and_accuracy()
    {
        string[] files = Directory.GetFiles(Path.Combine(AppContext.BaseDirectory, "Published"), "*.csv");
        Assert.True(files.Length >= 19);
        Assert.All(files, file =>
        {
            string head = string.Concat(File.ReadLines(file).TakeWhile(line => line.StartsWith('#')));
            Assert.True(head.Contains("Source", StringComparison.Ordinal), $"{file}: no source");
            Assert.True(head.Contains("Accuracy", StringComparison.Ordinal) || head.Contains("ounding", StringComparison.Ordinal), $"{file}: no accuracy");
            Assert.NotEmpty(Published.Rows(Path.GetFileName(file)));
        });
    }

    [Fact]
    public void The_read_me_names_every_table()
    {
        string published = Path.Combine(AppContext.BaseDirectory, "Published"), readMe = File.ReadAllText(Path.Combine(published, "README.md"));
        Assert.All(Directory.GetFiles(published, "*.csv"), file => Assert.Contains(Path.GetFileName(file), readMe, StringComparison.Ordinal));
    }
}
