using Revisit.Forecast;
using Revisit.Forecast.Visits;
using Revisit.Ingest;
using Revisit.Records;
using Revisit.Report;
using YamlDotNet.Serialization;

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

    /// <summary>Language of the pages, en or es.</summary>
    public string Language { get; init; } = "en";

    /// <summary>Units of the pages, ip or si.</summary>
    public string Units { get; init; } = "ip";

    /// <summary>How the pages are written.</summary>
    [YamlIgnore]
    public PageSettings PageSettings => new() { Note = Note, Language = Language, Units = Units };

    public ForecastSettings Forecast { get; init; } = new();

    /// <summary>Settings file of the worklist, relative to this one; the documented defaults when left out.</summary>
    public string? Worklist { get; init; }

    /// <summary>Folder that relative paths start from.</summary>
    [YamlIgnore]
    public string Folder { get; init; } = "";

    /// <summary>Reads a settings file.</summary>
    /// <exception cref="UserError">The file cannot be read or has faults.</exception>
    public static MonthlySettings Read(string path)
    {
        var settings = SettingsFile.Read<MonthlySettings>(path, "Known keys: lake, pages, note, language, units, inputs (files, profile), forecast, worklist (a settings file).");
        settings = settings with { Folder = Path.GetDirectoryName(Path.GetFullPath(path))! };
        settings.Forecast.Validate();
        settings.ReadWorklist();
        settings.PageSettings.Validate();
        return settings;
    }

    /// <summary>The settings of the worklist, checked.</summary>
    /// <exception cref="UserError">The file cannot be read or has faults.</exception>
    public WorklistSettings ReadWorklist() => SettingsFile.ReadWorklist(Worklist is null ? null : Resolve(Worklist));

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
