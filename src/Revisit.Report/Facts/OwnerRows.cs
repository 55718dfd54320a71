namespace Revisit.Report.Facts;

/// <summary>First follow-ups of one month and what they corrected.</summary>
internal sealed record MonthRow(DateOnly Month, int FollowUps, int Corrections, int Airflow, int Charge);

/// <summary>A cause seen at first follow-ups, with the middle of its cost where it could be computed.</summary>
internal sealed record CauseRow(string Finding, int Year, int Month, double CapacityLossPct, double ExtraEnergyPct, int Quantified);

/// <summary>First follow-ups of one size in one season.</summary>
internal sealed record SizeSeasonRow(double Tons, string Season, Share Corrected);

/// <summary>How visits ended that have a reading before and one after.</summary>
internal sealed record OutcomeRow(string Outcome, int Year, int Month);

/// <summary>What was found and what was left.</summary>
internal sealed record ChangeRow(string AsFound, string AsLeft, int Count);

/// <summary>Quartiles [%] of capacity lost and of extra energy over the faults for which they could be computed, with their counts.</summary>
internal sealed record CostRow(int LossOf, double LossLow, double LossMiddle, double LossHigh, int ExtraOf, double ExtraLow, double ExtraMiddle, double ExtraHigh);

/// <summary>How visits with one kind of correction ended, over all months on record.</summary>
internal sealed record KindOutcomeRow(string Correction, int Cured, int Better, int NoChange, int Worse, int CannotJudge, Share Worked);

/// <summary>Readings as found of one size and season, over all months on record.</summary>
internal sealed record SizeSeasonFindingRow(string Size, string Season, Share InLine, Share Airflow, Share Charge, Share Other);
