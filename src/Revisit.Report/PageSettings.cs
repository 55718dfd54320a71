namespace Revisit.Report;

/// <summary>How the pages of a month are written.</summary>
public sealed record PageSettings
{
    /// <summary>A note at the top of every page; without one, a lake with a source named "demo" gets the note that its data are invented.</summary>
    public string? Note { get; init; }

    /// <summary>Language of the pages; "en" and "es" are built in.</summary>
    public string Language { get; init; } = "en";

    /// <summary>Units of the pages: "ip" (°F, psig, tons, as the tables have them) or "si" (°C, kPa, kW).</summary>
    public string Units { get; init; } = "ip";

    /// <summary>Refuses what there is not.</summary>
    /// <exception cref="Records.UserError">There is no such language or there are no such units.</exception>
    public void Validate() => Texts.Load(Language, Units);
}
