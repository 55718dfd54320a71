using System.Data.Common;
using System.Globalization;
using Revisit.Storage;

namespace Revisit.Forecast;

/// <summary>Reads features and labels from the lake as it stood on a day.</summary>
public static class FeatureReader
{
    private const string LabelSql = """
        SELECT install_id, followed_up_on, follow_up_kind, needed_airflow_correction, needed_charge_correction
        FROM follow_ups WHERE follow_up_state = 'observed' AND followed_up_on IS NOT NULL ORDER BY followed_up_on, install_id
        """;

    /// <summary>Features of every install started up by a day, in order of install.</summary>
    public static List<InstallFeatures> Features(LakeSession session, DateOnly asOf, int crewPrior)
    {
        using var reader = session.Query(LakeCut.At(asOf, FeatureQuery.Sql(crewPrior)) + " ORDER BY install_id");
        var at = Enumerable.Range(0, reader.FieldCount).ToDictionary(reader.GetName);
        var result = new List<InstallFeatures>();
        while (reader.Read())
        {
            var tap = Text(reader, at["blower_tap"]);
            var numbers = FeatureQuery.Numbers.Select(n => n == "tap_level" ? TapLevel.Of(tap) : Number(reader, at[n])).ToArray();
            result.Add(new(
                reader.GetString(at["install_id"]), Text(reader, at["crew_id"]), Text(reader, at["region"]), reader.GetFieldValue<DateOnly>(at["installed_on"]),
                numbers, [.. FeatureQuery.Categories.Select(c => Text(reader, at[c]))],
                tap, Text(reader, at["finding"]), Text(reader, at["cannot_judge_because"])));
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

    private static double Number(DbDataReader reader, int column) =>
        reader.IsDBNull(column) ? double.NaN : Convert.ToDouble(reader.GetValue(column), CultureInfo.InvariantCulture);
}
