using System.Collections.Frozen;
using System.Data.Common;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Fleet.Crews;

/// <summary>The work of one install, and what was seen of it; a row of <c>int_installs_compared</c>.</summary>
public sealed record ComparedInstall
{
    /// <summary>What is seen at the first follow-up, then what the start-up record shows; positions in <see cref="Seen"/>.</summary>
    public static readonly IReadOnlyList<string> Columns = [.. Codes.Compared, .. Codes.Habit];

    private static readonly FrozenDictionary<string, int> Positions = Columns.Index().ToFrozenDictionary(c => c.Item, c => c.Index);

    /// <summary>Mistakes that the start-up record shows; all others show at the first follow-up.</summary>
    public static readonly IReadOnlyList<string> AtStart = ["filter_left", "read_early", "no_wet_bulb"];

    public required string InstallId { get; init; }
    public required string CrewId { get; init; }
    public DateOnly? InstalledOn { get; init; }

    /// <summary>NaN where not written, as are the other numbers.</summary>
    public double Tons { get; init; } = double.NaN;

    public string? Refrigerant { get; init; }
    public string? Metering { get; init; }
    public string? Ducts { get; init; }
    public string? Motor { get; init; }
    public double LineFt { get; init; } = double.NaN;
    public string? StartVisitId { get; init; }
    public DateOnly? StartedOn { get; init; }
    public string? StartSeason { get; init; }
    public double StartOutdoorF { get; init; } = double.NaN;
    public string? FollowUpVisitId { get; init; }
    public string? FollowUpKind { get; init; }
    public DateOnly? FollowedUpOn { get; init; }
    public string? Season { get; init; }
    public double FollowUpOutdoorF { get; init; } = double.NaN;

    /// <summary>Day of the first planned visit, a quality check or maintenance; null without one.</summary>
    public DateOnly? PlannedOn { get; init; }

    /// <summary>Whether each of <see cref="Columns"/> was so; null where it was not invited, seen or judged.</summary>
    public required bool?[] Seen { get; init; }

    /// <summary>Whether something was so, by its name.</summary>
    public bool? this[string column] => Seen[IndexOf(column)];

    /// <summary>Every install whose crew is known, by install.</summary>
    /// <param name="session">A session in which <see cref="SqlLibrary.DefineViews"/> has run.</param>
    /// <param name="until">Last day of what is taken to be known; null for all.</param>
    public static List<ComparedInstall> Read(LakeSession session, DateOnly? until = null)
    {
        ArgumentNullException.ThrowIfNull(session);
        using var reader = session.Query($"""
            select install_id, crew_id, installed_on, nominal_tons, refrigerant, metering, duct_location, blower_motor, line_set_ft, start_visit_id, started_on, start_season, start_outdoor_f,
                follow_up_visit_id, follow_up_kind, followed_up_on, season, follow_up_outdoor_f, planned_on, {string.Join(", ", Columns)}
            from int_installs_compared
            order by install_id
            """);
        var installs = new List<ComparedInstall>();
        while (reader.Read())
        {
            var install = new ComparedInstall
            {
                InstallId = reader.GetString(0),
                CrewId = reader.GetString(1),
                InstalledOn = DayOf(reader, 2),
                Tons = NumberOf(reader, 3),
                Refrigerant = TextOf(reader, 4),
                Metering = TextOf(reader, 5),
                Ducts = TextOf(reader, 6),
                Motor = TextOf(reader, 7),
                LineFt = NumberOf(reader, 8),
                StartVisitId = TextOf(reader, 9),
                StartedOn = DayOf(reader, 10),
                StartSeason = TextOf(reader, 11),
                StartOutdoorF = NumberOf(reader, 12),
                FollowUpVisitId = TextOf(reader, 13),
                FollowUpKind = TextOf(reader, 14),
                FollowedUpOn = DayOf(reader, 15),
                Season = TextOf(reader, 16),
                FollowUpOutdoorF = NumberOf(reader, 17),
                PlannedOn = DayOf(reader, 18),
                Seen = [.. Columns.Select((_, i) => reader.IsDBNull(19 + i) ? (bool?)null : reader.GetInt32(19 + i) == 1)],
            };
            installs.Add(until is { } last ? install.KnownBy(last) : install);
        }

        return installs;
    }

    /// <summary>Day on which something was seen.</summary>
    public DateOnly? SeenOn(string column) => AtStart.Contains(column) ? StartedOn : FollowedUpOn;

    /// <summary>Visit at which something was seen.</summary>
    public string? VisitOf(string column) => AtStart.Contains(column) ? StartVisitId : FollowUpVisitId;

    private static int IndexOf(string column) => Positions.TryGetValue(column, out var at) ? at : throw new KeyNotFoundException($"nothing compared is called '{column}'");

    /// <summary>The install with what was seen by a day.</summary>
    public ComparedInstall KnownBy(DateOnly last) => this with
    {
        PlannedOn = PlannedOn <= last ? PlannedOn : null,
        Seen = [.. Seen.Select((s, i) => SeenOn(Columns[i]) <= last ? s : null)],
    };

    private static string? TextOf(DbDataReader reader, int column) => reader.IsDBNull(column) ? null : reader.GetString(column);

    private static double NumberOf(DbDataReader reader, int column) => reader.IsDBNull(column) ? double.NaN : reader.GetDouble(column);

    private static DateOnly? DayOf(DbDataReader reader, int column) => reader.IsDBNull(column) ? null : reader.GetFieldValue<DateOnly>(column);
}
