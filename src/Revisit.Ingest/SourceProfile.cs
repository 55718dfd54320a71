using NodaTime;

namespace Revisit.Ingest;

/// <summary>How the rows of a source stand in its file.</summary>
public enum SourceKind
{
    /// <summary>Delimited text with a heading line.</summary>
    Csv,

    /// <summary>One JSON document a line; headings are dotted paths.</summary>
    Ndjson,
}

/// <summary>How one column of the contract is read from a source.</summary>
/// <param name="Column">Column of the contract.</param>
/// <param name="From">Source headings or paths; several are joined by a space.</param>
/// <param name="Unit">UCUM unit of the source; null for text, codes and times.</param>
/// <param name="Absolute">Pressure given absolute rather than gauge.</param>
/// <param name="Values">What the source writes → our code; keys are folded by <see cref="SourceProfile.Fold"/>.</param>
/// <param name="Formats">Exact date or time formats to try in order; empty means ISO 8601.</param>
/// <param name="Upper">Whether to put the text in capitals.</param>
/// <param name="Drop">Characters to take out of the text.</param>
/// <param name="Line">Line of the profile it stands on.</param>
public sealed record ProfileColumn(
    string Column, IReadOnlyList<string> From, UcumUnit? Unit, bool Absolute, IReadOnlyDictionary<string, string> Values,
    IReadOnlyList<string> Formats, bool Upper, string Drop, int Line);

/// <summary>How to read one branch's exports. Made by <see cref="ProfileReader"/> from a YAML file; a new branch is a new file.</summary>
public sealed record SourceProfile
{
    public required string Name { get; init; }

    /// <summary>Name of the file it was read from, for messages.</summary>
    public string File { get; init; } = "";

    /// <summary>SHA-256 of the profile's text, lower-case hex.</summary>
    public required string Hash { get; init; }

    public required SourceKind Kind { get; init; }

    public char Delimiter { get; init; } = ',';

    /// <summary>Name of the text encoding; a byte order mark in the file wins.</summary>
    public string Encoding { get; init; } = "utf-8";

    public char Decimal { get; init; } = '.';

    /// <summary>Thousands mark, or '\0' for none.</summary>
    public char Thousands { get; init; }

    /// <summary>Times its size that a compressed file may expand to.</summary>
    public int ExpandsAtMost { get; init; } = SourceFiles.MostTimes;

    /// <summary>Lines before the heading line.</summary>
    public int PreambleLines { get; init; }

    /// <summary>Zone of local times; null when every time carries its own offset.</summary>
    public DateTimeZone? Zone { get; init; }

    /// <summary>Cells that mean "no value", folded.</summary>
    public IReadOnlySet<string> Missing { get; init; } = new HashSet<string>();

    public required IReadOnlyList<ProfileColumn> Columns { get; init; }

    /// <summary>Values that stand for every row: column of the contract → value in its unit.</summary>
    public IReadOnlyDictionary<string, string> Constants { get; init; } = new Dictionary<string, string>();

    /// <summary>Headings or paths dropped at the door.</summary>
    public IReadOnlyList<string> Private { get; init; } = [];

    /// <summary>Headings known and not used.</summary>
    public IReadOnlyList<string> Ignored { get; init; } = [];

    /// <summary>The plain reading row: columns already bear the names of the contract.</summary>
    public static SourceProfile Plain(SourceKind kind) => new()
    {
        Name = "plain",
        Hash = kind == SourceKind.Csv ? "plain-csv-1" : "plain-ndjson-1",
        Kind = kind,
        Columns = [.. Records.Tables.PlainColumns.Select((c, i) =>
        {
            var term = Records.Nomenclature.Of(c);
            var numeric = term.Kind is Records.ColumnKind.Number;
            return new ProfileColumn(c, [c], numeric ? UcumUnit.OfColumn(term) : null, false, new Dictionary<string, string>(), [], false, "", 0);
        })],
    };

    /// <summary>Folds case, spaces and punctuation, so that "Fixed orifice", "fixed-orifice" and "FIXED ORIFICE" are one.</summary>
    public static string Fold(ReadOnlySpan<char> text)
    {
        Span<char> buffer = text.Length <= 128 ? stackalloc char[text.Length] : new char[text.Length];
        var n = 0;
        foreach (var c in text)
        {
            if (char.IsLetterOrDigit(c))
            {
                buffer[n++] = char.ToLowerInvariant(c);
            }
        }

        return n > 0 ? new string(buffer[..n]) : new string(text.Trim());
    }
}
