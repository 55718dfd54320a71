namespace Revisit.Report;

/// <summary>Text files built into the assembly, with line ends as LF whatever the checkout made of them.</summary>
internal static class Resources
{
    public static string? Find(string name)
    {
        using var stream = typeof(Resources).Assembly.GetManifestResourceStream(name);
        return stream is null ? null : Read(stream);
    }

    public static string Get(string name) => Find(name) ?? throw new InvalidOperationException($"resource '{name}' is missing");

    /// <summary>The one plotly.js that the plotting package carries.</summary>
    public static string PlotlyScript()
    {
        var assembly = typeof(Plotly.NET.Trace).Assembly;
        var name = assembly.GetManifestResourceNames().Single(n => n.Contains("plotly-", StringComparison.Ordinal) && n.EndsWith(".min.js", StringComparison.Ordinal));
        using var stream = assembly.GetManifestResourceStream(name)!;
        return Read(stream);
    }

    private static string Read(Stream stream)
    {
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd().Replace("\r\n", "\n", StringComparison.Ordinal);
    }
}
