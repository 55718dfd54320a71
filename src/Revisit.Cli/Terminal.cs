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
        catch (UserError e)
        {
            Console.Error.WriteLine("revisit: " + e.Message);
            return ExitCode.UserFault;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            Console.Error.WriteLine($"revisit: {e.Message} Readers still see the last published state.");
            return ExitCode.UserFault;
        }
        catch (Exception e)
        {
            Console.Error.WriteLine("revisit: unexpected fault; nothing was published: " + e);
            return ExitCode.Unexpected;
        }
    }

    private sealed class Stderr : IProgress<string>
    {
        public void Report(string value) => Console.Error.WriteLine("  " + value);
    }
}
