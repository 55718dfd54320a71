namespace Revisit.Diagnosis.Tests;

/// <summary>
/// Readings with the answer a senior technician gives and why (common practice, no source, where none is named). The sixteen patterns of
/// <see cref="FindingRulesTests"/> belong to the set; these add refrigerants, weather, missing and unusable values, and three in which
/// the honest answer is that two causes cannot be told apart.
/// </summary>
public sealed class WorkedSetTests
{
    public static TheoryData<string, string, string> Answered => new()
    {
        { "R-454B valve, sound", "in_line", "everything where it belongs" },
        { "R-32 valve, undercharged, hot day", "charge_low", "subcooling gone and superheat up: not enough refrigerant" },
        { "R-22 orifice, sound on a hot day", "in_line", "superheat on the rule (3·66 − 80 − 102)/2 = 8 °F" },
        { "R-32 valve, outdoor coil blocked", "condenser_airflow_low", "condensing and liquid line both far over outdoor, subcooling kept" },
        { "humid house: low split is right", "in_line", "wetter air gives its moisture first; a split of 15 °F at 73 °F wet bulb is sound" },
        { "dry house: high split is right", "in_line", "dry air only cools; a high split is sound" },
        { "mild weather, valve, too much air", "airflow_high", "split low, suction high, subcooling on target" },
        { "loaded filter on a valve", "airflow_low", "split high, suction low; and the filter is why" },
        { "orifice, mild, overcharged", "charge_high", "superheat gone, subcooling up" },
        { "orifice without a liquid line", "charge_low", "superheat alone judges charge on an orifice, and low head speaks for it" },
        { "both off: much air, little charge", "airflow_high", "split low and suction high say air; subcooling is short too: air first, wait, read again" },
        { "R-454B valve, restricted drier", "liquid_restriction", "low suction, high superheat, subcooling kept" },
        { "at 5,000 ft, sound", "in_line", "gauge pressures mean less there; saturation by the barometer of the place" },
    };

    private static ReadingInputs Reading(string name) => name switch
    {
        "R-454B valve, sound" => Worked.Reading(refrigerant: "R-454B", outdoor: 90, returnDb: 76, returnWb: 63, evaporating: 45.5, split: 19.8),
        "R-32 valve, undercharged, hot day" => Worked.Reading(refrigerant: "R-32", outdoor: 104, returnDb: 78, returnWb: 65, evaporating: 42, superheat: 25, subcooling: 1, condensingOver: 15, split: 17),
        "R-22 orifice, sound on a hot day" => Worked.Reading("fixed_orifice", refrigerant: "R-22", outdoor: 102, returnDb: 79, returnWb: 66, evaporating: 48, superheat: 8, subcooling: 8, split: 19.3),
        "R-32 valve, outdoor coil blocked" => Worked.Reading(refrigerant: "R-32", condensingOver: 32, subcooling: 11, split: 19.4, evaporating: 49),
        "humid house: low split is right" => Worked.Reading(returnDb: 80, returnWb: 73, evaporating: 53, split: 14),
        "dry house: high split is right" => Worked.Reading(returnDb: 78, returnWb: 58, evaporating: 43, split: 24.5, outdoor: 98),
        "mild weather, valve, too much air" => Worked.Reading(outdoor: 72, returnDb: 75, returnWb: 62, evaporating: 48.5, split: 15.5, condensingOver: 17.5),
        "loaded filter on a valve" => Worked.Reading(split: 27, evaporating: 41.5, superheat: 9) with { FilterState = "loaded" },
        "orifice, mild, overcharged" => Worked.Reading("fixed_orifice", outdoor: 80, returnDb: 78, returnWb: 66, evaporating: 49, superheat: 2, subcooling: 16, condensingOver: 21, split: 20),
        "orifice without a liquid line" => Worked.Reading("fixed_orifice", superheat: 30, evaporating: 41, split: 17.5, condensingOver: 13) with { LiquidLine = double.NaN },
        "both off: much air, little charge" => Worked.Reading(split: 13.5, evaporating: 51, superheat: 14, subcooling: 2, condensingOver: 17),
        "R-454B valve, restricted drier" => Worked.Reading(refrigerant: "R-454B", split: 18, evaporating: 40, superheat: 30, subcooling: 12, condensingOver: 17),
        "at 5,000 ft, sound" => Worked.Reading(elevation: 5000, split: 21, evaporating: 46.5, condensingOver: 20),
        _ => throw new ArgumentException(name),
    };

    [Theory]
    [MemberData(nameof(Answered))]
    public void The_answer_is_the_senior_technicians(string name, string expected, string why)
    {
        var judged = Worked.Judge(Reading(name));
        Assert.True(expected == judged.Finding, $"{name} ({why}): {judged.Finding} {string.Join(' ', judged.Probabilities.Select((p, i) => $"{Causes.All[i]}={p:0.00}"))} {judged.CannotJudgeBecause} {judged.Reasons}");
    }

