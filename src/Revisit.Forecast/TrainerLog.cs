using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.ML;

namespace Revisit.Forecast;

/// <summary>Reads from the trainer's own messages how many rows it used; it says so nowhere else.</summary>
internal sealed partial class TrainerLog
{
    private int? processed;
    private int skipped;

    /// <summary>Takes one message.</summary>
    public void Listen(object? sender, LoggingEventArgs e)
    {
        if (Processed().Match(e.RawMessage) is { Success: true } match)
        {
            processed = int.Parse(match.Groups[1].ValueSpan, CultureInfo.InvariantCulture);
        }

        if (Skipped().Match(e.RawMessage) is { Success: true } gap)
        {
            skipped = int.Parse(gap.Groups[1].ValueSpan, CultureInfo.InvariantCulture);
        }
    }

    /// <summary>Rows the trainer says it left out.</summary>
    public int LeftOut => skipped;

    /// <summary>Rows used.</summary>
    /// <exception cref="InvalidOperationException">The trainer gave no count.</exception>
    public int Used(int given) => processed ?? (skipped > 0 ? given - skipped : throw new InvalidOperationException("the trainer did not say how many rows it used"));

    [GeneratedRegex(@"Processed (\d+) instances")]
    private static partial Regex Processed();

    [GeneratedRegex(@"[Ss]kipped (\d+) instances")]
    private static partial Regex Skipped();
}
