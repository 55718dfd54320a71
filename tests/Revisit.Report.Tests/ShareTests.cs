using Revisit.Report.Facts;

namespace Revisit.Report.Tests;

public class ShareTests
{
    /// <summary>Newcombe 1998, Stat. Med. 17:857, table I, method 3 (score without continuity correction); digits from memory.</summary>
    [Theory]
    [InlineData(81, 263, 0.2553, 0.3662)]
    [InlineData(15, 148, 0.0624, 0.1605)]
    [InlineData(0, 20, 0.0000, 0.1611)]
    [InlineData(1, 29, 0.0061, 0.1718)]
    public void The_interval_agrees_with_published_examples(int count, int of, double low, double high)
    {
        var share = new Share(count, of);
        Assert.Equal(low, share.Low, 4);
        Assert.Equal(high, share.High, 4);
    }

    /// <summary>Newcombe 1998, Stat. Med. 17:873, table II, method 10: 56/70 − 48/80 has 0.0524 to 0.3339; digits from memory.</summary>
    [Fact]
    public void Shares_differ_where_the_interval_of_their_difference_leaves_out_zero()
    {
        Assert.Equal(1, new Share(56, 70).ComparedWith(new Share(48, 80)));
        Assert.Equal(-1, new Share(48, 80).ComparedWith(new Share(56, 70)));
        Assert.Equal(0, new Share(9, 10).ComparedWith(new Share(7, 10)));
        Assert.Equal(0, new Share(0, 0).ComparedWith(new Share(7, 10)));
    }
}
