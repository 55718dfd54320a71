using System.Globalization;
using Revisit.Storage;

namespace Revisit.Forecast;

/// <summary>A feature that changed when the lake was cut at the install day, and so looked ahead.</summary>
public sealed record Leak(string InstallId, string Feature, string Seen, string KnownThen);

/// <summary>
/// Recomputes features from the lake cut at the install day and compares them, value by value, with those computed from the later lake.
/// A feature that looks ahead differs.
/// </summary>
public static class LeakGuard
{
    /// <summary>Every difference on the given install days; empty when nothing looks ahead.</summary>
    /// <param name="session">The lake.</param>
    /// <param name="query">Feature query with <c>install_id</c> and <c>installed_on</c> among its columns.</param>
    /// <param name="asOf">The day the features in use are computed for.</param>
    /// <param name="days">Install days to check.</param>
    public static List<Leak> Check(LakeSession session, string query, DateOnly asOf, IEnumerable<DateOnly> days)
    {
        var leaks = new List<Leak>();
        List<DateOnly> each = [.. days];
        var seen = Rows(session, LakeCut.At(asOf, query), each);
        foreach (var day in each)
        {
            var known = Rows(session, LakeCut.At(day, query), [day]);
            foreach (var (install, row) in seen.Where(s => s.Value["installed_on"] == Text(day)))
            {
                if (!known.TryGetValue(install, out var then))
                {
                    leaks.Add(new(install, "install_id", install, "not known"));
                    continue;
                }

                leaks.AddRange(row.Where(c => then[c.Key] != c.Value).Select(c => new Leak(install, c.Key, c.Value, then[c.Key])));
            }
        }

        return leaks;
    }

    /// <summary>Throws when a feature looks ahead.</summary>
    /// <exception cref="InvalidOperationException">Names the first feature that does.</exception>
    public static void Require(LakeSession session, string query, DateOnly asOf, IEnumerable<DateOnly> days)
    {
        var leaks = Check(session, query, asOf, days);
        if (leaks.Count > 0)
        {
            var first = leaks[0];
            throw new InvalidOperationException(
                $"feature '{first.Feature}' of install {first.InstallId} is {first.Seen}, but was {first.KnownThen} on its install day: it looks ahead ({leaks.Count} values differ)");
        }
    }

    /// <summary>At most <paramref name="count"/> of the install days, spread evenly.</summary>
    public static List<DateOnly> Sample(IEnumerable<InstallFeatures> installs, int count)
    {
        var days = installs.Select(i => i.InstalledOn).Distinct().Order().ToList();
        return days.Count <= count ? days : [.. Enumerable.Range(0, count).Select(i => days[(int)((long)i * (days.Count - 1) / Math.Max(1, count - 1))])];
    }

    private static SortedDictionary<string, Dictionary<string, string>> Rows(LakeSession session, string sql, IReadOnlyList<DateOnly> days)
    {
        var result = new SortedDictionary<string, Dictionary<string, string>>(StringComparer.Ordinal);
        if (days.Count == 0)
        {
            return result;
        }

        using var reader = session.Query($"{sql} WHERE installed_on IN ({string.Join(", ", days.Select(LakeCut.Date))})");
        while (reader.Read())
        {
            var row = new Dictionary<string, string>();
            for (var c = 0; c < reader.FieldCount; c++)
            {
                row[reader.GetName(c)] = reader.IsDBNull(c) ? "missing" : Text(reader.GetValue(c));
            }

            result[row["install_id"]] = row;
        }

        return result;
    }

    private static string Text(object value) => Convert.ToString(value, CultureInfo.InvariantCulture)!;
}
