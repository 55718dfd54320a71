using Revisit.Forecast.Visits;

namespace Revisit.Forecast.Tests;

public sealed class VisitAdviceTests
{
    internal static ScoredInstall Scored(
        string id, double airflow, double charge, string? refrigerant = "R-410A", string? ducts = "basement", double high = 0.6, double low = 0.1, string metering = "txv")
    {
        var numbers = new double[FeatureQuery.Numbers.Count];
        numbers[InstallFeatures.Position("p_airflow_high")] = high;
        numbers[InstallFeatures.Position("p_airflow_low")] = low;
        numbers[InstallFeatures.Position("p_charge_low")] = 0.3;
        return new(new(id, "C1", "north", new(2026, 6, 1), numbers, [metering, refrigerant, ducts, "psc", "summer"], "high", "airflow_high", null), airflow, charge, "why", null);
    }

    [Fact]
    public void Mildly_flammable_refrigerants_are_named_and_others_are_not()
    {
        foreach (var refrigerant in new[] { "R-32", "R-454B" })
        {
            Assert.Contains($"{refrigerant} is mildly flammable", VisitAdvice.Cautions(Scored("A", 0.1, 0.1, refrigerant).Install, 0.1, 0.1), StringComparison.Ordinal);
        }

        Assert.DoesNotContain("flammable", VisitAdvice.Cautions(Scored("A", 0.1, 0.1).Install, 0.1, 0.1), StringComparison.Ordinal);
    }

    [Fact]
    public void Cautions_follow_what_will_be_done()
    {
        var all = VisitAdvice.Cautions(Scored("A", 0.8, 0.8, ducts: "attic").Install, 0.8, 0.8);
        Assert.All(["locked out", "capacitors", "attic", "certified", "freezing", "maker's instructions", "licensed technician decides"], w => Assert.Contains(w, all, StringComparison.Ordinal));
        var little = VisitAdvice.Cautions(Scored("A", 0.8, 0.02, high: 0.1, low: 0.6).Install, 0.8, 0.02);
        Assert.All(["locked out", "capacitors", "licensed technician decides"], w => Assert.Contains(w, little, StringComparison.Ordinal));
        Assert.All(["attic", "certified", "freezing"], w => Assert.DoesNotContain(w, little, StringComparison.Ordinal));
    }

    [Fact]
    public void What_is_not_written_down_is_taken_with_care()
    {
        var install = Scored("A", 0.8, 0.8, refrigerant: null, ducts: null, high: 0.2, low: 0.2).Install;
        var cautions = VisitAdvice.Cautions(install, 0.8, 0.8);
        Assert.All(["nameplate", "attic", "freezing"], w => Assert.Contains(w, cautions, StringComparison.Ordinal));
        Assert.Contains("does not say which way", VisitAdvice.LikelyCorrection(install, 0.8, 0.1), StringComparison.Ordinal);
    }

    [Fact]
    public void Airflow_comes_before_charge_and_the_system_runs_in_between()
    {
        var checks = VisitAdvice.FirstChecks(Scored("A", 0.8, 0.8).Install, 0.8, false).Split("; ").ToList();
        int At(string word) => checks.FindIndex(c => c.Contains(word, StringComparison.Ordinal));
        Assert.Equal([0, 1, 2, 3, 4], new[] { At("filter"), At("blower tap"), At("static"), At("10 to 15 minutes"), At("charge last") });
        Assert.Contains("subcooling", checks[4], StringComparison.Ordinal);
        Assert.Contains("superheat", VisitAdvice.FirstChecks(Scored("A", 0.8, 0.8, metering: "fixed_orifice").Install, 0.8, false), StringComparison.Ordinal);
    }
}
