using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using Revisit.Records;

namespace Revisit.Ingest;

/// <summary>A drafted profile and what could not be placed.</summary>
/// <param name="Yaml">The draft, ready to be saved, checked and edited.</param>
/// <param name="NotPlaced">Headings or paths that fit no column.</param>
/// <param name="NotFound">Required columns that no heading fits.</param>
public sealed record DraftedProfile(string Yaml, IReadOnlyList<string> NotPlaced, IReadOnlyList<string> NotFound);

/// <summary>
/// Drafts a source profile from the first lines of an export. It guesses from headings and values and says so; a person has to
/// check units, gauge or absolute, the time zone and what is private.
/// </summary>
public static partial class ProfileDraft
{
    private const int SampleLines = 200, MostColumns = 2_000;
    private static readonly JsonSerializerOptions Plain = new() { Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>Words of a heading that point to a column, best first. Common practice, no source.</summary>
    private static readonly (string Column, Regex Words)[] Hints =
    [.. new (string Column, string Words)[]
    {
        ("saved_at", "saved|edited|updated|stored|modified"), ("installed_on", "installed|startup date|started up on|commissioned on"),
        ("visited_at", "utc|visited|taken|timestamp|date|fecha|datum|day"), ("visit_kind", "job type|visit type|purpose|reason|tipo|kind|because|motif|why"),
        ("visit_id", "visit|job|ticket|session|order|visita|work order|^vis$"), ("reading_no", "reading|seq|pass|lectura|no\\.?$|relevé"),
        ("install_id", "install|serial|unit id|equipment|equipo|system id|appareil|asset|tag$"), ("crew_id", "crew|cuadrilla|team|[eé]quipe"), ("technician_id", "tech|mechanic|person"),
        ("region", "branch|region|agence"), ("nominal_tons", "tons?\\b|size|tonel|kw$|froid nominal"), ("refrigerant", "refriger|gas$|fluid"), ("metering", "meter|valve|expansion|válvula|device"),
        ("target_subcooling_f", "subcool.*(aim|target|goal)|sc_set|target.*sc|target.*sub|sub.*(target|goal|objetivo)|target_sc"), ("line_set_ft", "line ?set|line_m|line.*length"),
        ("blower_motor", "motor"), ("duct_location", "ducts?$"), ("phase", "found|before|\\bstate|estado|phase|étape"), ("minutes_running", "\\bmin|minut|ran_min"),
        ("blower_tap", "tap|speed|velocidad"), ("filter_state", "filter|filtro|filtre"),
        ("outdoor_db_f", "outdoor|outside|exterior|ambient|ext\\.|t_?out|air.out$"), ("return_wb_f", "return.*(wb|wet)|wet.*return|ret_wb|back.*wet"), ("return_rh_pct", "return.*(rh|hum)|retorno.*hr|reprise.*hr|back.*rh"),
        ("return_db_f", "return.*(db|dry)|retorno.*seco|return|reprise|ret_db|back$"), ("supply_wb_f", "supply.*(wb|wet)|blown.*wet"), ("supply_rh_pct", "supply.*(rh|hum)"),
        ("supply_db_f", "supply.*(db|dry)|impuls|supply|soufflage|sup_db|blown$"), ("suction_line_f", "suction.*(line|pipe|_c$|_f$)|línea succ|t_?suc"), ("liquid_line_f", "liquid.*(line|pipe|_c$|_f$)|línea líq|t_?liq"),
        ("suction_pressure_psig", "suction|succi|low.*(kpa|psi|bar|side)|^BP\\b|p_?suc"), ("liquid_pressure_psig", "liquid|líquido|high.*(kpa|psi|bar|side)|discharge press|^HP\\b|p_?liq"),
        ("discharge_line_f", "discharge|hot.?gas|refoulement"), ("external_static_inwc", "static|esp$|esp_pa|presión estática"), ("airflow_cfm", "cfm|flow|airflow|m3h"),
        ("system_power_w", "system.*power|kw total"), ("blower_power_w", "blower.*(power|watt)"), ("correction_from", "was$|from$"), ("correction_to", "now$|to$"),
        ("charge_change_oz", "oz|charge|carga|gas_g"), ("correction", "work done|action|correc|done"), ("notes", "notes?|remark|observ|comment"),
    }.Select(h => (h.Column, new Regex(h.Words, RegexOptions.IgnoreCase)))];

    /// <summary>Reads a sample of the file and drafts a profile.</summary>
    /// <exception cref="UserError">The file cannot be read or is empty.</exception>
    public static DraftedProfile Of(string path)
    {
        string[] lines;
        string encoding;
        try
        {
            (lines, encoding) = Sample(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new UserError($"{path} cannot be read: {e.Message}");
        }

        if (lines.Length == 0)
        {
            throw new UserError($"{path} is empty; there is nothing to draft a profile from");
        }

        var name = Path.GetFileNameWithoutExtension(SourceFiles.PlainName(path)).ToLowerInvariant();
        return lines[0].TrimStart().StartsWith('{') ? OfJson(lines, name) : OfCsv(lines, name, encoding)
            ?? throw new UserError($"no heading line was found in {path}: expected delimited text (comma, semicolon, tab or bar) or one JSON object a line");
    }

    private static (string[] Lines, string Encoding) Sample(string path)
    {
        var head = new byte[1 << 18];
        using var stream = SourceFiles.Open(path);
        var length = stream.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
        var bytes = head.AsSpan(0, length);
        var name = bytes.StartsWith((byte[])[0xFF, 0xFE]) ? "utf-16" : "utf-8";
        if (name == "utf-8" && !IsUtf8(bytes))
        {
            name = "windows-1252";
        }

        using var reader = TextSource.Open(new MemoryStream(head, 0, length), name);
        var lines = new List<string>();
        while (lines.Count < SampleLines && reader.ReadLine() is { } line)
        {
            lines.Add(line);
        }

        return ([.. lines], name);
    }

    private static bool IsUtf8(ReadOnlySpan<byte> bytes)
    {
        // A sample may end inside a character: the last three bytes are not held against it.
        var text = new UTF8Encoding(false, throwOnInvalidBytes: true);
        for (var cut = 0; cut <= Math.Min(3, bytes.Length); cut++)
        {
            try
            {
                _ = text.GetCharCount(bytes[..^cut]);
                return true;
            }
            catch (DecoderFallbackException)
            {
                // Try with less of the tail.
            }
        }

        return false;
    }

    private static DraftedProfile? OfCsv(string[] lines, string name, string encoding)
    {
        var text = string.Join('\n', lines);
        var (delimiter, records) = new[] { ',', ';', '\t', '|' }.Select(d => (Delimiter: d, Records: Records(text, d)))
            .MaxBy(c => Typical(c.Records) is var width and > 1 ? c.Records.Count(r => r.Count == width) * 100 + width : 0);
        var width = Typical(records);
        var preamble = records.TakeWhile(r => r.Count != width).Count();
        if (records.Count <= preamble || width > MostColumns)
        {
            return null;
        }

        var columns = records[preamble].Select((h, i) => (Heading: h.Trim(), Values: records.Skip(preamble + 1).Where(r => r.Count == width).Select(r => r[i].Trim()).ToList())).ToList();
        var commas = delimiter != ',' && columns.SelectMany(c => c.Values).Count(v => DecimalComma().IsMatch(v)) > columns.SelectMany(c => c.Values).Count(v => DecimalPoint().IsMatch(v));
        var format = new StringBuilder("format:\n  kind: csv\n");
        format.Append(CultureInfo.InvariantCulture, $"  delimiter: {(delimiter == '\t' ? "tab" : $"\"{delimiter}\"")}\n  encoding: {encoding}\n  decimal: \"{(commas ? ',' : '.')}\"\n");
        if (preamble > 0)
        {
            format.Append(CultureInfo.InvariantCulture, $"  preamble_lines: {preamble}\n");
        }

        return Draft(name, format.ToString(), columns);
    }

