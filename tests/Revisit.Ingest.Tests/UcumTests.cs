using System.Globalization;

namespace Revisit.Ingest.Tests;

/// <summary>Units by UCUM code, against what the reference implementation of UCUM computes (Published/ucum.csv).</summary>
public class UcumTests
{
    /// <summary>Codes the reference has no row for: the trade's ton is not UCUM; an efficiency ratio is only ever itself.</summary>
    private static readonly string[] NotInReference = ["[ton_refrig]", "[Btu_IT]/W.h", "[Btu_IT]/(W.h)"];

    private static IEnumerable<string[]> Published() =>
        File.ReadLines(Path.Combine(AppContext.BaseDirectory, "Published", "ucum.csv")).Where(l => !l.StartsWith('#')).Skip(1).Select(l => l.Split(','));

    [Fact]
    public void Every_code_converts_as_the_reference_does()
    {
        var problems = new List<string>();
        foreach (var row in Published())
        {
            var dimension = Enum.Parse<Dimension>(row[0]);
            var (from, to) = (UcumUnit.Find(row[1], dimension), UcumUnit.Find(row[2], dimension));
            Assert.True(from is not null && to is not null, string.Join(',', row));
            var (value, expected) = (double.Parse(row[3], CultureInfo.InvariantCulture), double.Parse(row[4], CultureInfo.InvariantCulture));
            var (scale, offset) = from.To(to);
            var got = value * scale + offset;
            if (!(Math.Abs(got - expected) <= 2e-13 + 1e-9 * Math.Abs(expected) + (dimension == Dimension.Temperature ? 1e-12 : 0)))
            {
                problems.Add($"{string.Join(',', row)}: got {got:R}");
            }
        }

        Assert.Empty(problems);
    }

    [Fact]
    public void Every_code_the_profiles_take_is_held_against_the_reference()
    {
        var published = Published().Select(r => (Enum.Parse<Dimension>(r[0]), r[1])).ToHashSet();
        var open = from code in UcumUnit.KnownCodes.Except(NotInReference)
                   from dimension in Enum.GetValues<Dimension>()
                   where UcumUnit.Find(code, dimension) is not null && !published.Contains((dimension, code))
                   // One kelvin is one degree Celsius as a difference, and one °F is one °R: held by the test below.
                   where dimension != Dimension.TemperatureDifference
                   select $"{dimension} {code}";
        Assert.Empty(open);
    }

    [Theory]
    [InlineData("Cel", "K")]
    [InlineData("[degF]", "[degR]")]
    public void A_difference_in_degrees_is_a_difference_in_the_absolute_scale(string degrees, string absolute)
    {
        var (scale, offset) = UcumUnit.Find(degrees, Dimension.TemperatureDifference)!.To(UcumUnit.Find(absolute, Dimension.TemperatureDifference)!);
        Assert.Equal((1.0, 0.0), (scale, offset));
    }

    [Fact]
    public void A_ton_is_twelve_thousand_btu_an_hour()
    {
        var (scale, offset) = UcumUnit.Find("[ton_refrig]", Dimension.Power)!.To(UcumUnit.Find("[Btu_IT]/h", Dimension.Power)!);
        Assert.Equal(12_000, scale, 1e-9);
        Assert.Equal(0, offset);
    }

    [Fact]
    public void A_code_does_not_cross_dimensions()
    {
        Assert.Null(UcumUnit.Find("kPa", Dimension.Temperature));
        Assert.Null(UcumUnit.Find("[psi]", Dimension.Length));
        Assert.Null(UcumUnit.Find("degC", Dimension.Temperature));
        Assert.False(UcumUnit.IsKnown("degC"));
    }
}
