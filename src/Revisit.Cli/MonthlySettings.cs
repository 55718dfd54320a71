using Revisit.Forecast;
using Revisit.Ingest;
using Revisit.Records;
using YamlDotNet.Core;
using YamlDotNet.Serialization;
using YamlDotNet.Serialization.NamingConventions;

namespace Revisit.Cli;

/// <summary>Files of one source and the profile to read them with.</summary>
public sealed record MonthlyInput
{
    /// <summary>A path or a pattern such as exports/*.csv, relative to the settings file.</summary>
    public string Files { get; init; } = "";

    public string Profile { get; init; } = "plain";
}

/// <summary>Settings of the monthly run; a YAML file, every key documented in pipelines/monthly.yaml.</summary>
public sealed record MonthlySettings
{
    public string Lake { get; init; } = "lake";

    public string Pages { get; init; } = "pages";

    public List<MonthlyInput> Inputs { get; init; } = [];

    /// <summary>A note on top of every page.</summary>
    public string? Note { get; init; }

    public ForecastSettings Forecast { get; init; } = new();

    /// <summary>Folder that relative paths start from.</summary>
    [YamlIgnore]
    public string Folder { get; init; } = "";

    /// <summary>Reads a settings file.</summary>
    /// <exception cref="UserError">The file cannot be read or has faults.</exception>
    public static MonthlySettings Read(string path)
    {
        try
        {
            var settings = new DeserializerBuilder().WithNamingConvention(UnderscoredNamingConvention.Instance).Build()
                .Deserialize<MonthlySettings>(File.ReadAllText(path)) ?? new();
            settings = settings with { Folder = Path.GetDirectoryName(Path.GetFullPath(path))! };
            settings.Forecast.Validate();
            return settings;
        }
        catch (YamlException e)
        {
            throw new UserError($"{Path.GetFileName(path)}:{e.Start.Line}: {e.InnerException?.Message ?? e.Message} Known keys: lake, pages, note, inputs (files, profile), forecast.");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new UserError($"The settings {path} cannot be read: {e.Message}");
        }
    }

    /// <summary>The settings as they took effect.</summary>
    public string ToYaml() => new SerializerBuilder().WithNamingConvention(UnderscoredNamingConvention.Instance).Build().Serialize(this).ReplaceLineEndings("\n");

    /// <summary>Full path of something the settings name.</summary>
    public string Resolve(string path) => Path.GetFullPath(Path.Combine(Folder, path));

    /// <summary>The files of an input, in name order.</summary>
    /// <exception cref="UserError">No file fits.</exception>
    public IReadOnlyList<string> FilesOf(MonthlyInput input)
    {
        try
        {
            return SourceFiles.Find(Resolve(input.Files));
        }
        catch (UserError e)
        {
            throw new UserError($"{e.Message} Mend 'inputs' in the settings, or put the export there.");
        }
    }
}
