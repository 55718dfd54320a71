using Revisit.Report.Facts;

namespace Revisit.Report.Pages;

/// <summary>How a share is written: never without its count and its interval.</summary>
internal static class ShareTexts
{
    /// <summary>"9 of 18 (50 %, 95 % interval 29 to 71 %)".</summary>
    public static string ShareWithInterval(this Texts texts, Share share) => share.Of == 0
        ? texts.Say("share.empty")
        : texts.Say("share", texts.Number(share.Count), texts.Number(share.Of), texts.Percent(share.Rate), texts.Interval(share));

    /// <summary>"29 to 71 %".</summary>
    public static string Interval(this Texts texts, Share share) => share.Of == 0
        ? texts.Say("none")
        : texts.Say("interval", texts.Number(100 * share.Low), texts.Number(100 * share.High));
}
