namespace Revisit.Diagnosis.Tests;

/// <summary>
/// Patterns every trained technician knows (common practice, no source), as worked readings. They were chosen before the rules were
/// run on them; numbers are round on purpose.
/// </summary>
public sealed class FindingRulesTests
{
    public static TheoryData<string, string> Names => new()
    {
        { "sound valve", "in_line" },
        { "sound valve, mild and dry", "in_line" },
        { "sound orifice", "in_line" },
        { "valve: low split, high suction, subcooling on target", "airflow_high" },
        { "valve: low split, high suction, measured 560 cfm a ton", "airflow_high" },
        { "valve: high split, low suction, superheat low", "airflow_low" },
        { "valve: subcooling gone, superheat high, suction low", "charge_low" },
        { "valve: subcooling doubled, head a little up", "charge_high" },
        { "valve: superheat high, suction low, subcooling kept", "liquid_restriction" },
        { "valve: head up, liquid line up with it", "condenser_airflow_low" },
        { "valve: head up, liquid line near outdoor", "noncondensables" },
        { "valve: low split, high suction, low head", "compressor_weak" },
        { "orifice: superheat 20 over target, suction and split low", "charge_low" },
        { "orifice: no superheat, subcooling up", "charge_high" },
        { "orifice: high split, low suction, superheat under target", "airflow_low" },
        { "orifice: superheat up, suction low, subcooling kept", "liquid_restriction" },
    };

    internal static ReadingInputs Pattern(string name) => name switch
    {
        "sound valve" => Worked.Reading(),
        "sound valve, mild and dry" => Worked.Reading(outdoor: 75, returnDb: 75, returnWb: 60, evaporating: 41.5, split: 23, condensingOver: 17),
        "sound orifice" => Worked.Reading("fixed_orifice", superheat: 13, subcooling: 7),
        "valve: low split, high suction, subcooling on target" => Worked.Reading(split: 14, evaporating: 52),
        "valve: low split, high suction, measured 560 cfm a ton" => Worked.Reading(split: 16, evaporating: 51, airflow: 1680),
        "valve: high split, low suction, superheat low" => Worked.Reading(split: 26, evaporating: 42, superheat: 8),
        "valve: subcooling gone, superheat high, suction low" => Worked.Reading(split: 18, evaporating: 44, superheat: 24, subcooling: 0, condensingOver: 15),
        "valve: subcooling doubled, head a little up" => Worked.Reading(subcooling: 22, condensingOver: 20),
        "valve: superheat high, suction low, subcooling kept" => Worked.Reading(split: 18.5, evaporating: 41, superheat: 30, subcooling: 12, condensingOver: 17),
        "valve: head up, liquid line up with it" => Worked.Reading(condensingOver: 31, subcooling: 11),
        "valve: head up, liquid line near outdoor" => Worked.Reading(condensingOver: 28, subcooling: 19.5),
        "valve: low split, high suction, low head" => Worked.Reading(split: 15.5, evaporating: 55.5, condensingOver: 10.5, subcooling: 9),
        "orifice: superheat 20 over target, suction and split low" => Worked.Reading("fixed_orifice", split: 16, evaporating: 38, superheat: 34, subcooling: 1, condensingOver: 14),
        "orifice: no superheat, subcooling up" => Worked.Reading("fixed_orifice", evaporating: 49, superheat: 1, subcooling: 13, condensingOver: 20.5),
        "orifice: high split, low suction, superheat under target" => Worked.Reading("fixed_orifice", split: 25.5, evaporating: 44.5, superheat: 5, subcooling: 6.5),
        "orifice: superheat up, suction low, subcooling kept" => Worked.Reading("fixed_orifice", split: 18, evaporating: 40, superheat: 37, subcooling: 9, condensingOver: 17),
        _ => throw new ArgumentException(name),
    };

