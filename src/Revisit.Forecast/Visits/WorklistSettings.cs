using System.Globalization;
using Revisit.Records;

namespace Revisit.Forecast.Visits;

/// <summary>Where the crews of a region start their day.</summary>
public sealed record StartPlace
{
    /// <summary>North positive [deg].</summary>
    public double Latitude { get; init; }

    /// <summary>East positive [deg].</summary>
    public double Longitude { get; init; }
}

/// <summary>
/// Costs, odds, hours and travel of the worklist; <c>pipelines/worklist.yaml</c> says of each where it comes from. Unless said otherwise a
/// default is an assumption of ours, neither measured nor published: replace it by the company's own.
/// </summary>
public sealed record WorklistSettings
{
    /// <summary>Weeks to plan for.</summary>
    public int Weeks { get; init; } = 2;

    /// <summary>Crews that go back, in all regions together; they are placed where they find most.</summary>
    public int Crews { get; init; } = 3;

    /// <summary>Working days a week, from Monday.</summary>
    public int DaysAWeek { get; init; } = 5;

    /// <summary>A crew's day from leaving to coming back [h].</summary>
    public double HoursADay { get; init; } = 8;

    /// <summary>Hour the day starts, clock of the site [h].</summary>
    public double DayStartsAt { get; init; } = 8;

    /// <summary>Time of one visit [h].</summary>
    public double VisitHours { get; init; } = 1.5;

    /// <summary>Speed on the road [mph].</summary>
    public double TravelSpeedMph { get; init; } = 30;

    /// <summary>Way on the road over the straight line.</summary>
    public double DetourRatio { get; init; } = 1.3;

    /// <summary>Way to or from an install without coordinates [min].</summary>
    public double UnknownTravelMinutes { get; init; } = 30;

    /// <summary>Cost of a crew with its vehicle [US dollars an hour].</summary>
    public double CrewCostUsdH { get; init; } = 80;

    /// <summary>Price of electricity [US dollars a kWh].</summary>
    public double EnergyPriceUsdKwh { get; init; } = 0.17;

    /// <summary>Energy of cooling in a year [kWh a ton of nominal size].</summary>
    public double CoolingKwhTon { get; init; } = 900;

    /// <summary>Size of an install without one on record [tons].</summary>
    public double UsualTons { get; init; } = 3;

    /// <summary>How long a fault stays when nobody goes back [months].</summary>
    public int MonthsLeftAlone { get; init; } = 24;

    /// <summary>Share of a year's cooling in each calendar month, January first; they sum to 1.</summary>
    public double[] CoolingShares { get; init; } = [0, 0, 0.01, 0.04, 0.10, 0.18, 0.25, 0.23, 0.13, 0.05, 0.01, 0];

    /// <summary>Energy that an airflow fault worth correcting adds [%].</summary>
    public double AirflowExtraEnergyPct { get; init; } = 10;

    /// <summary>Energy that a charge fault worth correcting adds [%].</summary>
    public double ChargeExtraEnergyPct { get; init; } = 12;

    /// <summary>Chance that an airflow fault left alone brings a complaint.</summary>
    public double AirflowCallbackChance { get; init; } = 0.25;

    /// <summary>Chance that a charge fault left alone brings a complaint.</summary>
    public double ChargeCallbackChance { get; init; } = 0.25;

    /// <summary>Cost of a callback [US dollars].</summary>
    public double CallbackCostUsd { get; init; } = 350;

    /// <summary>Chance that an airflow fault left alone ices the coil.</summary>
    public double FreezeChance { get; init; } = 0.05;

    /// <summary>Cost of an iced coil [US dollars].</summary>
    public double FreezeCostUsd { get; init; } = 600;

    /// <summary>Chance that a charge fault left alone ruins the compressor.</summary>
    public double CompressorChance { get; init; } = 0.04;

    /// <summary>Cost of a compressor under warranty, work included [US dollars].</summary>
    public double CompressorCostUsd { get; init; } = 3000;

