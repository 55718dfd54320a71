using Revisit.Storage;

namespace Revisit.Forecast.Visits;

/// <summary>
/// How often it is warm enough, 55 °F, to check charge by gauges: the share of a region's own readings in the calendar month, where there
/// are enough; else all or nothing as the settings say. Readings of the day itself are a sample of working hours, which is what is asked.
/// </summary>
internal sealed class GaugeWeather(IReadOnlyDictionary<(string Region, int Month), (int Readings, int Warm)> seen, WorklistSettings settings)
{
    /// <summary>Reads what was measured by a day.</summary>
    public static GaugeWeather Read(LakeSession session, DateOnly asOf, WorklistSettings settings)
    {
        var seen = new Dictionary<(string, int), (int, int)>();
        using var reader = session.Query(LakeCut.At(asOf, """
            SELECT coalesce(i.region, '') AS region, CAST(month(r.visited_on) AS INTEGER) AS month, CAST(count(*) AS INTEGER) AS readings,
                CAST(count(*) FILTER (WHERE r.outdoor_db_f >= 55) AS INTEGER) AS warm
            FROM readings r JOIN installs i ON i.install_id = r.install_id WHERE r.outdoor_db_f IS NOT NULL GROUP BY ALL
            """) + " ORDER BY region, month");
        while (reader.Read())
        {
            seen[(reader.GetString(0), reader.GetInt32(1))] = (reader.GetInt32(2), reader.GetInt32(3));
        }

        return new(seen, settings);
    }

    /// <summary>Chance that a day is warm enough [0–1].</summary>
    public double Warm(string? region, DateOnly day) =>
        seen.TryGetValue((region ?? "", day.Month), out var s) && s.Readings >= settings.FewestWeatherReadings ? (double)s.Warm / s.Readings
        : settings.MonthsTooColdForCharge.Contains(day.Month) ? 0 : 1;
}
