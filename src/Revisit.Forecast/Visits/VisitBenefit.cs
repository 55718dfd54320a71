namespace Revisit.Forecast.Visits;

/// <summary>
/// What going back to an install is worth: chance of each correction times the cost of leaving it (energy of the months it would stay,
/// callback, iced coil, compressor), less the crew's time at the unit. Travel is counted by the plan.
/// </summary>
internal static class VisitBenefit
{
    /// <summary>Expected benefit [US dollars].</summary>
    /// <param name="airflow">Chance of an airflow correction [0–1].</param>
    /// <param name="charge">Chance of a charge correction [0–1].</param>
    /// <param name="tons">Nominal size [tons]; NaN where not known.</param>
    /// <param name="day">Day of the visit.</param>
    /// <param name="warm">Chance that it is warm enough to check charge by gauges [0–1].</param>
    /// <param name="settings">Costs and odds.</param>
    public static double Usd(double airflow, double charge, double tons, DateOnly day, double warm, WorklistSettings settings)
    {
        var energy = (double.IsFinite(tons) ? tons : settings.UsualTons) * settings.CoolingKwhTon * YearsOfCooling(day, settings) * settings.EnergyPriceUsdKwh;
        var leavingAirflow = energy * settings.AirflowExtraEnergyPct / 100 + settings.AirflowCallbackChance * settings.CallbackCostUsd + settings.FreezeChance * settings.FreezeCostUsd;
        var leavingCharge = energy * settings.ChargeExtraEnergyPct / 100 + settings.ChargeCallbackChance * settings.CallbackCostUsd + settings.CompressorChance * settings.CompressorCostUsd;
        return airflow * leavingAirflow + warm * charge * leavingCharge - settings.VisitCostUsd;
    }

    /// <summary>Cooling from the month of a day on, for as long as a fault would stay [years of cooling].</summary>
    public static double YearsOfCooling(DateOnly day, WorklistSettings settings) =>
        Enumerable.Range(0, settings.MonthsLeftAlone).Sum(m => settings.CoolingShares[(day.Month - 1 + m) % 12]);
}
