using System.Globalization;
using Revisit.Records;

namespace Revisit.Forecast.Visits;

/// <summary>The rows of the worklist and of what is to be done about every other install.</summary>
internal static class WorklistRows
{
    /// <summary>Under this chance of a warm enough day charge is said to wait; assumption.</summary>
    private const double TooCold = 0.5;

    /// <summary>The visits in the order given.</summary>
    public static Batch Worklist(IReadOnlyList<PlannedVisit> visits, GaugeWeather weather, IReadOnlyList<DateOnly> days, WorklistSettings settings)
    {
        var batch = new Batch(Tables.Worklist, visits.Count);
        for (var r = 0; r < visits.Count; r++)
        {
            var visit = visits[r];
            var (install, airflow, charge) = (visit.Candidate.Scored.Install, visit.Candidate.Scored.Airflow, visit.Candidate.Scored.Charge);
            batch.Whole("rank")[r] = r + 1;
            batch.Text("install_id")[r] = install.InstallId;
            batch.Text("crew_id")[r] = install.CrewId;
            batch.Text("region")[r] = install.Region;
            batch.Day("installed_on")[r] = install.InstalledOn;
            batch.Number("nominal_tons")[r] = install["nominal_tons"];
            batch.Text("refrigerant")[r] = install.Category("refrigerant");
            batch.Text("metering")[r] = install.Category("metering");
            batch.Text("finding")[r] = install.Finding;
            batch.Number("p_airflow_correction")[r] = airflow;
            batch.Number("p_charge_correction")[r] = charge;
            batch.Number("benefit_usd")[r] = visit.BenefitUsd;
            batch.Text("likely_correction")[r] = VisitAdvice.LikelyCorrection(install, airflow, charge);
            batch.Text("first_checks")[r] = VisitAdvice.FirstChecks(install, charge, weather.Warm(install.Region, visit.On ?? days[0]) < TooCold);
            batch.Text("bring")[r] = VisitAdvice.Bring(install, airflow, charge);
            batch.Text("cautions")[r] = VisitAdvice.Cautions(install, airflow, charge);
            batch.Text("score_because")[r] = visit.Candidate.Scored.Because;
            batch.Number("latitude")[r] = visit.Candidate.Place.Latitude;
            batch.Number("longitude")[r] = visit.Candidate.Place.Longitude;
            batch.Whole("travel_minutes")[r] = visit.TravelMinutes;
            batch.Whole("visit_minutes")[r] = settings.VisitMinutes;
            batch.Text("planned_by")[r] = visit.By;
            if (visit.On is { } on)
            {
                batch.Day("visit_on")[r] = on;
                batch.Whole("visiting_crew")[r] = visit.Crew;
                batch.Whole("visit_order")[r] = visit.Order;
                var minute = (int)Math.Round(60 * settings.DayStartsAt) + visit.StartMinute;
                batch.Text("starts_at")[r] = string.Create(CultureInfo.InvariantCulture, $"{minute / 60 % 24:00}:{minute % 60:00}");
            }
        }

        return batch;
    }

    /// <summary>What is kept of a list for later.</summary>
    /// <param name="list">Rows of the worklist.</param>
    /// <param name="scoredOn">The day its scores speak for.</param>
    public static Batch Kept(Batch list, DateOnly scoredOn)
    {
        var batch = new Batch(Tables.PastWorklists, list.Rows);
        foreach (var column in Tables.PastWorklists.Columns.Where(c => c != "scored_on"))
        {
            Array.Copy(list.At(Tables.Worklist.IndexOf(column)), batch.At(Tables.PastWorklists.IndexOf(column)), list.Rows);
        }

        Array.Fill(batch.Day("scored_on"), scoredOn);
        return batch;
    }

    /// <summary>What is to be done about each install that was scored or could not be, in order of install.</summary>
    public static Batch Needs(IReadOnlyList<Candidate> candidates, IReadOnlyList<PlannedVisit> visits, IReadOnlyList<DateOnly> days, GaugeWeather weather, WorklistSettings settings)
    {
        var chosen = visits.ToDictionary(v => v.Candidate.InstallId, StringComparer.Ordinal);
        var batch = new Batch(Tables.VisitNeeds, candidates.Count);
        for (var r = 0; r < candidates.Count; r++)
        {
            var candidate = candidates[r];
            var benefit = candidate.Scored.AbstainsBecause is null ? WorklistPlan.Best(candidate, days, weather, settings) : double.NaN;
            batch.Text("install_id")[r] = candidate.InstallId;
            batch.Text("crew_id")[r] = candidate.Scored.Install.CrewId;
            batch.Text("region")[r] = candidate.Region;
            batch.Day("installed_on")[r] = candidate.Scored.Install.InstalledOn;
            batch.Number("benefit_usd")[r] = Math.Round(chosen.TryGetValue(candidate.InstallId, out var visit) ? visit.BenefitUsd : benefit, 2);
            (batch.Text("visit_need")[r], batch.Text("need_because")[r]) = visit is not null ? ("visit", candidate.Scored.Because)
                : candidate.Scored.AbstainsBecause is { } because ? ("cannot_judge", because)
                : benefit > 0 ? ("later", "worth a visit; the hours of these weeks go further elsewhere")
                : ("not_needed", "what a visit is expected to save does not pay for its time");
        }

        return batch;
    }
}
