using Revisit.Records;

namespace Revisit.Forecast;

/// <summary>
/// Ranks visits by expected benefit: chance of each correction times the cost of leaving it, less the visit. Only visits with a benefit are
/// listed; charge earns nothing in a month too cold to check it by gauges. Equal benefits stand in order of install.
/// </summary>
public static class WorklistRanking
{
    /// <summary>Expected benefit of a visit [US dollars].</summary>
    public static double BenefitUsd(double airflow, double charge, bool tooColdForCharge, ForecastSettings settings) =>
        airflow * settings.AirflowCostUsd + (tooColdForCharge ? 0 : charge * settings.ChargeCostUsd) - settings.VisitCostUsd;

    /// <summary>The worklist of a day.</summary>
    public static Batch Rank(IEnumerable<ScoredInstall> scored, ForecastSettings settings, DateOnly asOf)
    {
        var tooCold = settings.MonthsTooColdForCharge.Contains(asOf.Month);
        var chosen = scored.Where(s => s.AbstainsBecause is null)
            .Select(s => (Scored: s, Benefit: Math.Round(BenefitUsd(s.Airflow, s.Charge, tooCold, settings), 2)))
            .Where(s => s.Benefit > 0)
            .OrderByDescending(s => s.Benefit).ThenBy(s => s.Scored.Install.InstallId, StringComparer.Ordinal)
            .Take(settings.WorklistLength).ToList();
        var batch = new Batch(Tables.Worklist, chosen.Count);
        for (var r = 0; r < chosen.Count; r++)
        {
            var (s, benefit) = chosen[r];
            var install = s.Install;
            batch.Whole("rank")[r] = r + 1;
            batch.Text("install_id")[r] = install.InstallId;
            batch.Text("crew_id")[r] = install.CrewId;
            batch.Text("region")[r] = install.Region;
            batch.Day("installed_on")[r] = install.InstalledOn;
            batch.Number("nominal_tons")[r] = install["nominal_tons"];
            batch.Text("refrigerant")[r] = install.Category("refrigerant");
            batch.Text("metering")[r] = install.Category("metering");
            batch.Text("finding")[r] = install.Finding;
            batch.Number("p_airflow_correction")[r] = s.Airflow;
            batch.Number("p_charge_correction")[r] = s.Charge;
            batch.Number("benefit_usd")[r] = benefit;
            batch.Text("likely_correction")[r] = VisitAdvice.LikelyCorrection(install, s.Airflow, s.Charge);
            batch.Text("first_checks")[r] = VisitAdvice.FirstChecks(install, s.Charge, tooCold);
            batch.Text("cautions")[r] = VisitAdvice.Cautions(install, s.Airflow, s.Charge);
            batch.Text("score_because")[r] = s.Because;
        }

        return batch;
    }
}
