using System.Text.RegularExpressions;
using Revisit.Records;

namespace Revisit.Report.Tests;

/// <summary>Pages in SI hold no unit of the trade, and what is converted is right.</summary>
public sealed class UnitTests(SamplePages sample) : IClassFixture<SamplePages>
{
    /// <summary>Units that no page in SI may hold; names of columns stand in code elements and are left out.</summary>
    private static readonly Regex Trade = new(@"°F|\b(psig|cfm|tons?|ft|mph|inwc|Btu)\b|in\. w\.c\.");

    private static readonly Texts Si = Texts.Load("en", "si"), Trades = Texts.Load("en");

    private static IEnumerable<string> Found(IEnumerable<KeyValuePair<string, string>> pages) => pages.SelectMany(p =>
        Trade.Matches(Regex.Replace(p.Value, "<code>.*?</code>|<style>.*?</style>|<script>.*?</script>", " ", RegexOptions.Singleline)).Select(m => $"{p.Key}: {m.Value}"));

    [Fact]
    public void No_unit_of_the_trade_is_left_on_pages_in_si()
    {
        Assert.Empty(Found(sample.With(new() { Units = "si" })));
        Assert.True(Found(sample.Pages).Count() > 50, "the pages in the trade's units hold too few units to prove anything");
    }

    [Fact]
    public void A_brief_in_si_gives_differences_in_kelvin_and_temperatures_in_celsius()
    {
        var words = PageText.Words(sample.With(new() { Units = "si" })["brief-1.html"]);
        Assert.Contains("outdoors 31.1 °C", words, StringComparison.Ordinal);
        Assert.Contains("split 2.9 K under expected (±0.6), measured airflow 24 % over 53.7 L/s a kW (±9).", words, StringComparison.Ordinal);
        Assert.Contains("Temperature split, K 8.4 ± 0.9 11.3 -2.9 ± 1.2", words, StringComparison.Ordinal);
        Assert.Contains("Difference from expected, K", sample.With(new() { Units = "si" })["brief-1.html"], StringComparison.Ordinal);
    }

    /// <summary>Conversions against NIST Special Publication 811 (2008), appendix B.8, worked by hand from its factors (from memory).</summary>
    [Theory]
    [InlineData(55, "°F", "12.8 °C")]
    [InlineData(95, "°F", "35.0 °C")]
    [InlineData(-40, "°F", "-40.0 °C")]
    [InlineData(18, "Δ°F", "10.0 K")]
    [InlineData(100, "psig", "689 kPa")]
    [InlineData(0.5, "in. w.c.", "125 Pa")]
    [InlineData(400, "cfm a ton", "53.7 L/s a kW")]
    [InlineData(1000, "cfm", "472 L/s")]
    [InlineData(2.5, "tons", "8.8 kW")]
    [InlineData(25, "ft", "7.6 m")]
    [InlineData(30, "mph", "48 km/h")]
    [InlineData(900, "kWh a ton", "256 kWh a kW")]
    public void A_quantity_is_converted(double value, string kind, string written) => Assert.Equal(written, Si.Give(value, kind));

    [Fact]
    public void Units_that_do_not_exist_are_refused() => Assert.Contains("'metric'", Assert.Throws<UserError>(() => new PageSettings { Units = "metric" }.Validate()).Message, StringComparison.Ordinal);

    [Theory]
    [InlineData("outdoor 52.3 °F is below the 55 °F a gauge test needs: read again in warmer weather", "outdoor 11.3 °C is below the 12.8 °C a gauge test needs: read again in warmer weather")]
    [InlineData("72.5 [degF] is outside -40 to 140", "22.5 °C is outside -40.0 to 60.0")]
    [InlineData("condensing over outdoor 9.0 °F over expected (±4.5). What else there is at 70 °F stays.", "condensing over outdoor 5.0 K over expected (±2.5). What else there is at 70 °F stays.")]
    public void Words_of_the_tables_are_converted_where_their_pattern_is_known(string text, string si)
    {
        Assert.Equal(si, Si.Said(text));
        Assert.Equal(text.Replace("[degF]", "°F", StringComparison.Ordinal), Trades.Said(text));
    }

    [Theory]
    [InlineData("airflow 62 %: split 5.3 °F under expected, tap medium_high, 2 tons", "airflow 62 %: split 5.3 °F under expected, tap medium high, 2 tons")]
    [InlineData("blower tap: written as medium_low, compare with the airflow the size needs", "blower tap: written as medium low, compare with the airflow the size needs")]
    [InlineData("liquid_pressure_psig missing: charge on a valve is judged by subcooling (liquid pressure and liquid line)", "liquid pressure missing: charge on a valve is judged by subcooling (liquid pressure and liquid line)")]
    public void Codes_in_the_words_of_the_tables_become_words(string text, string words) => Assert.Equal(words, Trades.Said(text));
}
