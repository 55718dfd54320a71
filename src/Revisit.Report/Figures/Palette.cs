namespace Revisit.Report.Figures;

/// <summary>Colours of Okabe and Ito's set, safe for colour-blind readers (Okabe and Ito 2008, "Color Universal Design"; values from memory).</summary>
internal static class Palette
{
    public const string Blue = "#0072B2";
    public const string SkyBlue = "#56B4E9";
    public const string Green = "#009E73";
}
