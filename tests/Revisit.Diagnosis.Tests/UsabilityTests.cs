namespace Revisit.Diagnosis.Tests;

public sealed class UsabilityTests
{
    public static TheoryData<string, string> Gates => new()
    {
        { "minutes", "let it run 15 min" },
        { "cold", "below the 55 °F a gauge test needs" },
        { "return", "below 70 °F" },
        { "outdoor", "outdoor_db_f missing" },
        { "supply", "supply_db_f missing" },
        { "humidity", "return_wb_f and return_rh_pct missing" },
        { "liquid pressure", "liquid_pressure_psig missing" },
        { "liquid line", "liquid_line_f missing" },
        { "refrigerant", "refrigerant R-999 unknown" },
        { "metering", "metering missing" },
    };

    [Theory]
    [MemberData(nameof(Gates))]
    public void What_cannot_be_judged_says_why_and_gives_no_probability(string gate, string expected)
    {
        var x = Worked.Reading();
        Assert.Equal("in_line", Worked.Judge(x).Finding);
        switch (gate)
        {
            case "minutes": x.MinutesRunning = 14.9; break;
            case "cold": x.OutdoorDb = 54.9; break;
            case "return": x.ReturnDb = 69.9; break;
            case "outdoor": x.OutdoorDb = double.NaN; break;
            case "supply": x.SupplyDb = double.NaN; break;
            case "humidity": x.ReturnWb = double.NaN; break;
            case "liquid pressure": x.LiquidPressure = double.NaN; break;
            case "liquid line": x.LiquidLine = double.NaN; break;
            case "refrigerant": x.Refrigerant = "R-999"; break;
            case "metering": x.Metering = null; break;
        }

        var judged = Worked.Judge(x);
        Assert.Equal("cannot_judge", judged.Finding);
        Assert.Contains(expected, judged.CannotJudgeBecause, StringComparison.Ordinal);
        Assert.True(double.IsNaN(judged.Probability));
        Assert.All(judged.Probabilities, p => Assert.True(double.IsNaN(p)));
        Assert.False(judged.Usable);
    }

    [Fact]
    public void The_gates_themselves_are_inside()
    {
        var x = Worked.Reading(outdoor: 55, returnDb: 70, returnWb: 58, evaporating: 38, split: 19);
        x.MinutesRunning = 15;
        Assert.True(Worked.Judge(x).Usable);
    }

    [Fact]
    public void Without_a_running_time_it_is_judged_with_less_certainty()
    {
        var x = FindingRulesTests.Pattern("valve: low split, high suction, subcooling on target");
        var sure = Worked.Judge(x);
        x.MinutesRunning = double.NaN;
        var unsure = Worked.Judge(x);
        Assert.Equal("airflow_high", unsure.Finding);
        Assert.True(unsure.Probability < sure.Probability, $"{unsure.Probability} against {sure.Probability}");
        Assert.Contains("Running time not written down", unsure.Reasons, StringComparison.Ordinal);
    }

    [Fact]
    public void An_orifice_target_below_five_is_no_target()
    {
        // (3·62 − 80 − 100)/2 = 3 °F.
        var x = Worked.Reading("fixed_orifice", outdoor: 100, returnWb: 62);
        var m = Worked.Metrics(x);
        Assert.False(m[MetricId.TargetSuperheat].Has);
        Assert.Contains("below 5 °F", m[MetricId.TargetSuperheat].Missing, StringComparison.Ordinal);
        Assert.Contains("below 5 °F", Worked.Judge(x).CannotJudgeBecause, StringComparison.Ordinal);
    }

    [Fact]
    public void Suction_may_be_missing_on_a_valve_but_not_on_an_orifice()
    {
        var x = Worked.Reading();
        x.SuctionPressure = double.NaN;
        Assert.True(Worked.Judge(x).Usable);
        x = Worked.Reading("fixed_orifice", superheat: 13, subcooling: 7);
        x.SuctionPressure = double.NaN;
        Assert.Contains("suction_pressure_psig missing", Worked.Judge(x).CannotJudgeBecause, StringComparison.Ordinal);
    }
}
