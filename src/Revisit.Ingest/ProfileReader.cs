using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using NodaTime;
using NodaTime.Text;
using Revisit.Records;
using YamlDotNet.Core;
using YamlDotNet.RepresentationModel;

namespace Revisit.Ingest;

/// <summary>Reads a source profile and reports all its faults at once, each with file and line.</summary>
public sealed class ProfileReader
{
    private static readonly string[] Keys = ["name", "about", "format", "zone", "missing", "constants", "columns", "private", "ignored"];
    private static readonly string[] FormatKeys = ["kind", "delimiter", "encoding", "decimal", "thousands", "preamble_lines", "expands_at_most"];
    private static readonly string[] ColumnKeys = ["from", "unit", "pressure", "values", "format", "case", "drop"];
    private readonly string file;
    private readonly List<string> problems = [];

    private ProfileReader(string file) => this.file = file;

    /// <summary>Reads a profile file.</summary>
    /// <exception cref="UserError">The file cannot be read, or the profile has faults: all of them are listed.</exception>
    public static SourceProfile Read(string path)
    {
        string text;
        try
        {
            text = YamlText.Read(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new UserError($"The profile {path} cannot be read: {e.Message}");
        }

        return Parse(text, Path.GetFileName(path));
    }

    /// <summary>Reads a profile from text; <paramref name="file"/> is the name used in messages.</summary>
    /// <exception cref="UserError">The profile has faults: all of them are listed.</exception>
    public static SourceProfile Parse(string text, string file)
    {
        var reader = new ProfileReader(file);
        try
        {
            var profile = reader.Build(text);
            if (reader.problems.Count == 0)
            {
                return profile!;
            }
        }
        catch (YamlException e)
        {
            reader.problems.Add($"{file}:{e.Start.Line}: not YAML: {e.Message}");
        }
        catch (InvalidOperationException e)
        {
            reader.problems.Add($"{file}:1: not YAML: {e.Message}");
        }

        throw new UserError($"The profile {file} has {reader.problems.Count} fault(s):", reader.problems);
    }

    private SourceProfile? Build(string text)
    {
        YamlText.Check(text);
        var yaml = new YamlStream();
        yaml.Load(new StringReader(text));
        if (yaml.Documents.Count != 1 || yaml.Documents[0].RootNode is not YamlMappingNode root)
        {
            problems.Add($"{file}:1: a profile is one YAML mapping with the keys {string.Join(", ", Keys)}");
            return null;
        }

        Unknown(root, Keys, "");
        var format = Mapping(root, "format");
        Unknown(format, FormatKeys, "format.");
        var kind = Choice(format, "kind", "csv", ["csv", "ndjson"]) == "ndjson" ? SourceKind.Ndjson : SourceKind.Csv;
        var profile = new SourceProfile
        {
            Name = Scalar(root, "name") ?? Path.GetFileNameWithoutExtension(file),
            File = file,
            Hash = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text))),
            Kind = kind,
            Delimiter = Mark(format, "delimiter", ','),
            Encoding = EncodingName(format),
            Decimal = Mark(format, "decimal", '.'),
            Thousands = Mark(format, "thousands", '\0'),
            PreambleLines = Count(format, "preamble_lines"),
            ExpandsAtMost = Count(format, "expands_at_most") is > 0 and var times ? times : SourceFiles.MostTimes,
            Zone = Zone(root),
            Missing = List(root, "missing").Select(s => SourceProfile.Fold(s)).ToHashSet(),
            Columns = Columns(root),
            Constants = Constants(root),
            Private = List(root, "private"),
            Ignored = List(root, "ignored"),
        };
        if (profile.Delimiter == '"')
        {
            Problem(format, "'delimiter' cannot be the quotation mark");
        }

        if (profile.Thousands == profile.Decimal)
        {
            Problem(format, "'thousands' and 'decimal' are the same mark");
        }

        var named = profile.Columns.Select(c => c.Column).Concat(profile.Constants.Keys).ToHashSet();
        foreach (var required in Tables.IdentityColumns.Where(r => !named.Contains(r)))
        {
            Problem(root, $"column '{required}' is required and has no source; add it under columns or constants");
        }

        foreach (var column in profile.Columns)
        {
            foreach (var heading in column.From.Where(profile.Private.Contains))
            {
                problems.Add($"{file}:{column.Line}: '{heading}' is private and cannot feed '{column.Column}'");
            }
        }

        return profile;
    }

    private List<ProfileColumn> Columns(YamlMappingNode root)
    {
        var result = new List<ProfileColumn>();
        var columns = Mapping(root, "columns");
        if (columns.Children.Count == 0)
        {
            Problem(root, "'columns' is missing: a mapping of our column names to source headings");
        }

        foreach (var (key, value) in columns.Children)
        {
            if (key is not YamlScalarNode { Value: { } name } || !Tables.PlainColumns.Contains(name))
            {
                name = key.ToString();
                Problem(key, $"'{name}' is not a column of the reading row{Nearest(name, Tables.PlainColumns)}");
                continue;
            }

            result.Add(Column(name, value));
        }

        return result;
    }

    private ProfileColumn Column(string name, YamlNode node)
    {
        var term = Nomenclature.Of(name);
        var body = node as YamlMappingNode ?? new YamlMappingNode();
        IReadOnlyList<string> from = node is YamlMappingNode ? List(body, "from") : Items(node, name);
        Unknown(body, ColumnKeys, name + ".");
        if (from.Count == 0 || from.Any(string.IsNullOrWhiteSpace))
        {
            Problem(node, $"'{name}' names no source heading; write {name}: Heading, or from: Heading");
        }

        UcumUnit? unit = null;
        var code = Scalar(body, "unit");
        if (term.Kind == ColumnKind.Number)
        {
            var own = UcumUnit.OfColumn(term);
            unit = code is null ? own : UcumUnit.Find(code, own.Dimension);
            if (unit is null)
            {
                Problem(body.Children["unit"], UcumUnit.IsKnown(code!)
                    ? $"'{name}' is a {own.Dimension}: the unit '{code}' measures something else"
                    : $"'{name}' has the unknown unit '{code}'; UCUM codes taken: {string.Join(" ", UcumUnit.KnownCodes)}");
            }
        }
        else if (code is not null)
        {
            Problem(body.Children["unit"], $"'{name}' is not a number with a unit; take 'unit' out");
        }

        var pressure = Choice(body, "pressure", "gauge", ["gauge", "absolute"]);
        if (body.Children.TryGetValue("pressure", out var gauge) && !name.EndsWith("_psig", StringComparison.Ordinal))
        {
            Problem(gauge, $"'{name}' is not a gauge pressure; take 'pressure' out");
        }

        var values = new Dictionary<string, string>();
        foreach (var (written, ours) in Pairs(Mapping(body, "values"), name + ".values"))
        {
            var target = ours.Value!;
            var codes = name == "correction" ? Codes.Correction : term.Codes;
            if (codes.Count > 0 && !codes.Contains(target))
            {
                Problem(ours, $"'{name}' cannot be '{target}'; it is one of {string.Join(", ", codes)}");
            }

            if (!values.TryAdd(SourceProfile.Fold(written.Value!), target))
            {
                Problem(written, $"'{name}' lists '{written}' twice (case, spaces and punctuation do not count)");
            }
        }

        var formats = List(body, "format");
        foreach (var format in formats)
        {
            try
            {
                _ = term.Kind switch
                {
                    ColumnKind.Day => (object)LocalDatePattern.CreateWithInvariantCulture(format),
                    ColumnKind.Instant => LocalDateTimePattern.CreateWithInvariantCulture(format),
                    _ => throw new InvalidPatternException("only dates and times have a format"),
                };
            }
            catch (InvalidPatternException e)
            {
                Problem(body.Children["format"], $"'{name}' has the format '{format}': {e.Message} Write for example M/d/yyyy h:mm tt");
            }
        }

        return new(name, from, unit, pressure == "absolute", values, formats,
            Choice(body, "case", "keep", ["keep", "upper"]) == "upper", Scalar(body, "drop") ?? "", Line(node));
    }

    private Dictionary<string, string> Constants(YamlMappingNode root)
    {
        var result = new Dictionary<string, string>();
        foreach (var (key, value) in Pairs(Mapping(root, "constants"), "constants"))
        {
            if (!Tables.PlainColumns.Contains(key.Value!) || Nomenclature.Of(key.Value!).Kind == ColumnKind.Instant)
            {
                Problem(key, $"constant '{key.Value}' is not a column of the reading row that can be the same for all rows{Nearest(key.Value!, Tables.PlainColumns)}");
            }
            else if (ConstantRow.Fault(key.Value!, value.Value!) is { } fault)
            {
                Problem(value, $"constant '{key.Value}' is '{value.Value}'; {fault}");
            }
            else
            {
                result[key.Value!] = value.Value!;
            }
        }

        return result;
    }

    private DateTimeZone? Zone(YamlMappingNode root)
    {
        var name = Scalar(root, "zone");
        if (name is null)
        {
            return null;
        }

        var zone = DateTimeZoneProviders.Tzdb.GetZoneOrNull(name);
        if (zone is null)
        {
            Problem(root.Children["zone"], $"zone '{name}' is not in the IANA time zone database; write for example America/Chicago or UTC");
        }

        return zone;
    }

    private string EncodingName(YamlMappingNode format)
    {
        var name = Scalar(format, "encoding") ?? "utf-8";
        try
        {
            _ = TextSource.EncodingOf(name);
        }
        catch (Exception e) when (e is ArgumentException or NotSupportedException)
        {
            Problem(format.Children["encoding"], $"encoding '{name}' is unknown; write for example utf-8, windows-1252 or utf-16");
        }

        return name;
    }

    private char Mark(YamlMappingNode node, string key, char otherwise)
    {
        var text = Scalar(node, key);
        if (text is null)
        {
            return otherwise;
        }

        if (text == "tab")
        {
            return '\t';
        }

        if (text.Length != 1)
        {
            Problem(node.Children[key], $"'{key}' is one character (or tab), not '{text}'");
            return otherwise;
        }

        return text[0];
    }

    private int Count(YamlMappingNode node, string key)
    {
        var text = Scalar(node, key);
        if (text is null)
        {
            return 0;
        }

        if (!int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var value) || value > 1000)
        {
            Problem(node.Children[key], $"'{key}' is a whole number from 0 to 1000, not '{text}'");
        }

        return value;
    }

    private string Choice(YamlMappingNode node, string key, string otherwise, string[] allowed)
    {
        var text = Scalar(node, key) ?? otherwise;
        if (!allowed.Contains(text))
        {
            Problem(node.Children[key], $"'{key}' is {string.Join(" or ", allowed)}, not '{text}'");
        }

        return text;
    }

    private void Unknown(YamlMappingNode node, string[] known, string prefix)
    {
        foreach (var key in node.Children.Keys.OfType<YamlScalarNode>().Where(k => !known.Contains(k.Value)))
        {
            Problem(key, $"unknown key '{prefix}{key.Value}'{Nearest(key.Value!, known)}");
        }
    }

    private string? Scalar(YamlMappingNode node, string key)
    {
        if (!node.Children.TryGetValue(key, out var value))
        {
            return null;
        }

        if (value is not YamlScalarNode scalar)
        {
            Problem(value, $"'{key}' is one value, not a list or a mapping");
            return null;
        }

        return scalar.Value;
    }

    private YamlMappingNode Mapping(YamlMappingNode node, string key)
    {
        if (node.Children.TryGetValue(key, out var value) && value is not YamlMappingNode)
        {
            Problem(value, $"'{key}' is a mapping, such as {key}: {{ name: value }}");
        }

        return value as YamlMappingNode ?? new YamlMappingNode();
    }

    private List<string> List(YamlMappingNode node, string key) =>
        node.Children.TryGetValue(key, out var value) ? Items(value, key) : [];

    private List<string> Items(YamlNode node, string key)
    {
        var items = node is YamlSequenceNode list ? list.Children : [node];
        foreach (var wrong in items.Where(i => i is not YamlScalarNode))
        {
            Problem(wrong, $"'{key}' is one value or a list of values, such as [a, b]");
        }

        return [.. items.OfType<YamlScalarNode>().Select(i => i.Value ?? "")];
    }

    /// <summary>The pairs of a mapping whose keys and values are plain texts.</summary>
    private IEnumerable<(YamlScalarNode Key, YamlScalarNode Value)> Pairs(YamlMappingNode node, string key)
    {
        foreach (var (name, value) in node.Children)
        {
            if (name is YamlScalarNode { Value: not null } text && value is YamlScalarNode { Value: not null } target)
            {
                yield return (text, target);
            }
            else
            {
                Problem(name, $"'{key}' maps one text to one text");
            }
        }
    }

    private static string Nearest(string name, IEnumerable<string> known)
    {
        var near = known.Where(k => k.Contains(name, StringComparison.OrdinalIgnoreCase) || name.Contains(k, StringComparison.OrdinalIgnoreCase)
            || k.Split('_')[0] == name.Split('_')[0]).Take(3).ToList();
        return near.Count > 0 ? $"; did you mean {string.Join(", ", near)}?" : $"; known: {string.Join(", ", known.Take(12))} …";
    }

    private void Problem(YamlNode node, string text) => problems.Add($"{file}:{Line(node)}: {text}");

    private static int Line(YamlNode node) => (int)node.Start.Line;
}
