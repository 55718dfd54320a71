using System.Globalization;
using Revisit.Records;

namespace Revisit.Forecast;

/// <summary>
/// Settings of the forecast; those of the worklist stand in <see cref="Visits.WorklistSettings"/>. Every limit and prior is an assumption of
/// ours, not a measured or published number.
/// </summary>
public sealed record ForecastSettings
{
    /// <summary>Only installs started up within this many days before the day scored are scored [d].</summary>
    public int LookBackDays { get; init; } = 180;

    /// <summary>Fewest follow-ups with a known answer before a model is trained; assumption.</summary>
    public int FewestLabels { get; init; } = 60;

    /// <summary>Fewest corrections among them; assumption.</summary>
    public int FewestPositives { get; init; } = 10;

    /// <summary>Share of the labels, the latest by date, kept for testing.</summary>
    public double TestShare { get; init; } = 0.25;

    /// <summary>Whether chances are calibrated on installs that have had a planned quality check, weighted to all installs; else on all follow-ups alike.</summary>
    public bool WeighPlannedChecks { get; init; } = true;

    /// <summary>Weight of the fleet's rate in a crew's past rate [follow-ups]; assumption.</summary>
    public int CrewPriorFollowUps { get; init; } = 20;

    /// <summary>How far outside the training range, as a share of that range, a value may lie before the score is withheld; assumption.</summary>
    public double RangeMargin { get; init; } = 0.1;

    /// <summary>Bootstrap resamples behind each interval.</summary>
    public int BootstrapResamples { get; init; } = 300;

    /// <summary>Install days on which each run rechecks that no feature looks ahead, spread evenly over the installs.</summary>
    public int GuardDays { get; init; } = 4;

    /// <summary>Seed of training, baselines and bootstrap.</summary>
    public int Seed { get; init; } = 20260101;

    /// <summary>Checks every value.</summary>
    /// <exception cref="UserError">Lists every value out of range.</exception>
    public void Validate()
    {
        var problems = new List<string>();
        void Require(bool holds, string name, double value, string range)
        {
            if (!holds)
            {
                problems.Add(string.Create(CultureInfo.InvariantCulture, $"{name} is {value}; expected {range}"));
            }
        }

        Require(LookBackDays >= 1, nameof(LookBackDays), LookBackDays, "1 or more");
        Require(FewestLabels >= 20, nameof(FewestLabels), FewestLabels, "20 or more");
        Require(FewestPositives >= 5, nameof(FewestPositives), FewestPositives, "5 or more");
        Require(TestShare is >= 0.05 and <= 0.5, nameof(TestShare), TestShare, "0.05 to 0.5");
        Require(CrewPriorFollowUps >= 1, nameof(CrewPriorFollowUps), CrewPriorFollowUps, "1 or more");
        Require(RangeMargin is >= 0 and <= 10, nameof(RangeMargin), RangeMargin, "0 to 10");
        Require(BootstrapResamples is >= 50 and <= 100_000, nameof(BootstrapResamples), BootstrapResamples, "50 to 100,000");
        Require(GuardDays >= 1, nameof(GuardDays), GuardDays, "1 or more");
        if (problems.Count > 0)
        {
            throw new UserError("The forecast settings cannot be used:", problems);
        }
    }
}
