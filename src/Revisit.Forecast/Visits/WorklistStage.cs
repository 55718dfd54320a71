using System.Globalization;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Forecast.Visits;

/// <summary>
/// Makes the worklist of the scores of the lake: which visits to make under crew hours, travel and weather, what is to be done about every
/// other install, and which settings change the list. Writes worklist, visit_needs and worklist_sensitivity, and keeps what the list names in past_worklists under the month of the scores.
/// </summary>
public static class WorklistStage
{
    /// <summary>Runs the stage. The same lake and settings give the same bytes.</summary>
    /// <param name="publication">The change of the lake it writes into; the caller commits.</param>
    /// <param name="settings">Costs, hours and travel.</param>
    /// <param name="progress">Takes messages.</param>
    /// <exception cref="UserError">A setting is out of range.</exception>
    public static void Run(Publication publication, WorklistSettings settings, IProgress<string>? progress = null)
    {
        settings.Validate();
        using var session = publication.OpenSession();
        var (asOf, candidates, weather, days) = Read(session, settings);
        var able = candidates.Where(c => c.Scored.AbstainsBecause is null).ToList();
        var visits = WorklistPlan.Of(able, days, weather, settings, solve: true);
        var list = WorklistRows.Worklist(visits, weather, days, settings);
        publication.Put(Tables.Worklist, list);
        if (asOf is { } day) publication.Put(Tables.PastWorklists, day.ToString("yyyy-MM", CultureInfo.InvariantCulture), [WorklistRows.Kept(list, day)]);
        publication.Put(Tables.VisitNeeds, WorklistRows.Needs(candidates, visits, days, weather, settings));
        publication.Put(Tables.WorklistSensitivity, Sensitivity.Of(able, days, weather, settings));
        progress?.Report(Summary(visits, candidates.Count));
    }

    /// <summary>The installs of the scores, the weather and the working days after the day of the scores.</summary>
    internal static (DateOnly? AsOf, List<Candidate> Candidates, GaugeWeather Weather, List<DateOnly> Days) Read(LakeSession session, WorklistSettings settings)
    {
        var (asOf, scores) = Scores(session);
        var day = asOf ?? DateOnly.MinValue;
        return (asOf, asOf is null ? [] : Candidates(session, day, scores), GaugeWeather.Read(session, day, settings), WorklistPlan.Days(day, settings));
    }

    private static string Summary(List<PlannedVisit> visits, int installs)
    {
        var how = visits.CountBy(v => v.By).OrderBy(b => b.Key, StringComparer.Ordinal).Select(b => b.Key switch
        {
            "solver" => $"{b.Value} planned by the solver",
            "insertion" => $"{b.Value} planned by insertion, for the solver's library does not load here",
            _ => $"{b.Value} ranked without days, for their region has no coordinates",
        });
        return string.Create(CultureInfo.InvariantCulture, $"{visits.Count} visits for {installs} installs without a follow-up{(visits.Count > 0 ? ": " : "")}{string.Join("; ", how)}");
    }

    private static (DateOnly? AsOf, Dictionary<string, (double Airflow, double Charge, string? Because, string? Abstains)> Scores) Scores(LakeSession session)
    {
        var batch = session.Read(Tables.Scores, "SELECT * FROM scores ORDER BY install_id");
        var scores = new Dictionary<string, (double, double, string?, string?)>(StringComparer.Ordinal);
        for (var r = 0; r < batch.Rows; r++)
        {
            scores[batch.Text("install_id")[r]!] = (batch.Number("p_airflow_correction")[r], batch.Number("p_charge_correction")[r], batch.Text("score_because")[r], batch.Text("abstains_because")[r]);
        }

        return (batch.Day("scored_on").Max(), scores);
    }

    private static List<Candidate> Candidates(LakeSession session, DateOnly asOf, Dictionary<string, (double Airflow, double Charge, string? Because, string? Abstains)> scores)
    {
        var places = new Dictionary<string, Place>(StringComparer.Ordinal);
        using (var reader = session.Query("SELECT install_id, latitude, longitude FROM installs WHERE latitude IS NOT NULL AND longitude IS NOT NULL ORDER BY install_id"))
        {
            while (reader.Read())
            {
                places[reader.GetString(0)] = new(reader.GetDouble(1), reader.GetDouble(2));
            }
        }

        return [.. FeatureReader.Features(session, asOf, new ForecastSettings().CrewPriorFollowUps, inScores: true).Select(f =>
        {
            var (airflow, charge, because, abstains) = scores[f.InstallId];
            return new Candidate(new(f, airflow, charge, because, abstains), places.GetValueOrDefault(f.InstallId, new(double.NaN, double.NaN)));
        })];
    }
}
