namespace Revisit.Simulator;

/// <summary>Air outdoors and at the return.</summary>
/// <param name="OutdoorF">Outdoor dry bulb [°F].</param>
/// <param name="ReturnF">Return dry bulb [°F].</param>
/// <param name="Ratio">Return humidity ratio [lb/lb].</param>
internal readonly record struct Weather(double OutdoorF, double ReturnF, double Ratio)
{
    /// <summary>Draws the air of a visit: the climate's mean of day and hour, and a spread of the days (invented).</summary>
    public static Weather Draw(Rng rng, Branch branch, DateOnly day, double localHour, double barometer)
    {
        var outdoor = Math.Clamp(branch.Climate.OutdoorF(day, localHour) + rng.Normal(0, 6), 12, 116);
        var dew = Math.Min(branch.Climate.DewF(day) + rng.Normal(0, 5), outdoor - 1);
        var cold = Math.Clamp((62 - outdoor) / 25, 0, 1);
        var indoor = Math.Clamp(rng.Normal(75.5, 2.0) + 0.09 * (outdoor - 82) * (1 - cold) - 3 * cold, 68, 87);

        // Indoors: damped outdoor humidity, held up by people and down by the coil.
        var indoorDew = Math.Clamp(40 + 0.42 * (dew - 30) + rng.Normal(1.5, 3), 30, indoor - 9);
        return new Weather(outdoor, indoor, Air.SaturatedRatio(indoorDew, barometer));
    }

    /// <summary>The weather of a later reading of the same visit.</summary>
    public Weather Drifted(Rng rng, double minutes) => new(
        OutdoorF + rng.Normal(0, 0.02 * minutes), ReturnF - 0.02 * minutes + rng.Normal(0, 0.01 * minutes), Ratio * (1 - 0.0008 * minutes));
}
