using System.CommandLine;
using Revisit.Ingest;

namespace Revisit.Cli.Commands;

/// <summary>revisit profile: drafts a source profile from a sample.</summary>
internal static class ProfileCommand
{
    public static Command Make()
    {
        var file = new Argument<string>("FILE") { Description = "An export to draft a profile for" };
        var command = new Command("profile", """
            Draft a source profile from an export and say what could not be placed.

            Example:
              revisit profile march.csv > pipelines/sources/my-branch.yaml
            """)
        { file };
        command.SetAction(result => Terminal.Guard(() =>
        {
            var draft = ProfileDraft.Of(result.GetValue(file)!);
            Console.Write(draft.Yaml);
            if (draft.NotPlaced.Count > 0)
            {
                Console.Error.WriteLine($"Not placed: {string.Join(", ", draft.NotPlaced)}");
            }

            if (draft.NotFound.Count > 0)
            {
                Console.Error.WriteLine($"Required and not found: {string.Join(", ", draft.NotFound)}; name their headings, or give them under constants");
            }

            Console.Error.WriteLine("Check every line marked CHECK, then: revisit ingest --profile PROFILE.yaml FILE");
        }));
        return command;
    }
}
