using Revisit.Report.Facts;

namespace Revisit.Report.Pages;

/// <summary>How a comparison of a crew is written: raw and adjusted side by side, never without interval and count.</summary>
internal static class CrewTexts
{
    /// <summary>Heads of <see cref="StandingCells"/>.</summary>
    public static string[] StandingHeads(this Texts texts) =>
        [texts.Say("col.seen"), texts.Say("col.judged_installs"), texts.Say("col.expected"), texts.Say("col.raw_share"), texts.Say("col.adjusted_share"), texts.Say("col.interval"), texts.Say("col.standing")];

    /// <summary>Seen, judged, expected, raw share, adjusted share, its interval, and where that stands.</summary>
    public static string[] StandingCells(this Texts texts, StandingRow row) =>
    [
        texts.Number(row.Seen.Count), texts.Number(row.Seen.Of), texts.Number(row.Expected, 1), texts.Percent(row.Seen.Rate), row.Enough ? texts.Percent(row.AdjustedRate) : texts.Say("none"),
        row.Enough ? texts.Say("interval", texts.Number(100 * row.AdjustedLow), texts.Number(100 * row.AdjustedHigh)) : texts.Say("none"), texts.Code("standing", row.Standing),
    ];
}
