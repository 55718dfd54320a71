using Revisit.Records;

namespace Revisit.Cli;

/// <summary>Documented exit codes of the command.</summary>
internal static class ExitCode
{
    public const int Ok = 0, UserFault = 2, Unexpected = 3;
}

/// <summary>Data goes to standard output, everything else to standard error.</summary>
internal static class Terminal
{
    /// <summary>Progress and messages.</summary>
    public static readonly IProgress<string> Progress = new Stderr();

    /// <summary>Runs a command body and turns faults into messages and exit codes.</summary>
    public static int Guard(Action body)
    {
        try
        {
            body();
            return ExitCode.Ok;
        }
        catch (Exception e) when (Mendable(e) is { } message)
        {
            Console.Error.WriteLine("revisit: " + message);
            return ExitCode.UserFault;
        }
        catch (Exception e)
        {
            Console.Error.WriteLine("revisit: unexpected fault; nothing was published: " + e);
            return ExitCode.Unexpected;
        }
    }

    /// <summary>What to say of a fault that the user can mend; null for any other. Work on several threads gives several faults at once: the first says enough.</summary>
    private static string? Mendable(Exception fault) => (fault as AggregateException)?.Flatten().InnerExceptions.Select(Mendable).FirstOrDefault(m => m is not null) ?? fault switch
    {
        UserError => fault.Message,
        IOException or UnauthorizedAccessException => $"{fault.Message} Nothing was published by this; readers still see the last published state. Mend that (room on the disk, rights, a folder that is gone), then run again.",
        _ => null,
    };

    private sealed class Stderr : IProgress<string>
    {
        public void Report(string value) => Console.Error.WriteLine("  " + value);
    }
}