    [Fact]
    public void With_both_off_airflow_comes_first()
    {
        var judged = Worked.Judge(Reading("both off: much air, little charge"));
        Assert.Equal("charge_low", judged.ChargeBeside);
        Assert.Contains("set airflow first, wait 15 minutes, read again", judged.Reasons, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("too early", "let it run 15 min")]
    [InlineData("cold outdoor", "below the 55 °F")]
    [InlineData("cold house", "below 70 °F")]
    [InlineData("no wet bulb", "measure return wet bulb")]
    [InlineData("no liquid line on a valve", "judged by subcooling")]
    [InlineData("crossed probes, set aside", "measure return and supply dry bulb")]
    [InlineData("metering not written", "TXV, an EEV or a fixed orifice")]
    public void What_cannot_be_judged_says_what_to_measure(string name, string advice)
    {
        var x = Worked.Reading();
        switch (name)
        {
            case "too early": x.MinutesRunning = 5; break;
            case "cold outdoor": x.OutdoorDb = 48; break;
            case "cold house": x.ReturnDb = 66; x.ReturnWb = 56; break;
            case "no wet bulb": x.ReturnWb = double.NaN; break;
            case "no liquid line on a valve": x.LiquidLine = double.NaN; break;
            case "crossed probes, set aside": x.SupplyDb = x.ReturnDb = double.NaN; break;
            default: x.Metering = null; break;
        }

        var judged = Worked.Judge(x);
        Assert.Equal("cannot_judge", judged.Finding);
        Assert.Contains(advice, judged.CannotJudgeBecause, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_the_liquid_side_low_charge_and_a_restriction_are_hard_to_tell()
    {
        var whole = Worked.Judge(FindingRulesTests.Pattern("orifice: superheat 20 over target, suction and split low")).Probabilities;
        var half = Worked.Judge(FindingRulesTests.Pattern("orifice: superheat 20 over target, suction and split low") with { LiquidPressure = double.NaN, LiquidLine = double.NaN }).Probabilities;
        var said = $"low charge {whole[Causes.ChargeLow]:0.00} with the liquid side, {half[Causes.ChargeLow]:0.00} without; a restriction {whole[Causes.LiquidRestriction]:0.00}, {half[Causes.LiquidRestriction]:0.00}";
        Assert.True(whole[Causes.ChargeLow] > 0.8 && half[Causes.ChargeLow] < whole[Causes.ChargeLow] && half[Causes.LiquidRestriction] > 0.1, said);
    }

    public static TheoryData<double, double, double, double, string, string> NotTold => new()
    {
        // subcooling, condensing over outdoor, split, evaporating: the two causes that stay
        { 15, 24, 19.9, 48, "high charge", "non-condensables" },
        { 10, 18, 17.8, 49.2, "in line", "too much air" },
        { 13.5, 18.3, 19.9, 48, "in line", "high charge" },
    };

    [Theory]
    [MemberData(nameof(NotTold))]
    public void What_cannot_be_told_apart_is_said_so(double subcooling, double condensingOver, double split, double evaporating, string one, string other)
    {
        var judged = Worked.Judge(Worked.Reading(subcooling: subcooling, condensingOver: condensingOver, split: split, evaporating: evaporating));
        Assert.True(judged.Finding == "cannot_judge", $"{judged.Finding} {string.Join(' ', judged.Probabilities.Select((p, i) => $"{Causes.All[i]}={p:0.00}"))}");
        Assert.Contains("cannot tell", judged.CannotJudgeBecause, StringComparison.Ordinal);
        Assert.Contains(one, judged.CannotJudgeBecause, StringComparison.Ordinal);
        Assert.Contains(other, judged.CannotJudgeBecause, StringComparison.Ordinal);
    }

    /// <summary>
    /// Low split, high suction, warm suction line, subcooling on target: too much air. Down to design the split must rise by 3 to 6 °F,
    /// suction fall and subcooling stay (common practice, no source).
    /// </summary>
    [Fact]
    public void Too_much_air_is_corrected_by_the_blower_and_the_answer_says_what_to_look_for()
    {
        var answer = ReadingAnswer.Of(Worked.Reading(split: 15, evaporating: 51.5, superheat: 11));
        Assert.Equal("airflow_high", answer.Judged.Finding);
        var change = answer.Change!;
        Assert.InRange(change.Shift.TemperatureSplitF, 3, 6);
        Assert.True(change.Shift.EvaporatingF < -1 && change.SuctionPsig < answer.Inputs.SuctionPressure);
        Assert.InRange(change.Shift.SubcoolingF, -0.7, 0.7);
        Assert.Contains(answer.Cautions, c => c == Records.Caution.Freezing);
        Assert.True(answer.Checks.ToList().FindIndex(c => c.StartsWith("blower tap", StringComparison.Ordinal)) < answer.Checks.ToList().FindIndex(c => c.Contains("judge charge", StringComparison.Ordinal)));
    }

    [Fact]
    public void A_coil_that_would_freeze_in_mild_weather_is_said()
    {
        var cold = ReadingAnswer.Of(Worked.Reading(evaporating: 36, split: 27, superheat: 8));
        Assert.True(cold.Freeze!.NowF is > 3 and < 5);
        var freezing = ReadingAnswer.Of(Worked.Reading(evaporating: 30, split: 27, superheat: 8));
        Assert.Contains("below freezing now", freezing.Freeze!.Advice, StringComparison.Ordinal);
        var easy = ReadingAnswer.Of(Worked.Reading());
        Assert.True(easy.Freeze!.MildestF < easy.Freeze.NowF, "mild weather with a loaded filter is colder for the coil");
    }

    [Fact]
    public void A_value_that_was_not_taken_is_named_with_what_it_costs()
    {
        var answer = ReadingAnswer.Of(Worked.Reading() with { LiquidPressure = double.NaN });
        var (_, metrics) = Assert.Single(answer.Lacking, l => l.Reason == "liquid_pressure_psig missing");
        Assert.Contains("subcooling_f", metrics);
    }
}