    [Theory]
    [MemberData(nameof(Names))]
    public void A_known_pattern_is_found(string name, string expected)
    {
        var judged = Worked.Judge(Pattern(name));
        Assert.True(expected == judged.Finding, $"{name}: {judged.Finding} {string.Join(' ', judged.Probabilities.Select((p, i) => $"{Causes.All[i]}={p:0.00}"))} {judged.CannotJudgeBecause} {judged.Reasons}");
        Assert.InRange(judged.Probability, FindingRules.LeastProbability, 1);
        Assert.Null(judged.CannotJudgeBecause);
        Assert.False(string.IsNullOrEmpty(judged.Reasons));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Probabilities_sum_to_one_in_millionths(string name, string expected)
    {
        var judged = Worked.Judge(Pattern(name));
        Assert.Equal(1_000_000, judged.Probabilities.Sum(p => (long)Math.Round(p * 1_000_000)));
        Assert.All(judged.Probabilities, p => Assert.Equal(p, Math.Round(p, 6)));
        Assert.Contains(expected, Causes.All);
        Assert.Equal(judged.Probabilities.Max(), judged.Probability);
    }

    [Fact]
    public void Low_split_with_subcooling_on_target_is_air_not_charge()
    {
        var p = Worked.Judge(Worked.Reading(split: 15, evaporating: 51)).Probabilities;
        Assert.True(p[1] > 10 * p[3], $"airflow_high {p[1]}, charge_low {p[3]}");
    }

    [Fact]
    public void The_same_subcooling_accuses_a_valve_and_not_an_orifice()
    {
        // 16 °F of subcooling: 6 over a valve's target. On an orifice superheat decides, and that is on target.
        var valve = Worked.Judge(Worked.Reading(subcooling: 18)).Probabilities[4];
        var orifice = Worked.Judge(Worked.Reading("fixed_orifice", superheat: 13, subcooling: 14)).Probabilities[4];
        Assert.True(valve > 0.5, $"valve {valve}");
        Assert.True(orifice < 0.3, $"orifice {orifice}");
    }

    [Fact]
    public void Charge_is_never_found_while_its_own_measure_is_inside_its_uncertainty()
    {
        // Sweep suction, split, superheat and head with subcooling within 1.6 °F of target (its uncertainty): whatever they do,
        // the finding must not be charge, and sometimes that is all that holds it back.
        var heldBack = 0;
        for (var evaporating = 36.0; evaporating <= 58; evaporating += 2)
        {
            for (var split = 10.0; split <= 28; split += 2)
            {
                foreach (var (over, subcooling, superheat) in ((double, double, double)[])[(18, 10, 10), (20, 11.6, 6), (16, 8.5, 22), (14, 8.5, 30), (10, 8.5, 18)])
                {
                    var judged = Worked.Judge(Worked.Reading(evaporating: evaporating, split: split, condensingOver: over, subcooling: subcooling, superheat: superheat));
                    Assert.False(judged.Finding.StartsWith("charge", StringComparison.Ordinal), $"{evaporating} {split} {over} {subcooling} {superheat} {judged.Finding} {judged.Reasons}");
                    heldBack += HeldBack(judged);
                }

                // An orifice with superheat within 4 °F of its 13 °F target (uncertainty about 4.7), and a subcooling that seems to speak of charge.
                foreach (var (over, subcooling, superheat) in ((double, double, double)[])[(18, 20, 10), (20, 16, 9), (15, 0, 16), (16, 1, 13)])
                {
                    var judged = Worked.Judge(Worked.Reading("fixed_orifice", evaporating: evaporating, split: split, condensingOver: over, subcooling: subcooling, superheat: superheat));
                    Assert.False(judged.Finding.StartsWith("charge", StringComparison.Ordinal), $"orifice {evaporating} {split} {over} {subcooling} {superheat} {judged.Finding} {judged.Reasons}");
                    heldBack += HeldBack(judged);
                }
            }
        }

        Assert.True(heldBack > 0, "the sweep never reached the rule it is there for");
    }

    private static int HeldBack(Judgement judged) => judged.CannotJudgeBecause?.Contains("which alone judges charge here", StringComparison.Ordinal) == true ? 1 : 0;

    [Fact]
    public void Reasons_name_the_measure_and_its_uncertainty()
    {
        var judged = Worked.Judge(Pattern("valve: low split, high suction, subcooling on target"));
        Assert.Matches(@"split 5\.\d °F under expected \(±\d\.\d\)", judged.Reasons!);
        Assert.StartsWith("For too much air over ", judged.Reasons, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("loaded")]
    [InlineData("missing")]
    public void A_dirty_or_missing_filter_is_said_first(string state)
    {
        var x = Worked.Reading();
        x.FilterState = state;
        Assert.StartsWith("filter " + state, Worked.Judge(x).Reasons, StringComparison.Ordinal);
        x.OutdoorDb = 40;
        var gated = Worked.Judge(x);
        Assert.Equal("cannot_judge", gated.Finding);
        Assert.StartsWith("filter " + state, gated.Reasons, StringComparison.Ordinal);
    }

    [Fact]
    public void Overcharge_has_no_invented_cost_and_undercharge_has_one()
    {
        var high = Worked.Judge(Pattern("valve: subcooling doubled, head a little up"));
        Assert.True(double.IsNaN(high.CapacityLossPct) && double.IsNaN(high.ExtraEnergyPct));
        var low = Worked.Judge(Pattern("valve: subcooling gone, superheat high, suction low"));
        Assert.InRange(low.CapacityLossPct, 4, 25);
        Assert.InRange(low.ExtraEnergyPct, 3, 21);
        Assert.InRange(low.Severity, 0.1, 0.3);
    }

    [Fact]
    public void A_reading_that_fits_nothing_is_not_forced_into_a_cause()
    {
        // Very cold coil, no superheat, no subcooling, head far up: nothing single does that.
        var judged = Worked.Judge(Worked.Reading(split: 33, evaporating: 25, superheat: -8, subcooling: 0, condensingOver: 45));
        Assert.Equal("cannot_judge", judged.Finding);
        Assert.Contains("fit no cause", judged.CannotJudgeBecause, StringComparison.Ordinal);
    }

    [Fact]
    public void Signs_of_a_signature_turned_round_lose()
    {
        // Crossed signs: each fault of a table must lie nearer to its own signature than the mirrored reading does.
        foreach (var (split, evaporating, mine) in ((double, double, int)[])[(14, 52, 1), (27, 42, 2)])
        {
            var straight = Worked.Judge(Worked.Reading(split: split, evaporating: evaporating)).Probabilities[mine];
            var crossed = Worked.Judge(Worked.Reading(split: 41.2 - split, evaporating: 96 - evaporating)).Probabilities[mine];
            Assert.True(straight > 0.5 && crossed < 0.05, $"{Causes.All[mine]}: {straight} against {crossed}");
        }
    }
}
