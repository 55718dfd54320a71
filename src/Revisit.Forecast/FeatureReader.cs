using System.Data.Common;
using Revisit.Storage;

namespace Revisit.Forecast;

/// <summary>Reads features and labels from the lake as it stood on a day.</summary>
public static class FeatureReader
{
    /// <summary>Charge that was left alone at a visit under 55 °F outdoors gives no answer: it could not be checked by gauges.</summary>
    private const string LabelSql = """
        SELECT f.install_id, f.followed_up_on, f.follow_up_kind, f.needed_airflow_correction,
            CASE WHEN f.needed_charge_correction = 0 AND w.outdoor_db_f < 55 THEN NULL ELSE f.needed_charge_correction END AS needed_charge_correction
        FROM follow_ups f
        LEFT JOIN (SELECT visit_id, max(outdoor_db_f) AS outdoor_db_f FROM readings GROUP BY visit_id) w ON w.visit_id = f.follow_up_visit_id
        WHERE f.follow_up_state = 'observed' AND f.followed_up_on IS NOT NULL
        """;

    /// <summary>Features of every install started up by a day, or of those that stand in <c>scores</c>, in order of install.</summary>
    public static List<InstallFeatures> Features(LakeSession session, DateOnly asOf, int crewPrior, bool inScores = false)
    {
        List<string> read = [.. FeatureQuery.Numbers.Where(n => n != "tap_level")];
        string[] words = ["install_id", "crew_id", "region", .. FeatureQuery.Categories, "blower_tap", "finding", "cannot_judge_because"];
        using var reader = session.Query($"""
            SELECT installed_on, {string.Join(", ", words)}, {string.Join(", ", read.Select(n => $"CAST({n} AS DOUBLE)"))}
            FROM ({LakeCut.At(asOf, FeatureQuery.Sql(crewPrior))}) {(inScores ? "WHERE install_id IN (SELECT install_id FROM scores)" : "")} ORDER BY install_id
            """);
        int[] source = [.. FeatureQuery.Numbers.Select(n => read.IndexOf(n) is var at && at < 0 ? -1 : 1 + words.Length + at)];
        var result = new List<InstallFeatures>();
        while (reader.Read())
        {
            string?[] text = [.. Enumerable.Range(1, words.Length).Select(c => Text(reader, c))];
            var (tap, finding, because) = (text[^3], text[^2], text[^1]);
            var numbers = new double[source.Length];
            for (var f = 0; f < numbers.Length; f++)
            {
                numbers[f] = source[f] < 0 ? TapLevel.Of(tap) : reader.IsDBNull(source[f]) ? double.NaN : reader.GetDouble(source[f]);
            }

            result.Add(new(text[0]!, text[1], text[2], reader.GetFieldValue<DateOnly>(0), numbers, text[3..^3], tap, finding, because));
        }

        return result;
    }

    /// <summary>The answers of first follow-ups made by a day, in order of follow-up.</summary>
    public static List<FollowUpLabel> Labels(LakeSession session, DateOnly asOf)
    {
        using var reader = session.Query(LakeCut.At(asOf, LabelSql) + " ORDER BY followed_up_on, install_id");
        var result = new List<FollowUpLabel>();
        while (reader.Read())
        {
            result.Add(new(reader.GetString(0), reader.GetFieldValue<DateOnly>(1), Text(reader, 2), Answer(reader, 3), Answer(reader, 4)));
        }

        return result;
    }

    /// <summary>Installs that had a first follow-up by a day, answered or not.</summary>
    public static HashSet<string> FollowedUp(LakeSession session, DateOnly asOf)
    {
        using var reader = session.Query(LakeCut.At(asOf, "SELECT install_id FROM follow_ups WHERE follow_up_state = 'observed'") + " ORDER BY install_id");
        var result = new HashSet<string>(StringComparer.Ordinal);
        while (reader.Read())
        {
            result.Add(reader.GetString(0));
        }

        return result;
    }

    private static string? Text(DbDataReader reader, int column) => reader.IsDBNull(column) ? null : reader.GetString(column);

    private static bool? Answer(DbDataReader reader, int column) => reader.IsDBNull(column) ? null : reader.GetInt32(column) == 1;
}