    /// <summary>The fields of every record; quotation marks are respected, so a delimiter or a line end inside them does not count.</summary>
    private static List<List<string>> Records(string text, char delimiter)
    {
        var reader = new RecordReader(new StringReader(text), delimiter);
        var records = new List<List<string>>();
        while (reader.Read())
        {
            records.Add([.. Enumerable.Range(0, reader.FieldCount).Select(reader.FieldText)]);
        }

        return records;
    }

    private static int Typical(List<List<string>> records) =>
        records.GroupBy(r => r.Count).OrderByDescending(g => g.Count()).ThenByDescending(g => g.Key).Select(g => g.Key).FirstOrDefault();

    private static DraftedProfile OfJson(string[] lines, string name)
    {
        var values = new Dictionary<string, List<string>>();
        var order = new List<string>();
        foreach (var line in lines)
        {
            try
            {
                using var document = JsonDocument.Parse(line);
                Walk(document.RootElement, "", values, order);
            }
            catch (JsonException)
            {
                // A broken line of the sample teaches nothing; ingest will reject it with its reason.
            }
        }

        return Draft(name, "format: { kind: ndjson }\n", [.. order.Select(p => (p, values[p]))]);
    }

    private static void Walk(JsonElement element, string path, Dictionary<string, List<string>> values, List<string> order)
    {
        if (element.ValueKind == JsonValueKind.Object)
        {
            foreach (var property in element.EnumerateObject())
            {
                Walk(property.Value, path.Length == 0 ? property.Name : path + "." + property.Name, values, order);
            }
        }
        else
        {
            if (!values.TryGetValue(path, out var list))
            {
                values[path] = list = [];
                order.Add(path);
            }

            list.Add(element.ValueKind == JsonValueKind.Null ? "" : element.ToString());
        }
    }

