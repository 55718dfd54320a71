using Revisit.Records;

namespace Revisit.Forecast.Visits;

/// <summary>
/// Which assumed costs, odds and hours change the list: each is halved and doubled (a chance or share at most 1) and visits are chosen anew
/// by insertion, which is quick; the visits of the settings in use are chosen the same way for it.
/// </summary>
internal static class Sensitivity
{
    private static readonly (string Name, Func<WorklistSettings, double> Get, Func<WorklistSettings, double, WorklistSettings> With)[] Tried =
    [
        ("airflow_callback_chance", s => s.AirflowCallbackChance, (s, v) => s with { AirflowCallbackChance = Math.Min(1, v) }),
        ("airflow_extra_energy_pct", s => s.AirflowExtraEnergyPct, (s, v) => s with { AirflowExtraEnergyPct = Math.Min(100, v) }),
        ("callback_cost_usd", s => s.CallbackCostUsd, (s, v) => s with { CallbackCostUsd = v }),
        ("charge_callback_chance", s => s.ChargeCallbackChance, (s, v) => s with { ChargeCallbackChance = Math.Min(1, v) }),
        ("charge_extra_energy_pct", s => s.ChargeExtraEnergyPct, (s, v) => s with { ChargeExtraEnergyPct = Math.Min(100, v) }),
        ("compressor_chance", s => s.CompressorChance, (s, v) => s with { CompressorChance = Math.Min(1, v) }),
        ("cooling_kwh_ton", s => s.CoolingKwhTon, (s, v) => s with { CoolingKwhTon = v }),
        ("crew_cost_usd_h", s => s.CrewCostUsdH, (s, v) => s with { CrewCostUsdH = v }),
        ("energy_price_usd_kwh", s => s.EnergyPriceUsdKwh, (s, v) => s with { EnergyPriceUsdKwh = v }),
        ("freeze_chance", s => s.FreezeChance, (s, v) => s with { FreezeChance = Math.Min(1, v) }),
        ("months_left_alone", s => s.MonthsLeftAlone, (s, v) => s with { MonthsLeftAlone = Math.Clamp((int)v, 1, 120) }),
        ("travel_speed_mph", s => s.TravelSpeedMph, (s, v) => s with { TravelSpeedMph = Math.Clamp(v, 5, 80) }),
        ("visit_hours", s => s.VisitHours, (s, v) => s with { VisitHours = Math.Clamp(v, 0.25, 8) }),
    ];

    /// <summary>One row a setting and value tried.</summary>
    public static Batch Of(IReadOnlyList<Candidate> candidates, IReadOnlyList<DateOnly> days, GaugeWeather weather, WorklistSettings settings)
    {
        var inUse = Chosen(candidates, days, weather, settings);
        var first = inUse.Take(10).ToHashSet(StringComparer.Ordinal);
        List<(string Name, double Value, double Used, List<string> Chosen)> rows =
        [
            .. from tried in Tried.AsParallel().AsOrdered()
               from factor in new[] { 0.5, 2 }
               let used = tried.Get(settings)
               let changed = tried.With(settings, used * factor)
               where tried.Get(changed) != used
               select (tried.Name, tried.Get(changed), used, Chosen(candidates, days, weather, changed)),
        ];
        var batch = new Batch(Tables.WorklistSensitivity, rows.Count);
        for (var r = 0; r < rows.Count; r++)
        {
            var (name, value, used, chosen) = rows[r];
            batch.Text("setting_name")[r] = name;
            batch.Number("setting_value")[r] = value;
            batch.Number("setting_used")[r] = used;
            batch.Whole("chosen_visits")[r] = chosen.Count;
            batch.Whole("visits_kept")[r] = inUse.Intersect(chosen, StringComparer.Ordinal).Count();
            batch.Whole("first_ten_kept")[r] = chosen.Take(10).Count(first.Contains);
        }

        return batch;
    }

    private static List<string> Chosen(IReadOnlyList<Candidate> candidates, IReadOnlyList<DateOnly> days, GaugeWeather weather, WorklistSettings settings) =>
        [.. WorklistPlan.Of(candidates, days, weather, settings, solve: false).Select(v => v.Candidate.InstallId)];
}
