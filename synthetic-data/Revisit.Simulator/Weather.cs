namespace Revisit.Simulator;

/// <summary>Air outdoors and at the return.</summary>
/// <param name="OutdoorF">Outdoor dry bulb [°F].</param>
/// <param name="ReturnF">Return dry bulb [°F].</param>
/// <param name="Ratio">Return humidity ratio [lb/lb].</param>
internal readonly record struct Weather(double OutdoorF, double ReturnF, double Ratio)
{
    /// <summary>Draws the day of a visit: monthly means between the middles of the months, a day's spread, and the hour.</summary>
    public static Weather Draw(Rng rng, Branch branch, DateOnly day, double localHour, double barometer)
    {
        var outdoorDay = rng.Normal(0, 6);
        var high = Mean(branch.MonthlyHighF, day) + outdoorDay;
        var outdoor = Math.Clamp(high - 0.55 * Math.Abs(localHour - 15.5) - rng.Between(0, 3), 12, 116);
        var dew = Math.Min(Mean(branch.MonthlyDewF, day) + rng.Normal(0, 5), outdoor - 1);
        var cold = Math.Clamp((62 - outdoor) / 25, 0, 1);
        var indoor = Math.Clamp(rng.Normal(75.5, 2.0) + 0.09 * (outdoor - 82) * (1 - cold) - 3 * cold, 68, 87);

        // Indoors: damped outdoor humidity, held up by people and down by the coil.
        var indoorDew = Math.Clamp(40 + 0.42 * (dew - 30) + rng.Normal(1.5, 3), 30, indoor - 9);
        return new Weather(outdoor, indoor, Air.SaturatedRatio(indoorDew, barometer));
    }

    /// <summary>The weather of a later reading of the same visit.</summary>
    public Weather Drifted(Rng rng, double minutes) => new(
        OutdoorF + rng.Normal(0, 0.02 * minutes), ReturnF - 0.02 * minutes + rng.Normal(0, 0.01 * minutes), Ratio * (1 - 0.0008 * minutes));

    private static double Mean(double[] monthly, DateOnly day)
    {
        var at = day.Month - 1 + (day.Day - 15.5) / 30.5;
        var low = (int)Math.Floor(at);
        var share = at - low;
        return monthly[(low + 12) % 12] * (1 - share) + monthly[(low + 13) % 12] * share;
    }
}
