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

    /// <summary>Whether paths may lead out of the folder of the settings and the current folder.</summary>
    [YamlIgnore]
    public bool Anywhere { get; init; }

    /// <summary>Reads a settings file.</summary>
    /// <param name="path">The file.</param>
    /// <param name="anywhere">Whether its paths may lead out of its own folder and the current one.</param>
    /// <exception cref="UserError">The file cannot be read or has faults.</exception>
    public static MonthlySettings Read(string path, bool anywhere = false)
    {
        var settings = SettingsFile.Read<MonthlySettings>(path, "Known keys: lake, pages, note, language, units, inputs (files, profile), forecast, worklist (a settings file).");
        settings = settings with { Folder = Path.GetDirectoryName(Path.GetFullPath(path))!, Anywhere = anywhere };
        settings.MustStayInside(path);
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

    /// <summary>Settings that somebody else wrote must not read or write just anywhere.</summary>
    private void MustStayInside(string file)
    {
        string[] roots = [Folder, Directory.GetCurrentDirectory()];
        var outside = Inputs.SelectMany(i => new[] { ("inputs.files", i.Files), ("inputs.profile", i.Profile) })
            .Concat([("lake", Lake), ("pages", Pages), ("worklist", Worklist ?? "")])
            .Where(n => !roots.Any(root => Path.GetRelativePath(root, Resolve(n.Item2)) is var from && from != ".." && !from.StartsWith(".." + Path.DirectorySeparatorChar, StringComparison.Ordinal) && !Path.IsPathRooted(from)))
            .Select(n => $"{n.Item1}: {n.Item2} ({Resolve(n.Item2)})").Distinct().ToList();
        if (!Anywhere && outside.Count > 0)
        {
            throw new UserError($"{Path.GetFileName(file)} names places outside {string.Join(" and ", roots.Distinct())}; nothing was read or written. If you mean them, run again with --anywhere:", outside);
        }
    }

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
