using System.Collections.Frozen;
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
        // What was seen comes as the bits of two whole numbers: which columns were, and which of them were so.
        string Bits(string bit) => string.Join(" + ", Columns.Select((c, i) => FormattableString.Invariant($"(case when {c} {bit} then {1 << i} else 0 end)")));
        using var reader = session.Query($"""
            select install_id, crew_id, installed_on, nominal_tons, refrigerant, metering, duct_location, blower_motor, line_set_ft, start_visit_id, started_on, start_season, start_outdoor_f,
                follow_up_visit_id, follow_up_kind, followed_up_on, season, follow_up_outdoor_f, planned_on, ({Bits("is not null")})::integer, ({Bits("= 1")})::integer
            from int_installs_compared left join int_installs_planned using (install_id)
            order by install_id
            """);
        var (installs, few) = (new List<ComparedInstall>(), new FewTexts());
        while (reader.Read())
        {
            var (seen, so, was) = (reader.GetInt32(19), reader.GetInt32(20), new bool?[Columns.Count]);
            for (var i = 0; i < was.Length; i++)
            {
                was[i] = (seen >> i & 1) == 0 ? null : (so >> i & 1) == 1;
            }

            var install = new ComparedInstall
            {
                InstallId = reader.GetString(0),
                CrewId = few.One(reader.GetString(1)),
                InstalledOn = reader.DayOf(2),
                Tons = reader.NumberOf(3),
                Refrigerant = few.One(reader.TextOf(4)),
                Metering = few.One(reader.TextOf(5)),
                Ducts = few.One(reader.TextOf(6)),
                Motor = few.One(reader.TextOf(7)),
                LineFt = reader.NumberOf(8),
                StartVisitId = reader.TextOf(9),
                StartedOn = reader.DayOf(10),
                StartSeason = few.One(reader.TextOf(11)),
                StartOutdoorF = reader.NumberOf(12),
                FollowUpVisitId = reader.TextOf(13),
                FollowUpKind = few.One(reader.TextOf(14)),
                FollowedUpOn = reader.DayOf(15),
                Season = few.One(reader.TextOf(16)),
                FollowUpOutdoorF = reader.NumberOf(17),
                PlannedOn = reader.DayOf(18),
                Seen = was,
            };
            installs.Add(until is { } last ? install.KnownBy(last) : install);
        }

        return installs;
    }

    /// <summary>Day on which something was seen.</summary>
    public DateOnly? SeenOn(string column) => AtStart.Contains(column) ? StartedOn : FollowedUpOn;

    /// <summary>Visit at which something was seen.</summary>
    public string? VisitOf(string column) => AtStart.Contains(column) ? StartVisitId : FollowUpVisitId;

    /// <summary>Place of something compared in <see cref="Columns"/>.</summary>
    public static int IndexOf(string column) => Positions.TryGetValue(column, out var at) ? at : throw new KeyNotFoundException($"nothing compared is called '{column}'");

    /// <summary>The install with what was seen by a day.</summary>
    public ComparedInstall KnownBy(DateOnly last) => this with
    {
        PlannedOn = PlannedOn <= last ? PlannedOn : null,
        Seen = [.. Seen.Select((s, i) => SeenOn(Columns[i]) <= last ? s : null)],
    };
}
