namespace Revisit.Diagnosis.Tests;

/// <summary>As found → as left, as worked visits.</summary>
public sealed class OutcomeRulesTests
{
    private static OutcomeSide Side(ReadingInputs x)
    {
        var m = Worked.Metrics(x);
        var judged = new Judgement();
        var rules = new FindingRules();
        rules.Judge(x, m, judged);
        return OutcomeSide.Of(m, judged, rules.Residuals);
    }

    private static (string Outcome, string Because) Judge(ReadingInputs found, ReadingInputs left, string? correction = null, bool orifice = false) =>
        OutcomeRules.Judge(Side(found), Side(left), correction, orifice);

    [Fact]
    public void Tap_lowered_and_split_back_is_cured()
    {
        var (outcome, because) = Judge(Worked.Reading(split: 13, evaporating: 52), Worked.Reading(outdoor: 96), "blower_tap");
        Assert.Equal("cured", outcome);
        Assert.Contains("split error +", because, StringComparison.Ordinal);
    }

    [Fact]
    public void Halfway_is_better()
    {
        var (outcome, because) = Judge(Worked.Reading(subcooling: 30, condensingOver: 24), Worked.Reading(subcooling: 21, condensingOver: 20.5), "charge_removed");
        Assert.True(outcome == "better", outcome + " " + because);
    }

    [Fact]
    public void Charge_recovered_from_a_sound_system_is_worse()
    {
        var (outcome, _) = Judge(Worked.Reading(), Worked.Reading(split: 18, evaporating: 44, superheat: 24, subcooling: 0, condensingOver: 15), "charge_removed");
        Assert.Equal("worse", outcome);
    }

    [Fact]
    public void Inside_each_others_uncertainty_is_no_change_even_across_the_line()
    {
        var (outcome, because) = Judge(Worked.Reading(split: 15.6, evaporating: 51), Worked.Reading(split: 16.8, evaporating: 50.6), "blower_tap");
        Assert.Equal("no_change", outcome);
        Assert.Contains("inside what the instruments explain", because, StringComparison.Ordinal);
    }

    [Fact]
    public void A_system_that_stays_in_line_is_not_made_worse_by_moving_inside_it()
    {
        var (outcome, because) = Judge(Worked.Reading(), Worked.Reading(subcooling: 12.5), "charge_added");
        Assert.Equal("no_change", outcome);
        Assert.StartsWith("in line as found and as left: ", because, StringComparison.Ordinal);
    }

    [Fact]
    public void Weather_alone_is_no_change()
    {
        // The same sound orifice system at noon and in the evening: superheat moved by 8 °F because its target did.
        var noon = Worked.Reading("fixed_orifice", outdoor: 95, superheat: 13, subcooling: 7);
        var evening = Worked.Reading("fixed_orifice", outdoor: 80, superheat: 20.5, subcooling: 7, evaporating: 45.5, split: 21.4);
        var (outcome, because) = Judge(noon, evening);
        Assert.Equal("no_change", outcome);
        Assert.Contains("inside what the instruments explain", because, StringComparison.Ordinal);
    }

    [Fact]
    public void Subcooling_falling_though_charge_was_added_is_said()
    {
        var (outcome, because) = Judge(Worked.Reading(subcooling: 22, condensingOver: 20), Worked.Reading(), "charge_added");
        Assert.NotEqual("cured", outcome);
        Assert.Contains("subcooling moved against what charge added predicts", because, StringComparison.Ordinal);
    }

    [Fact]
    public void Superheat_falls_on_an_orifice_when_charge_is_added()
    {
        var low = Worked.Reading("fixed_orifice", split: 16, evaporating: 38, superheat: 34, subcooling: 1, condensingOver: 14);
        var sound = Worked.Reading("fixed_orifice", superheat: 13, subcooling: 7);
        Assert.Equal("cured", Judge(low, sound, "charge_added", orifice: true).Outcome);
        Assert.Contains("superheat moved against", Judge(low, sound, "charge_removed", orifice: true).Because, StringComparison.Ordinal);
    }

    [Fact]
    public void A_reading_too_early_makes_the_outcome_cannot_judge_and_says_which()
    {
        var left = Worked.Reading();
        left.MinutesRunning = 4;
        var (outcome, because) = Judge(Worked.Reading(split: 14, evaporating: 52), left, "blower_tap");
        Assert.Equal("cannot_judge", outcome);
        Assert.StartsWith("as left: ran only 4 min", because, StringComparison.Ordinal);
    }
}
