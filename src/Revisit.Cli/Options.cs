using System.CommandLine;

namespace Revisit.Cli;

/// <summary>Options that several commands share.</summary>
internal static class Options
{
    public static Option<string> Lake() => new("--lake") { Description = "Folder of the lake", DefaultValueFactory = _ => "lake" };

    public static Option<bool> Anywhere() => new("--anywhere") { Description = "Paths of the settings may lead out of their folder and the current one" };
}
