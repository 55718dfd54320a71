using Revisit.Report.Figures;

namespace Revisit.Report.Tests;

public class FigureTests
{
    [Fact]
    public void Nothing_in_the_data_of_a_figure_can_end_their_element()
    {
        var trace = Plot.Trace("bar", ("x", new[] { 1 }), ("y", new[] { "</script><script>alert(1)</script><!--" }));
        var figure = new Figure("figure-x", "alt", "caption", 100, Plot.Chart([trace]), Plot.Of(), Plot.Of(), Html.None).ToHtml("numbers").Markup;
        Assert.Equal(2, figure.Split("<script").Length);
        Assert.Equal(2, figure.Split("</script").Length);
        Assert.DoesNotContain("<!--", figure, StringComparison.Ordinal);
        Assert.Contains("\\u003c/script\\u003e", figure, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("a<b> & \"c\" 'd'", "a&lt;b&gt; &amp; \"c\" 'd'")]
    [InlineData("0123456789012345678901234567890123456789012345678901234567890", "012345678901234567890123456789012345678901234567…")]
    public void A_label_is_text_to_plotly_and_not_too_long(string text, string label) => Assert.Equal(label, Plot.Label(text));

    [Fact]
    public void A_figure_is_the_same_each_time_it_is_written()
    {
        Figure Make() => new FigureSet(Texts.Load("en")).Bars("figure-x", "alt", "caption", "axis", Palette.Blue, [("one", 1, "1"), ("two", 2, "2")], Html.None);
        Assert.Equal(Make().ToHtml("n"), Make().ToHtml("n"));
    }
}