    private static DraftedProfile Draft(string name, string format, List<(string Heading, List<string> Values)> columns)
    {
        var yaml = new StringBuilder();
        yaml.Append(CultureInfo.InvariantCulture, $"# Drafted from a sample. Check every line: units, gauge or absolute, time zone, what is private.\nname: {name}\nabout: \n{format}");
        yaml.Append("zone: UTC          # CHECK: an IANA zone such as America/Chicago when times are local\nconstants:\n  elevation_ft: 0  # CHECK\ncolumns:\n");
        var free = Hints.Select(h => h.Column).ToHashSet();
        var (notPlaced, looksPrivate) = (new List<string>(), new List<string>());
        foreach (var (heading, values) in columns)
        {
            if (LooksPrivate().IsMatch(heading))
            {
                looksPrivate.Add(heading);
                continue;
            }

            var hint = Tables.PlainColumns.Contains(heading) && free.Contains(heading)
                ? heading
                : Hints.FirstOrDefault(h => free.Contains(h.Column) && h.Words.IsMatch(heading)).Column;
            if (hint is null)
            {
                notPlaced.Add(heading);
                continue;
            }

            free.Remove(hint);
            yaml.Append(CultureInfo.InvariantCulture, $"  {hint}: {Body(hint, heading, values)}\n");
        }

        if (looksPrivate.Count > 0)
        {
            yaml.Append(CultureInfo.InvariantCulture, $"private: [{string.Join(", ", looksPrivate.Select(Quote))}]\n");
        }

        if (notPlaced.Count > 0)
        {
            yaml.Append(CultureInfo.InvariantCulture, $"ignored: [{string.Join(", ", notPlaced.Select(Quote))}]   # CHECK: not placed\n");
        }

        return new(yaml.ToString(), notPlaced, [.. Tables.IdentityColumns.Where(free.Contains)]);
    }

    private static string Body(string column, string heading, List<string> values)
    {
        var term = Nomenclature.Of(column);
        var distinct = values.Where(v => v.Length > 0).Distinct().Take(12).ToList();
        if (term.Kind == ColumnKind.Number)
        {
            var unit = UnitOf(heading, term);
            var pressure = column.EndsWith("_psig", StringComparison.Ordinal) ? heading.Contains("abs", StringComparison.OrdinalIgnoreCase) ? ", pressure: absolute" : ", pressure: gauge" : "";
            return $"{{ from: {Quote(heading)}, unit: \"{unit}\"{pressure} }}";
        }

        if (term.Codes.Count > 0 || column == "correction")
        {
            var codes = column == "correction" ? Codes.Correction : term.Codes;
            var open = distinct.Where(v => !codes.Any(c => SourceProfile.Fold(c) == SourceProfile.Fold(v))).ToList();
            return open.Count == 0
                ? Quote(heading)
                : $"{{ from: {Quote(heading)}, values: {{ {string.Join(", ", open.Select(v => $"{Quote(v)}: {codes[0]}"))} }} }}   # CHECK each: {string.Join(", ", codes)}";
        }

        if (term.Kind is ColumnKind.Instant or ColumnKind.Day && distinct.Count > 0 && !distinct[0].StartsWith("20", StringComparison.Ordinal))
        {
            return $"{{ from: {Quote(heading)}, format: \"{(term.Kind == ColumnKind.Day ? "M/d/yyyy" : "M/d/yyyy h:mm tt")}\" }}   # CHECK the format; the sample has {Quote(distinct[0])}";
        }

        return Quote(heading);
    }

    private static string UnitOf(string heading, Term term)
    {
        var own = UcumUnit.OfColumn(term);
        var marks = new (string Pattern, string Code)[]
        {
            ("°C|_c$|\\bC\\b|celsius", "Cel"), ("°F|\\bF\\b|_f$", "[degF]"), ("kelvin|_k$|\\bK\\b", "K"), ("kpa", "kPa"), ("mpa", "MPa"), ("\\bbar", "bar"), ("psi", "[psi]"),
            ("\\bpa\\b|_pa$", "Pa"), ("w\\.?c|in\\.? ?w", "[in_i'H2O]"), ("m3|m³", "m3/h"), ("cfm", "[cft_i]/min"), ("\\(g\\)|_g$", "g"), ("oz", "[oz_av]"), ("kw", "kW"), ("_m$|\\bm\\b", "m"), ("ft", "[ft_i]"),
        };
        return marks.Where(m => Regex.IsMatch(heading, m.Pattern, RegexOptions.IgnoreCase) && UcumUnit.Find(m.Code, own.Dimension) is not null)
            .Select(m => m.Code).FirstOrDefault() ?? own.Code;
    }

    private static string Quote(string text) => JsonSerializer.Serialize(text, Plain);

    [GeneratedRegex("phone|customer|address|e-?mail|owner|tenant|teléfono|téléphone|cliente?|street|zip", RegexOptions.IgnoreCase)]
    private static partial Regex LooksPrivate();

    [GeneratedRegex(@"^-?\d+,\d{1,2}$")]
    private static partial Regex DecimalComma();

    [GeneratedRegex(@"^-?\d+\.\d+$")]
    private static partial Regex DecimalPoint();
}
