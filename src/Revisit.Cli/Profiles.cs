using Revisit.Ingest;
using Revisit.Records;

namespace Revisit.Cli;

/// <summary>Finds a source profile by name or path.</summary>
internal static class Profiles
{
    /// <summary>The profile, or null for plain columns.</summary>
    /// <exception cref="UserError">There is no such profile, or it has faults.</exception>
    public static SourceProfile? Find(string name, string folder)
    {
        if (name == "plain")
        {
            return null;
        }

        var candidates = new[] { Path.Combine(folder, name), Path.Combine(folder, "pipelines", "sources", name + ".yaml"), Path.Combine(folder, "sources", name + ".yaml") };
        var path = candidates.FirstOrDefault(File.Exists)
            ?? throw new UserError($"There is no profile '{name}'. Looked for: {string.Join(", ", candidates)}. Draft one with 'revisit profile FILE'.");
        return ProfileReader.Read(path);
    }
}
