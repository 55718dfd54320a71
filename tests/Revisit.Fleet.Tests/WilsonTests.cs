using System.Globalization;

namespace Revisit.Fleet.Tests;

/// <summary>
/// The interval against the worked examples of Newcombe (1998), Statistics in Medicine 17:857–872, method 3 (score, no
/// continuity correction), given there to four places (copied from memory of the table).
/// </summary>
public sealed class WilsonTests
{
    [Theory]
    [InlineData(81, 263, 0.2553, 0.3662)]
    [InlineData(15, 148, 0.0624, 0.1605)]
    [InlineData(0, 20, 0.0, 0.1611)]
    [InlineData(1, 29, 0.0061, 0.1718)]
    public void Published_examples_come_out_to_four_places(int hits, int n, double low, double high)
    {
        var (_, foundLow, foundHigh) = Interval(hits, n);
        Assert.Equal(low, Math.Round(foundLow!.Value, 4));
        Assert.Equal(high, Math.Round(foundHigh!.Value, 4));
    }

    [Theory]
    [InlineData("INTEGER")]
    [InlineData("BIGINT")]
    public void Large_counts_of_any_whole_type_do_not_overflow(string type)
    {
        // (2np + z²) / (2(n + z²)) ± 1.96 √(p(1 − p)/n) for a very large n: 0.5 ± 0.00098.
        using var lake = new EmptyLake();
        using var session = lake.OpenSession();
        SqlLibrary.Embedded.DefineMacros(session);
        using var reader = session.Query($"select share(h, n), wilson_low(h, n), wilson_high(h, n) from (select 500000::{type} as h, 1000000::{type} as n)");
        reader.Read();
        Assert.Equal(0.5, reader.GetDouble(0));
        Assert.Equal(0.49902, reader.GetDouble(1), 5);
        Assert.Equal(0.50098, reader.GetDouble(2), 5);
    }

    [Fact]
    public void Nothing_counted_gives_nothing() => Assert.Equal((null, null, null), Interval(0, 0));

    [Fact]
    public void The_interval_stays_inside_0_and_1_and_holds_the_share()
    {
        using var lake = new EmptyLake();
        using var session = lake.OpenSession();
        SqlLibrary.Embedded.DefineMacros(session);
        using var reader = session.Query("""
            select count(*), count(*) filter (where not coalesce(wilson_low(h, n) >= 0 and wilson_low(h, n) <= share(h, n)
                and share(h, n) <= wilson_high(h, n) and wilson_high(h, n) <= 1, false))
            from (select unnest(range(0, n + 1)) as h, n from range(1, 200) as sizes(n))
            """);
        reader.Read();
        Assert.Equal(20099, reader.GetInt64(0));
        Assert.Equal(0, reader.GetInt64(1));
    }

    private static (double? Share, double? Low, double? High) Interval(int hits, int n)
    {
        using var lake = new EmptyLake();
        using var session = lake.OpenSession();
        SqlLibrary.Embedded.DefineMacros(session);
        using var reader = session.Query(string.Create(CultureInfo.InvariantCulture, $"select share({hits}, {n}), wilson_low({hits}, {n}), wilson_high({hits}, {n})"));
        reader.Read();
        double? At(int i) => reader.IsDBNull(i) ? null : reader.GetDouble(i);
        return (At(0), At(1), At(2));
    }
}
