namespace Revisit.Forecast.Visits;

/// <summary>A place on the map [deg]; NaN where not known.</summary>
internal readonly record struct Place(double Latitude, double Longitude)
{
    public bool IsKnown => double.IsFinite(Latitude) && double.IsFinite(Longitude);
}

/// <summary>An install that may be visited.</summary>
/// <param name="Scored">The install with its chances.</param>
/// <param name="Place">Where it stands.</param>
internal sealed record Candidate(ScoredInstall Scored, Place Place)
{
    public string InstallId => Scored.Install.InstallId;

    public string? Region => Scored.Install.Region;
}

/// <summary>A visit as planned.</summary>
/// <param name="Candidate">Which install.</param>
/// <param name="On">Day; null in a plain ranking.</param>
/// <param name="Crew">Crew of the region, from 1.</param>
/// <param name="Order">Place in the crew's day, from 1.</param>
/// <param name="StartMinute">Start after the beginning of the day [min].</param>
/// <param name="TravelMinutes">Way to it [min].</param>
/// <param name="BenefitUsd">Expected benefit on that day [US dollars], travel not taken off.</param>
/// <param name="By">How it was chosen, a code of <see cref="Records.Codes.PlannedBy"/>.</param>
internal sealed record PlannedVisit(Candidate Candidate, DateOnly? On, int Crew, int Order, int StartMinute, int TravelMinutes, double BenefitUsd, string By);
