namespace Revisit.Forecast.Visits;

/// <summary>
/// One region's share of the plan: which installs are worth a visit, how long the ways are, and what each is worth on the days of each
/// calendar month. Whole minutes and cents, so that every machine reckons alike. Place 0 is the start of the day; candidate c is place c + 1.
/// </summary>
internal sealed class RegionTask
{
    private const double EarthMiles = 3958.8; // mean radius, IUGG 1980, from memory
    private readonly int[,] minutes;
    private readonly Dictionary<int, long[]> cents;
    private readonly double centsAMinute;

    public RegionTask(string? region, IReadOnlyList<Candidate> candidates, IReadOnlyList<DateOnly> days, int crews, GaugeWeather weather, WorklistSettings settings)
    {
        (Region, Candidates, Days, Crews, Settings) = (region, candidates, days, crews, settings);
        centsAMinute = 100 * settings.CrewCostUsdMinute;
        cents = days.GroupBy(d => d.Month).ToDictionary(g => g.Key, g => candidates.Select(c => c.Scored.AbstainsBecause is null ? (long)Math.Round(100 * BenefitOf(c, g.First(), weather, settings)) : 0).ToArray());
        List<Place> places = [StartOf(), .. candidates.Select(c => c.Place)];
        minutes = new int[places.Count, places.Count];
        for (var a = 0; a < places.Count; a++)
        {
            for (var b = 0; b < places.Count; b++)
            {
                minutes[a, b] = a == b ? 0 : (int)Math.Round(MinutesBetween(places[a], places[b]));
            }
        }
    }

    public string? Region { get; }

    public IReadOnlyList<Candidate> Candidates { get; }

    public IReadOnlyList<DateOnly> Days { get; }

    public int Crews { get; }

    public WorklistSettings Settings { get; }

    /// <summary>Whether any install has coordinates; without them there is nothing to plan a way by.</summary>
    public bool HasPlaces => Candidates.Any(c => c.Place.IsKnown);

    /// <summary>Worth of a visit on a day, travel not taken off [US dollars].</summary>
    public static double BenefitOf(Candidate candidate, DateOnly day, GaugeWeather weather, WorklistSettings settings) =>
        VisitBenefit.Usd(candidate.Scored.Airflow, candidate.Scored.Charge, candidate.Scored.Install["nominal_tons"], day, weather.Warm(candidate.Region, day), settings);

    /// <summary>Way between two places [min].</summary>
    public int Minutes(int from, int to) => minutes[from, to];

    /// <summary>Cost of so many minutes [cents].</summary>
    public long CentsOf(int someMinutes) => (long)Math.Round(centsAMinute * someMinutes);

    /// <summary>Worth of a place on the days of a calendar month [cents].</summary>
    public long Cents(int place, int month) => cents[month][place - 1];

    /// <summary>Minutes of a day on the road and at units, from the start and back to it.</summary>
    public int Length(IReadOnlyList<int> route) => route.Count == 0 ? 0 : Road(route) + route.Count * Settings.VisitMinutes;

    /// <summary>Worth of a day less its travel [cents].</summary>
    public long Worth(IReadOnlyList<int> route, int month) => route.Count == 0 ? 0 : route.Sum(p => Cents(p, month)) - CentsOf(Road(route));

    /// <summary>Minutes of a day on the road, from the start and back to it.</summary>
    public int Road(IReadOnlyList<int> route)
    {
        var sum = minutes[0, route[0]] + minutes[route[^1], 0];
        for (var i = 1; i < route.Count; i++)
        {
            sum += minutes[route[i - 1], route[i]];
        }

        return sum;
    }

    private Place StartOf()
    {
        if (Region is not null && Settings.Starts.TryGetValue(Region, out var start))
        {
            return new(start.Latitude, start.Longitude);
        }

        var known = Candidates.Where(c => c.Place.IsKnown).Select(c => c.Place).ToList();
        return known.Count == 0 ? new(double.NaN, double.NaN) : new(Middle(known.Select(p => p.Latitude)), Middle(known.Select(p => p.Longitude)));
    }

    private static double Middle(IEnumerable<double> values) => values.Order().ToArray() is var sorted ? sorted[sorted.Length / 2] : 0;

    /// <summary>Great circle by the haversine formula, lengthened by the detour, at the speed of the road.</summary>
    private double MinutesBetween(Place a, Place b)
    {
        if (!a.IsKnown || !b.IsKnown)
        {
            return Settings.UnknownTravelMinutes;
        }

        double Rad(double degrees) => degrees * Math.PI / 180;
        double Half(double angle) => Math.Pow(Math.Sin(angle / 2), 2);
        var h = Half(Rad(b.Latitude - a.Latitude)) + Math.Cos(Rad(a.Latitude)) * Math.Cos(Rad(b.Latitude)) * Half(Rad(b.Longitude - a.Longitude));
        return 2 * EarthMiles * Math.Asin(Math.Min(1, Math.Sqrt(h))) * Settings.DetourRatio / Settings.TravelSpeedMph * 60;
    }
}
