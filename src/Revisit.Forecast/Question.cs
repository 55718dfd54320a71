using Revisit.Records;

namespace Revisit.Forecast;

/// <summary>One of the two questions asked of an install: will its first follow-up need this correction?</summary>
/// <param name="Name">airflow or charge.</param>
/// <param name="Causes">Findings that point to it.</param>
/// <param name="CrewRate">The feature that holds the crew's past rate.</param>
public sealed record Question(string Name, IReadOnlyList<string> Causes, string CrewRate)
{
    public static readonly Question Airflow = new("airflow", ["airflow_high", "airflow_low"], "crew_airflow_rate");
    public static readonly Question Charge = new("charge", ["charge_low", "charge_high"], "crew_charge_rate");

    /// <summary>Both.</summary>
    public static readonly IReadOnlyList<Question> All = [Airflow, Charge];

    private readonly int[] chances = [.. Causes.Select(c => InstallFeatures.Position("p_" + c))];

    /// <summary>The answer a follow-up gives; null when it gives none.</summary>
    public bool? AnswerOf(FollowUpLabel label) => this == Airflow ? label.Airflow : label.Charge;

    /// <summary>The finding-only rule: the summed probabilities of the findings that point to the correction [0–1]; NaN without them.</summary>
    public double FindingChance(InstallFeatures install)
    {
        double sum = 0;
        foreach (var c in chances)
        {
            sum += install.Numbers[c];
        }

        return Math.Clamp(sum, 0, 1);
    }

    /// <summary>Log odds of <see cref="FindingChance"/>, no further out than those of one in a thousand.</summary>
    public double FindingLogOdds(InstallFeatures install) => Math.Clamp(FindingChance(install), 0.001, 0.999) is var p ? Math.Log(p / (1 - p)) : 0;

    /// <summary>Why no install-day reading supports a score; null when one does.</summary>
    public static string? UnreadableBecause(InstallFeatures install)
    {
        if (install.Finding is null)
        {
            return "there is no judged reading of the start-up visit from the install day";
        }

        if (install.Finding == "cannot_judge")
        {
            return "the start-up reading cannot be judged" + (install.CannotJudgeBecause is { Length: > 0 } because ? ": " + because : "");
        }

        return Codes.Finding.Where(f => f != "cannot_judge").Any(f => double.IsNaN(install["p_" + f])) ? "the start-up finding has no probabilities" : null;
    }
}
