namespace Revisit.Report.Tests;

/// <summary>The invented fleet's lake and its pages, made once for a test class.</summary>
public sealed class SamplePages : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("revisit-report-").FullName;

    public SamplePages()
    {
        SampleFleet.Write(Path.Combine(folder, "lake"));
        Pages = Write();
    }

    public Storage.Lake Lake => Storage.Lake.At(Path.Combine(folder, "lake"));

    public string Out => Path.Combine(folder, "pages");

    /// <summary>File name to content.</summary>
    public Dictionary<string, string> Pages { get; }

    public Dictionary<string, string> Write() => Write(Out, new() { Note = SampleFleet.Note });

    /// <summary>The pages as other settings make them, in a folder of their own.</summary>
    public Dictionary<string, string> With(PageSettings settings) => Write(Path.Combine(folder, "other", settings.Language + settings.Units), settings);

    private Dictionary<string, string> Write(string to, PageSettings settings)
    {
        using var session = Lake.OpenSession();
        return ReportStage.Run(session, to, SampleFleet.Month, settings: settings).Where(p => p.EndsWith(".html", StringComparison.Ordinal)).ToDictionary(p => Path.GetFileName(p), File.ReadAllText);
    }

    public int Ask(string sql)
    {
        using var session = Lake.OpenSession();
        using var reader = session.Query(sql);
        reader.Read();
        return (int)reader.GetInt64(0);
    }

    public void Dispose() => Directory.Delete(folder, recursive: true);
}
