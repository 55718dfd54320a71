using System.Globalization;
using Revisit.Records;

namespace Revisit.Ingest;

/// <summary>Why a row is rejected.</summary>
internal readonly record struct Rejection(string Reason, string Detail);

/// <summary>Turns one source record into a reading row, or says why it cannot be one.</summary>
internal sealed class RowBuilder
{
    private static readonly int VisitedAt = ReadingRow.At("visited_at"), ReadingNo = ReadingRow.At("reading_no"), VisitKind = ReadingRow.At("visit_kind"), Elevation = ReadingRow.At("elevation_ft");
    private static readonly int[] Identity = [.. new[] { "visit_id", "install_id", "crew_id" }.Select(ReadingRow.At)];
    private readonly ColumnPlan[] plans;
    private readonly ColumnPlan?[] planOf = new ColumnPlan?[ReadingRow.Width];
    private readonly ReadingRow constants;
    private readonly double fixedBarometerPsi;
    private readonly Plausibility plausibility;
    private FieldSource current = null!;
    private double currentBarometerPsi;

    private string AtOtherBarometer => double.IsNaN(constants.Numbers[Elevation])
        ? "absolute pressures of this row were read as at sea level"
        : string.Create(CultureInfo.InvariantCulture, $"absolute pressures of this row were read as at {constants.Numbers[Elevation]:0} ft");

    /// <summary>Compiles a profile; <paramref name="slotOf"/> gives the cell of a heading or path, −1 where there is none.</summary>
    public RowBuilder(SourceProfile profile, Func<string, int> slotOf)
    {
        // Elevation first: an absolute pressure needs the barometer of its own row.
        plans = [.. profile.Columns.Where(c => c.From.Any(f => slotOf(f) >= 0))
            .OrderBy(c => c.Column == "elevation_ft" ? 0 : 1)
            .Select(c => new ColumnPlan(c, profile, [.. c.From.Select(slotOf).Where(s => s >= 0)]))];
        foreach (var plan in plans)
        {
            planOf[plan.Index] = plan;
        }

        constants = ConstantRow.Of(profile);
        var elevation = constants.Numbers[Elevation];
        fixedBarometerPsi = BarometerPsi(double.IsNaN(elevation) ? 0 : elevation);
        plausibility = new Plausibility(
            column => planOf[column]?.Raw(current) ?? "",
            column => planOf[column]?.Unit,
            (column, unit, factor) => planOf[column]?.Reread(current, unit, factor, currentBarometerPsi) ?? double.NaN);
    }

    /// <summary>How many times that occur twice were taken as the earlier.</summary>
    public int TakenAsEarlier => plans.Sum(p => p.TakenAsEarlier);

    private static double BarometerPsi(double elevationFt) =>
        Units.StandardBarometerPascal(elevationFt * Units.MetrePerFoot) / Units.PascalPerPsi;

    /// <summary>Fills <paramref name="row"/> from the record; null when the row is accepted.</summary>
    public Rejection? Build(ReadingRow row, FieldSource source)
    {
        current = source;
        row.CopyFrom(constants);
        var barometer = double.NaN;
        foreach (var plan in plans)
        {
            if (plan.IsAbsolute && double.IsNaN(barometer))
            {
                barometer = ReadingRow.TermAt(Elevation).Allows(row.Numbers[Elevation])
                    ? BarometerPsi(row.Numbers[Elevation])
                    : fixedBarometerPsi;
            }

            plan.Fill(row, source, barometer);
        }

        foreach (var column in Identity)
        {
            if (row.Texts[column] is not { } id)
            {
                return new("missing_identity", $"{Tables.PlainColumns[column]} is empty; a reading without it belongs nowhere");
            }

            if (id.Contains('\uFFFD', StringComparison.Ordinal))
            {
                return new("undecodable_text", $"{Tables.PlainColumns[column]} holds characters that are not in the profile's encoding");
            }

            if (id.Length > Losers.LongestId || id.AsSpan().IndexOfAnyInRange('\0', '\x1f') >= 0 || id.AsSpan().IndexOfAnyInRange('\x7f', '\x9f') >= 0)
            {
                return new("bad_identity", $"{Tables.PlainColumns[column]} has more than {Losers.LongestId} characters or control characters");
            }
        }

        if (row.Wholes[ReadingNo] == ReadingRow.NoWhole)
        {
            return new("missing_identity", "reading_no is not a whole number from 1 to 99");
        }

        if (row.Texts[VisitKind] is null)
        {
            return new("bad_identity", $"visit_kind is not one of {string.Join(", ", Codes.VisitKind)}; add what this source writes to 'values' in its profile");
        }

        if (row.Wholes[VisitedAt] == ReadingRow.NoWhole)
        {
            return new("bad_time", "visited_at: " + (planOf[VisitedAt]?.InstantExpected ?? "no source"));
        }

        currentBarometerPsi = double.IsNaN(barometer) ? fixedBarometerPsi : barometer;
        plausibility.Check(row);
        if (!double.IsNaN(barometer) && row.SetAside.FindIndex(s => s.Column == Elevation) is var at and >= 0)
        {
            // The pressures stay, a few psi off at most; whoever reads the row must be able to see it.
            row.SetAside[at] = row.SetAside[at] with { Detail = row.SetAside[at].Detail + "; " + AtOtherBarometer };
        }

        return null;
    }
}
