using System.Globalization;
using System.Text;

namespace Revisit.Diagnosis;

/// <summary>
/// Did the correction work? Two readings inside each other's uncertainty are not a change: something must move by more than
/// <see cref="Moved"/> combined instrument uncertainties before a verdict other than no_change is given.
/// </summary>
public static class OutcomeRules
{
    /// <summary>Combined uncertainties a reading must move to count as moved; one in twenty by chance for one reading.</summary>
    public const double Moved = 2.0;

    // Distance must shrink or grow by a quarter, and by at least 2, to be nearer or farther and not just elsewhere (judgement).
    private const double Share = 0.25;
    private const double Least = 2.0;

    /// <summary>The verdict and what it rests on.</summary>
    /// <param name="found">As found.</param>
    /// <param name="left">As left.</param>
    /// <param name="correction">Codes of what was done, joined by +; null when nothing was written.</param>
    /// <param name="orifice">Whether charge shows in superheat rather than subcooling.</param>
    public static (string Outcome, string Because) Judge(OutcomeSide found, OutcomeSide left, string? correction, bool orifice)
    {
        if (!found.Usable || !left.Usable)
        {
            var which = found.Usable ? left : found;
            return ("cannot_judge", (found.Usable ? "as left: " : "as found: ") + which.CannotJudgeBecause);
        }

        var changes = Changes(found, left, out var moved);
        var against = Against(found, left, correction, orifice);
        if (!moved)
        {
            return ("no_change", "changes are inside what the instruments explain" + (changes.Length > 0 ? ": " + changes : "") + against);
        }

        var fall = found.Distance - left.Distance;
        var nearer = fall > Math.Max(Least, Share * found.Distance);
        var farther = -fall > Math.Max(Least, Share * left.Distance);
        var was = Said(found);
        var now = Said(left);
        if (found.Finding == "in_line" && left.Finding == "in_line")
        {
            return ("no_change", $"in line as found and as left: {changes}{against}");
        }

        if (found.Finding != "in_line" && left.Finding == "in_line" && fall > 0 && against.Length == 0)
        {
            return ("cured", $"{was} as found, in line as left: {changes}");
        }

        return nearer ? ("better", $"nearer to what a sound system reads ({was} as found, {now} as left): {changes}{against}")
            : farther && left.Finding != "in_line" ? ("worse", $"farther from what a sound system reads ({was} as found, {now} as left): {changes}{against}")
            : ("no_change", $"readings moved but stand no nearer ({was} as found, {now} as left): {changes}{against}");
    }

    private static string Said(OutcomeSide side) => side.Finding switch
    {
        "cannot_judge" => "not told apart",
        var f => f.Replace('_', ' '),
    };

    private static string Changes(OutcomeSide found, OutcomeSide left, out bool moved)
    {
        var text = new StringBuilder();
        moved = false;
        for (var i = 0; i < OutcomeSide.Names.Length; i++)
        {
            var change = left.Values[i] - found.Values[i];
            if (double.IsNaN(change))
            {
                continue;
            }

            var sd = Spread.Root(found.Sds[i], left.Sds[i]);
            moved |= Math.Abs(change) > Moved * sd;
            text.Append(text.Length > 0 ? ", " : "").Append(CultureInfo.InvariantCulture, $"{OutcomeSide.Names[i]} {change:+0.0;−0.0;0.0} °F (±{sd:0.0})");
        }

        return text.ToString();
    }

    /// <summary>Charge added must raise subcooling (valve) or lower superheat (orifice), and the other way round for charge removed.</summary>
    private static string Against(OutcomeSide found, OutcomeSide left, string? correction, bool orifice)
    {
        var added = correction?.Contains("charge_added", StringComparison.Ordinal) == true;
        var removed = correction?.Contains("charge_removed", StringComparison.Ordinal) == true;
        if (added == removed)
        {
            return "";
        }

        var i = orifice ? 1 : 2;
        var change = left.Values[i] - found.Values[i];
        var predicted = added == orifice ? -1 : 1;
        return change * predicted < -Moved * Spread.Root(found.Sds[i], left.Sds[i])
            ? $"; {(orifice ? "superheat" : "subcooling")} moved against what charge {(added ? "added" : "removed")} predicts"
            : "";
    }
}