    /// <summary>Calendar months in which outdoor air is mostly under 55 °F, where the region's own readings of the month are too few to say.</summary>
    public int[] MonthsTooColdForCharge { get; init; } = [12, 1, 2];

    /// <summary>Readings of a region in a calendar month from which their share at 55 °F or more is taken for the weather.</summary>
    public int FewestWeatherReadings { get; init; } = 20;

    /// <summary>Where crews start, by region; the middle of the region's installs where not given.</summary>
    public Dictionary<string, StartPlace> Starts { get; init; } = [];

    /// <summary>Minutes of a crew's day.</summary>
    internal int DayMinutes => (int)Math.Round(60 * HoursADay);

    /// <summary>Minutes of a visit.</summary>
    internal int VisitMinutes => (int)Math.Round(60 * VisitHours);

    /// <summary>Cost of a crew [US dollars a minute].</summary>
    internal double CrewCostUsdMinute => CrewCostUsdH / 60;

    /// <summary>Cost of the time of a visit, travel not included [US dollars].</summary>
    internal double VisitCostUsd => VisitHours * CrewCostUsdH;

    /// <summary>Checks every value.</summary>
    /// <exception cref="UserError">Lists every value out of range.</exception>
    public void Validate()
    {
        var problems = new List<string>();
        void In(string name, double value, double low, double high)
        {
            if (!(value >= low && value <= high))
            {
                problems.Add(string.Create(CultureInfo.InvariantCulture, $"{name} is {value}; expected {low} to {high}"));
            }
        }

        In("weeks", Weeks, 1, 12);
        In("crews", Crews, 1, 50);
        In("days_a_week", DaysAWeek, 1, 7);
        In("hours_a_day", HoursADay, 1, 16);
        In("day_starts_at", DayStartsAt, 0, 23);
        In("visit_hours", VisitHours, 0.25, 8);
        In("travel_speed_mph", TravelSpeedMph, 5, 80);
        In("detour_ratio", DetourRatio, 1, 5);
        In("unknown_travel_minutes", UnknownTravelMinutes, 0, 240);
        In("usual_tons", UsualTons, 1, 6);
        In("months_left_alone", MonthsLeftAlone, 1, 120);
        In("fewest_weather_readings", FewestWeatherReadings, 1, 1e6);
        foreach (var (name, value) in new[] { ("airflow_extra_energy_pct", AirflowExtraEnergyPct), ("charge_extra_energy_pct", ChargeExtraEnergyPct) })
        {
            In(name, value, 0, 100);
        }

        foreach (var (name, value) in new[] { ("airflow_callback_chance", AirflowCallbackChance), ("charge_callback_chance", ChargeCallbackChance), ("freeze_chance", FreezeChance), ("compressor_chance", CompressorChance) })
        {
            In(name, value, 0, 1);
        }

        foreach (var (name, value) in new[]
        {
            ("crew_cost_usd_h", CrewCostUsdH), ("energy_price_usd_kwh", EnergyPriceUsdKwh), ("cooling_kwh_ton", CoolingKwhTon),
            ("callback_cost_usd", CallbackCostUsd), ("freeze_cost_usd", FreezeCostUsd), ("compressor_cost_usd", CompressorCostUsd),
        })
        {
            In(name, value, 0, 1e6);
        }

        In("cooling_shares: how many", CoolingShares.Length, 12, 12);
        In("cooling_shares: their sum", CoolingShares.Sum(), 0.99, 1.01);
        foreach (var share in CoolingShares)
        {
            In("cooling_shares: each", share, 0, 1);
        }

        foreach (var month in MonthsTooColdForCharge)
        {
            In("months_too_cold_for_charge", month, 1, 12);
        }

        foreach (var (region, start) in Starts)
        {
            In($"starts: latitude of {region}", start.Latitude, -90, 90);
            In($"starts: longitude of {region}", start.Longitude, -180, 180);
        }

        if (problems.Count > 0)
        {
            throw new UserError("The settings of the worklist cannot be used:", problems);
        }
    }
}
