namespace Revisit.Simulator;

/// <summary>A branch of the invented contractor and its climate.</summary>
/// <param name="Name">Branch, lower case.</param>
/// <param name="Letter">First letter of its crews and visits.</param>
/// <param name="Zone">IANA time zone.</param>
/// <param name="ElevationFt">Middle of the sites' elevations [ft].</param>
/// <param name="Latitude">Invented middle of the sites [deg].</param>
/// <param name="Longitude">Invented middle of the sites [deg].</param>
/// <param name="Climate">Outdoor air by month and hour, borrowed from a real station.</param>
internal sealed record Branch(
    string Name, char Letter, string Zone, double ElevationFt, double Latitude, double Longitude, Climate Climate);

/// <summary>An install crew and how often it falls into each habit.</summary>
/// <param name="Id">Crew.</param>
/// <param name="Branch">Position of its branch.</param>
/// <param name="TapHighOnSmall">Leaves the blower tap high on systems up to 2.5 tons.</param>
/// <param name="LongLineShort">Adds no refrigerant for a line set over 25 ft.</param>
/// <param name="OrificeBySubcooling">Charges a fixed orifice to 10 °F of subcooling.</param>
/// <param name="EarlyReading">Reads after about 5 minutes.</param>
/// <param name="FilterLeft">Leaves the filter used while the house was being built.</param>
/// <param name="NoWetBulb">Takes no wet bulb.</param>
/// <param name="Copies">Writes the values of an earlier sheet instead of reading.</param>
/// <param name="Care">Multiplies the spread of its airflow and charge; 1 is usual, less is careful.</param>
/// <param name="ChargeByPressure">Charges to a pressure it knows by heart: too much in mild weather, too little in heat.</param>
/// <param name="Learning">Share of its airflow and charge habits it loses in a year of its own accord.</param>
/// <param name="CoachedFrom">Day from which coaching took 80 % off its airflow and charge habits, or null.</param>
internal sealed record Crew(
    string Id, int Branch, double TapHighOnSmall, double LongLineShort, double OrificeBySubcooling, double EarlyReading, double FilterLeft, double NoWetBulb, double Copies, double Care,
    double ChargeByPressure = 0.05, double Learning = 0.1, DateOnly? CoachedFrom = null)
{
    /// <summary>How strongly the crew keeps its airflow and charge habits: 1 on the first day of the records, less as it learns or was coached.</summary>
    public double Keeping(DateOnly day, DateOnly first) =>
        Math.Max(0.3, 1 - Learning * (day.DayNumber - first.DayNumber) / 365.25) * (day >= CoachedFrom ? 0.2 : 1);

    /// <summary>Every habit by name with how often the crew falls into it where the work invites it, before coaching.</summary>
    public IReadOnlyList<(string Habit, double Share)> Habits =>
    [
        ("tap_high_on_small", TapHighOnSmall), ("long_line_short", LongLineShort), ("orifice_by_subcooling", OrificeBySubcooling), ("charge_by_pressure", ChargeByPressure), ("early_reading", EarlyReading),
        ("filter_left", FilterLeft), ("no_wet_bulb", NoWetBulb), ("copied_sheet", Copies),
    ];
}

/// <summary>The invented scenario: one contractor, four branches, ten install crews.</summary>
internal static class Scenario
{
    public static readonly Branch[] Branches =
    [
        new("harbor", 'H', "America/New_York", 60, 36.9, -76.9, Climate.Of("harbor")),
        new("plateau", 'P', "America/Denver", 5_400, 38.4, -105.6, Climate.Of("plateau")),
        new("lakeside", 'L', "America/Chicago", 700, 43.4, -88.6, Climate.Of("lakeside")),
        new("prairie", 'R', "America/Chicago", 1_100, 36.2, -97.1, Climate.Of("prairie")),
    ];

    public static readonly Crew[] Crews =
    [
        new("H1", 0, 0.75, 0.15, 0.15, 0.05, 0.05, 0.04, 0.01, 1.0),
        new("H2", 0, 0.10, 0.10, 0.10, 0.04, 0.04, 0.02, 0.01, 0.6, ChargeByPressure: 0, Learning: 0.25),
        new("H3", 0, 0.15, 0.65, 0.20, 0.08, 0.08, 0.05, 0.01, 1.0),
        new("P1", 1, 0.20, 0.20, 0.80, 0.06, 0.05, 0.06, 0.01, 1.0),
        new("P2", 1, 0.15, 0.15, 0.15, 0.07, 0.45, 0.04, 0.01, 1.1),
        new("L1", 2, 0.20, 0.20, 0.15, 0.60, 0.08, 0.05, 0.03, 1.2),
        new("L2", 2, 0.10, 0.12, 0.10, 0.05, 0.06, 0.55, 0.01, 0.9, ChargeByPressure: 0.6, Learning: 0),
        new("R1", 3, 0.55, 0.60, 0.20, 0.10, 0.10, 0.08, 0.01, 1.3, CoachedFrom: new DateOnly(2026, 3, 1)),
        new("R2", 3, 0.12, 0.10, 0.10, 0.04, 0.03, 0.02, 0.01, 0.7, ChargeByPressure: 0, Learning: 0.25),
        new("R3", 3, 0.20, 0.20, 0.60, 0.10, 0.30, 0.10, 0.22, 1.1),
    ];

    /// <summary>Share of the installs each crew makes.</summary>
    public static readonly double[] CrewWeights = [1.2, 1.1, 0.9, 0.9, 0.8, 1.0, 0.9, 1.2, 1.1, 0.9];

    /// <summary>Relative number of start-ups by month, January to December.</summary>
    public static readonly double[] StartUpsByMonth = [0.35, 0.4, 0.7, 1.0, 1.5, 1.9, 2.0, 1.7, 1.1, 0.8, 0.5, 0.4];

    /// <summary>Years since the start of 2025, by which the mix of installs moves; 0 before.</summary>
    public static double Years(DateOnly day) => Math.Max(0, (day.DayNumber - new DateOnly(2025, 1, 1).DayNumber) / 365.25);

    /// <summary>Share of R-410A among start-ups of a day; the rest is R-454B, two to one over R-32. Invented.</summary>
    public static double ShareR410A(DateOnly day) => Math.Clamp(0.75 - 0.055 * ((day.Year - 2025) * 12 + day.Month - 5), 0.04, 0.95);
}
