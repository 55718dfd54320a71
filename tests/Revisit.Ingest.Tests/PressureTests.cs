using System.Globalization;

namespace Revisit.Ingest.Tests;

/// <summary>Absolute pressures become gauge by the barometer of the site; differences in kelvin stay differences.</summary>
public class PressureTests
{
    private static SourceProfile Profile(string pressure, string constant = "") => ProfileReader.Parse($$"""
        name: made
        {{constant}}
        columns:
          visit_id: V
          reading_no: N
          install_id: I
          crew_id: C
          visit_kind: K
          visited_at: T
          suction_pressure_psig: { from: P, unit: kPa, pressure: {{pressure}} }
          target_subcooling_f: { from: D, unit: K }
          {{(constant.Length == 0 ? "elevation_ft: { from: E, unit: m }" : "notes: E")}}
        """, "made.yaml");

    private static string[] Read(SourceProfile profile, string elevation, string kilopascal)
    {
        using var lake = new SampleLake();
        _ = lake.IngestText($"V,N,I,C,K,T,P,D,E\nV1,1,I1,C1,other,2026-07-14T15:00:00Z,{kilopascal},5,{elevation}\n", "branch.csv", profile);
        return lake.Query("SELECT suction_pressure_psig, target_subcooling_f, elevation_ft FROM readings JOIN installs USING (install_id)").Single();
    }

    // Standard atmosphere by elevation: ASHRAE Handbook-Fundamentals (2017), chapter 1, table 1, as printed, kPa: 0 m 101.325, 1000 m 89.874,
    // 1500 m 84.556, 2000 m 79.495 (from memory). Equation 3 of the same chapter agrees with the table to 0.03 % there; hence the tolerance.
    [Theory]
    [InlineData("0", 101.325)]
    [InlineData("1000", 89.874)]
    [InlineData("1500", 84.556)]
    [InlineData("2000", 79.495)]
    public void An_absolute_pressure_loses_the_barometer_of_its_own_elevation(string elevation, double barometer)
    {
        var psig = double.Parse(Read(Profile("absolute"), elevation, "950")[0], CultureInfo.InvariantCulture);
        Assert.Equal((950 - barometer) / 6.894757293168361, psig, 0.01);
    }

    [Theory]
    [InlineData("constants: { elevation_ft: 4921.26 }", "", 84.556)]
    [InlineData("constants: { elevation_ft: 0 }", "", 101.325)]
    [InlineData("", "", 101.325)]
    [InlineData("", "high up", 101.325)]
    public void The_elevation_may_be_a_constant_and_else_is_sea_level(string constant, string elevation, double barometer) =>
        Assert.Equal((950 - barometer) / 6.894757293168361, double.Parse(Read(Profile("absolute", constant), elevation, "950")[0], CultureInfo.InvariantCulture), 0.01);

    [Fact]
    public void A_gauge_pressure_keeps_its_zero_whatever_the_elevation() =>
        Assert.Equal(862 / 6.894757293168361, double.Parse(Read(Profile("gauge"), "2000", "862")[0], CultureInfo.InvariantCulture), 1e-5);

    [Fact]
    public void A_difference_of_five_kelvin_is_nine_degrees() => Assert.Equal("9", Read(Profile("gauge"), "0", "862")[1]);
}
