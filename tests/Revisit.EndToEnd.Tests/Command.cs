using System.Diagnostics;
using System.Text;

namespace Revisit.EndToEnd.Tests;

/// <summary>How a run of the command ended.</summary>
internal sealed record Ended(int Code, string Out, string Error)
{
    /// <summary>Lines of standard output.</summary>
    public string[] Lines => Out.Split('\n', StringSplitOptions.RemoveEmptyEntries);

    /// <summary>This run, which has to have gone well.</summary>
    public Ended Well()
    {
        Assert.True(Code == 0, $"ended with {Code}\n{Out}\n{Error}");
        return this;
    }

    /// <summary>This run, which has to have ended with a fault the user can mend: a message without a stack trace, no data.</summary>
    public Ended Fault()
    {
        Assert.True(Code == 2, $"ended with {Code}\n{Out}\n{Error}");
        Assert.Contains("revisit: ", Error, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", Error, StringComparison.Ordinal);
        Assert.DoesNotContain("External component", Error, StringComparison.Ordinal);
        Assert.Empty(Out);
        return this;
    }
}

/// <summary>A running `revisit`, as a child process of its own.</summary>
internal sealed class Running : IDisposable
{
    private readonly Process process;
    private readonly StringBuilder error = new();
    private readonly StringBuilder output = new();

    public Running(string folder, IEnumerable<string> arguments, params IEnumerable<(string Name, string Value)> environment)
    {
        var start = new ProcessStartInfo(Environment.GetEnvironmentVariable("DOTNET_HOST_PATH") ?? "dotnet", [Command.Assembly, .. arguments])
        {
            WorkingDirectory = folder,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            RedirectStandardInput = true,
            StandardOutputEncoding = Encoding.UTF8,
            StandardErrorEncoding = Encoding.UTF8,
        };
        start.Environment["DOTNET_TC_QuickJit"] = "1"; // little data: compiling quickly saves a fifth of the time
        foreach (var (name, value) in environment)
        {
            start.Environment[name] = value;
        }

        process = new Process { StartInfo = start };
        process.OutputDataReceived += (_, line) => Add(output, line.Data);
        process.ErrorDataReceived += (_, line) => Add(error, line.Data);
        process.Start();
        process.StandardInput.Close();
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
    }

    public int Id => process.Id;

    public bool HasExited => process.HasExited;

    /// <summary>Standard error so far.</summary>
    public string Error
    {
        get
        {
            lock (error)
            {
                return error.ToString();
            }
        }
    }

    /// <summary>Waits for the end.</summary>
    public Ended Wait(int seconds = 300)
    {
        if (!process.WaitForExit(TimeSpan.FromSeconds(seconds)))
        {
            process.Kill(entireProcessTree: true);
            throw new TimeoutException($"not done after {seconds} s:\n{Error}");
        }

        process.WaitForExit();
        return new(process.ExitCode, output.ToString(), Error);
    }

    /// <summary>Kills the process and what it started, without warning. False when it had ended by itself.</summary>
    public bool Kill()
    {
        process.Kill(entireProcessTree: true);
        process.WaitForExit();

        // 128 + 9: ended by SIGKILL.
        return process.ExitCode == 137;
    }

    public void Dispose()
    {
        if (!process.HasExited)
        {
            process.Kill(entireProcessTree: true);
            process.WaitForExit();
        }

        process.Dispose();
    }

    private static void Add(StringBuilder to, string? line)
    {
        if (line is not null)
        {
            lock (to)
            {
                to.Append(line).Append('\n');
            }
        }
    }
}

/// <summary>The built command line.</summary>
internal static class Command
{
    /// <summary>The assembly of the command, beside these tests.</summary>
    public static string Assembly { get; } = Path.Combine(AppContext.BaseDirectory, "revisit.dll");

    /// <summary>Runs the command to its end.</summary>
    public static Ended Run(string folder, params string[] arguments)
    {
        using var running = new Running(folder, arguments);
        return running.Wait();
    }
}
