namespace Revisit.Records;

/// <summary>
/// A fault the user can mend: bad settings, a bad profile, a busy lake. The message says what, where, what was expected
/// and what to do; it never holds the content of a private column.
/// </summary>
public sealed class UserError : Exception
{
    public UserError(string message) : base(message) => Problems = [message];

    /// <summary>Several faults found in one pass, so that all can be mended at once.</summary>
    public UserError(string headline, IReadOnlyList<string> problems)
        : base(headline + Environment.NewLine + string.Join(Environment.NewLine, problems.Select(p => "  " + p))) => Problems = problems;

    /// <summary>Each fault on its own.</summary>
    public IReadOnlyList<string> Problems { get; }
}
