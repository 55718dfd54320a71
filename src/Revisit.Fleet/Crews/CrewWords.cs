namespace Revisit.Fleet.Crews;

/// <summary>What is compared in words: what was seen, where it is looked for, and what to change.</summary>
/// <param name="What">What was seen, to follow "more often than expected".</param>
/// <param name="Where">Installs on which it is looked for.</param>
/// <param name="Change">What the crew can do differently. Common practice, no source.</param>
public sealed record CrewWords(string What, string Where, string Change)
{
    private const string Judged = "judged first follow-ups", Visited = "first follow-ups";

    /// <summary>The words of one of <see cref="ComparedInstall.Columns"/>.</summary>
    public static CrewWords Of(string compared) => compared switch
    {
        "airflow" => new("airflow out of line", Judged, "measure static pressure and split at start-up and set the tap by them"),
        "airflow_high" => new("too much air", Judged, "set the tap by measured airflow, not as delivered"),
        "airflow_low" => new("too little air", Judged, "read static pressure on both sides and mend ducts or filter before charging"),
        "charge" => new("charge out of line", Judged, "put airflow right first, then charge by the method the metering asks for"),
        "charge_high" => new("charge too high", Judged, "stop at the target; weigh what goes in"),
        "charge_low" => new("charge too low", Judged, "weigh in what the line length asks for, then check the target"),
        "airflow_corrected" => new("airflow corrected", Visited, "as for airflow out of line"),
        "charge_corrected" => new("charge corrected", Visited, "as for charge out of line"),
        "tap_high_on_small" => new("too much air left", "systems up to 2.5 tons", "power off and locked out, then set the tap for the size; read the split again after 15 minutes and watch the coil for freezing"),
        "air_short_in_attic" => new("too little air", "ducts in attic or crawlspace", "read static pressure, open or add return, seal; mind attic heat and footing"),
        "long_line_short" => new("charge too low", "line sets over 25 ft, airflow in line", "add for the length beyond what the maker's charge covers, by weight"),
        "orifice_overcharged" => new("charge too high", "fixed orifices, airflow in line", "charge a fixed orifice by superheat from return wet bulb and outdoor air, not by subcooling"),
        "overcharged_in_mild" => new("charge too high", "start-ups below 75 °F outdoors, airflow in line", "charge to the target, not to a pressure; below 55 °F weigh it in and come back"),
        "undercharged_in_heat" => new("charge too low", "start-ups above 90 °F outdoors, airflow in line", "charge to the target, not to a pressure"),
        "filter_left" => new("filter loaded or missing at start-up", "start-ups with the filter written down", "put in a clean filter before reading"),
        "read_early" => new("read before 15 minutes", "start-ups with run time written down", "let it run 15 minutes before the first reading"),
        "no_wet_bulb" => new("no return wet bulb or humidity", "start-ups", "read the return wet bulb every time: split and orifice charge cannot be judged without it"),
        _ => throw new ArgumentOutOfRangeException(nameof(compared), compared, null),
    };
}
