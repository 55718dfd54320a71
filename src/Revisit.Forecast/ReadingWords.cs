using System.Globalization;

namespace Revisit.Forecast;

/// <summary>Says what a feature shows in the words of the trade.</summary>
public static class ReadingWords
{
    /// <summary>Features that are told together: name of the group, its numbers and its categories by position.</summary>
    public static readonly IReadOnlyList<(string Name, IReadOnlyList<int> Numbers, IReadOnlyList<int> Categories)> Groups = BuildGroups();

    /// <summary>Words for a group of an install; null when its value is missing.</summary>
    public static string? Of(string group, InstallFeatures install)
    {
        if (group == "finding")
        {
            return install.Finding is null ? null : $"start-up finding {install.Finding.Replace('_', ' ')}";
        }

        if (FeatureQuery.Categories.Contains(group))
        {
            return install.Category(group) is not { } word ? null : group switch
            {
                "metering" => word.Replace('_', ' ') + " metering",
                "duct_location" => word == "indoors" ? "ducts indoors" : $"ducts in the {word}",
                "blower_motor" => word.Replace('_', ' ') + " blower",
                "season" => $"started up in {word}",
                _ => word,
            };
        }

        var value = install[group];
        if (!double.IsFinite(value))
        {
            return null;
        }

        string Difference(string what, string than) => string.Create(CultureInfo.InvariantCulture, $"{what} {Math.Abs(value):0.0} °F {(value < 0 ? "under" : "over")} {than}");
        return group switch
        {
            "split_error_f" => Difference("split", "expected"),
            "superheat_error_f" => Difference("superheat", "target"),
            "subcooling_error_f" => Difference("subcooling", "target"),
            "condensing_over_outdoor_f" => Difference("condensing", "outdoors"),
            "external_static_inwc" => string.Create(CultureInfo.InvariantCulture, $"static {value:0.00} in. w.c."),
            "nominal_tons" => string.Create(CultureInfo.InvariantCulture, $"{value:0.#} tons"),
            "line_set_ft" => string.Create(CultureInfo.InvariantCulture, $"{value:0} ft line set"),
            "minutes_running" => string.Create(CultureInfo.InvariantCulture, $"read after {value:0} minutes"),
            "outdoor_db_f" => string.Create(CultureInfo.InvariantCulture, $"{value:0} °F outdoors"),
            "tap_level" => $"tap {install.BlowerTap}",
            "crew_airflow_rate" => string.Create(CultureInfo.InvariantCulture, $"crew's earlier airflow corrections {100 * value:0} %"),
            "crew_charge_rate" => string.Create(CultureInfo.InvariantCulture, $"crew's earlier charge corrections {100 * value:0} %"),
            _ => throw new ArgumentException($"no words for '{group}'", nameof(group)),
        };
    }

    private static List<(string, IReadOnlyList<int>, IReadOnlyList<int>)> BuildGroups()
    {
        var groups = new List<(string, IReadOnlyList<int>, IReadOnlyList<int>)>();
        var finding = new List<int>();
        for (var i = 0; i < FeatureQuery.Numbers.Count; i++)
        {
            if (FeatureQuery.Numbers[i].StartsWith("p_", StringComparison.Ordinal) || FeatureQuery.Numbers[i] == "cannot_judge")
            {
                finding.Add(i);
            }
            else
            {
                groups.Add((FeatureQuery.Numbers[i], [i], []));
            }
        }

        groups.Add(("finding", finding, []));
        groups.AddRange(FeatureQuery.Categories.Select((c, i) => (c, (IReadOnlyList<int>)[], (IReadOnlyList<int>)[i])));
        return groups;
    }
}
