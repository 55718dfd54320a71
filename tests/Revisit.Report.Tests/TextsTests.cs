using System.Text.RegularExpressions;
using Revisit.Records;

namespace Revisit.Report.Tests;

public class TextsTests
{
    private static readonly Texts English = Texts.Load("en");

    [Fact]
    public void Every_code_of_the_contract_has_words()
    {
        foreach (var (set, codes) in new[]
        {
            ("finding", Codes.Finding), ("outcome", Codes.Outcome), ("season", Codes.Season), ("kind", Codes.VisitKind), ("metering", Codes.Metering),
            ("correction", Codes.Correction), ("aside", Codes.SetAside), ("rejected", Codes.Rejected),
        })
        {
            Assert.All(codes, c => Assert.True(English.Has($"{set}.{c}"), $"{set}.{c}"));
        }
    }

    [Theory]
    [InlineData("doubt", "intermediate/int_doubts_listed.sql", "(?:then|else) '([a-z_]+)'")]
    [InlineData("column", "marts/missing_values.sql", @"count\(\*\) - count\(([a-z_]+)\)")]
    public void Every_code_that_sql_counts_has_words(string set, string file, string pattern)
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "Analytics.sln")))
        {
            folder = Path.GetDirectoryName(folder)!;
        }

        var codes = Regex.Matches(File.ReadAllText(Path.Combine(folder, "pipelines", "sql", file)), pattern).Select(m => m.Groups[1].Value).Distinct().ToList();
        Assert.True(codes.Count > 10);
        Assert.All(codes, c => Assert.True(English.Has($"{set}.{c}"), $"{set}.{c}"));
    }

    /// <summary>Placeholders and quantities of a text, in any order.</summary>
    private static string Holes(string text) => string.Join(' ', Regex.Matches(text, @"\{\w+\}|\[[^\]]*\]|#|@[a-z]+").Select(m => m.Value).Order(StringComparer.Ordinal));

    private static Dictionary<string, string> Flat(string language)
    {
        using var file = System.Text.Json.JsonDocument.Parse(Resources.Get(language + ".json"));
        return file.RootElement.EnumerateObject().SelectMany(e => e.Value.ValueKind == System.Text.Json.JsonValueKind.Object
            ? e.Value.EnumerateObject().Select(f => (Key: $"{e.Name}/{f.Name}", Text: f.Value.GetString()!))
            : [(Key: e.Name, Text: e.Value.GetString()!)]).ToDictionary(e => e.Key, e => e.Text);
    }

    [Fact]
    public void Every_language_has_the_same_texts_with_the_same_holes()
    {
        var english = Flat("en");
        foreach (var language in Texts.Languages.Where(l => l != "en"))
        {
            var other = Flat(language);
            Assert.Equal(english.Keys.Order(StringComparer.Ordinal), other.Keys.Order(StringComparer.Ordinal));
            Assert.Empty(english.Where(e => Holes(e.Value) != Holes(other[e.Key])).Select(e => e.Key));
            Assert.Empty(english.Where(e => other[e.Key] == e.Value && Regex.IsMatch(Regex.Replace(e.Value, @"\[[^\]]*\]|@[a-z]+", ""), "[A-Za-z]{3,} [a-z]{2,}")).Select(e => e.Key));
        }
    }

    [Fact]
    public void Every_caution_is_said_in_spanish()
    {
        var spanish = Texts.Load("es");
        var cautions = typeof(Caution).GetFields().Where(f => f.IsLiteral).Select(f => (string)f.GetRawConstantValue()!).Append(Caution.Of("R-32")!).Append(Caution.Of("R-454B")!).ToList();
        Assert.True(cautions.Count > 8);
        Assert.All(cautions, c => Assert.DoesNotMatch(@"\b(power|before|after|only|by|hold|attic|heat|falls|watch|coil|first|come|decides|tools|mildly|flammable|nameplate)\b", spanish.Said(c)));
    }

    [Theory]
    [InlineData("For too much air over in line: split 5.3 °F under expected (±1.1), evaporating 3.0 °F over expected (±0.8). Put airflow right before judging charge.",
        "A favor de exceso de caudal de aire frente a dentro de lo esperado: salto térmico 5.3 °F por debajo de lo esperado (±1.1), evaporación 3.0 °F por encima de lo esperado (±0.8). Corrija el caudal de aire antes de evaluar la carga.")]
    [InlineData("airflow 62 %: tap medium_high, 45 ft line set, ducts in the attic; charge 30 %: nothing stands out",
        "caudal de aire 62 %: toma de velocidad media alta, líneas de 45 ft, ductos en el ático; carga 30 %: nada destaca")]
    [InlineData("the start-up reading cannot be judged: liquid_pressure_psig missing: charge on a valve is judged by subcooling (liquid pressure and liquid line)",
        "la lectura de la puesta en marcha no se puede evaluar: falta presión de líquido: con válvula la carga se evalúa por subenfriamiento (presión y línea de líquido)")]
    [InlineData("what no pattern knows", "what no pattern knows")]
    public void Words_of_the_tables_are_said_in_spanish(string text, string spanish) => Assert.Equal(spanish, Texts.Load("es").Said(text));

    [Fact]
    public void One_and_many_have_their_own_words()
    {
        Assert.StartsWith("1 install to", English.Say("work.intro", 1, "x"), StringComparison.Ordinal);
        Assert.StartsWith("2 installs to", English.Say("work.intro", 2, "x"), StringComparison.Ordinal);
    }

    [Fact]
    public void A_missing_text_or_language_is_named()
    {
        Assert.Contains("'no.such'", Assert.Throws<KeyNotFoundException>(() => English.Say("no.such")).Message, StringComparison.Ordinal);
        Assert.Contains("'xx'", Assert.Throws<UserError>(() => Texts.Load("xx")).Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("a<b>&\"'", "a&lt;b&gt;&amp;&quot;&#39;")]
    [InlineData("two\r\nlines", "two\nlines")]
    [InlineData("\u202Egnp\u0007", "\uFFFDgnp\uFFFD")]
    [InlineData(null, "")]
    public void Text_is_escaped(string? text, string markup) => Assert.Equal(markup, Html.Of($"{text}").Markup);
}
