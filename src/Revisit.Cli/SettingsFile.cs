using Revisit.Forecast.Visits;
using Revisit.Ingest;
using Revisit.Records;
using YamlDotNet.Core;
using YamlDotNet.Serialization;
using YamlDotNet.Serialization.NamingConventions;

namespace Revisit.Cli;

/// <summary>Settings as YAML.</summary>
internal static class SettingsFile
{
    /// <summary>Reads a settings file; what it leaves out keeps its default.</summary>
    /// <param name="path">The file.</param>
    /// <param name="known">Said after a fault: which keys there are.</param>
    /// <exception cref="UserError">The file cannot be read, or is not of that shape.</exception>
    public static T Read<T>(string path, string known)
        where T : new()
    {
        try
        {
            var text = YamlText.Read(path);
            YamlText.Check(text);
            return new DeserializerBuilder().WithNamingConvention(UnderscoredNamingConvention.Instance).Build().Deserialize<T>(text) ?? new();
        }
        catch (YamlException e)
        {
            throw new UserError($"{Path.GetFileName(path)}:{e.Start.Line}: {e.InnerException?.Message ?? e.Message} {known}");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new UserError($"The settings {path} cannot be read: {e.Message}");
        }
    }

    /// <summary>Settings of the worklist, checked; the defaults without a file.</summary>
    /// <exception cref="UserError">The file cannot be read or has faults.</exception>
    public static WorklistSettings ReadWorklist(string? path)
    {
        var settings = path is null ? new() : Read<WorklistSettings>(path, "pipelines/worklist.yaml names every key.");
        settings.Validate();
        return settings;
    }

    /// <summary>Writes settings as they took effect; the file is there as a whole or not at all.</summary>
    public static void Write(string path, object settings)
    {
        var aside = path + ".new";
        File.WriteAllText(aside, ToYaml(settings));
        File.Move(aside, path, overwrite: true);
    }

    /// <summary>The settings as they took effect.</summary>
    public static string ToYaml(object settings) => new SerializerBuilder().WithNamingConvention(UnderscoredNamingConvention.Instance).Build().Serialize(settings).ReplaceLineEndings("\n");
}
