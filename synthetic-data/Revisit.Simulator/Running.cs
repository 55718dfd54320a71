using Revisit.Physics;

namespace Revisit.Simulator;

/// <summary>True values at the ports and grilles of a running system [°F], power of the outdoor unit [W].</summary>
internal readonly record struct Running(double SupplyDryF, double SupplyRatio, double EvaporatingF, double SuctionF, double CondensingF, double LiquidF, double DischargeF, double PowerW)
{
    /// <summary>
    /// Time constant of the cooling capacity after a start [min]: 60 s, the value suggested for a typical unit in the input data
    /// dictionary of EnergyPlus (field Heat Pump Time Constant, after Henderson et al. 1999). The refrigerant side settles later.
    /// </summary>
    private const double CapacityMinutes = 1;

    /// <summary>What the equipment model says of the unit with its faults, blower heat added, drawn back to where it stood after few minutes.</summary>
    /// <param name="install">The system.</param>
    /// <param name="state">Its state.</param>
    /// <param name="weather">Outdoor and return air. Below 45 °F outdoors the fan of the outdoor unit is taken to hold the pressure of 45 °F.</param>
    /// <param name="minutes">Minutes running; in the first quarter of an hour the refrigerant side is not steady (shape and time constant of that invented).</param>
    /// <param name="barometer">Barometric pressure [Pa].</param>
    /// <param name="running">The running state.</param>
    /// <returns>False if a pressure switch would open: there is nothing to read.</returns>
    public static bool TryRun(Install install, SystemState state, Weather weather, double minutes, double barometer, out Running running)
    {
        running = default;
        var wetF = Math.Min(weather.ReturnF, Air.WetBulb(weather.ReturnF, weather.Ratio, barometer));
        var conditions = new EquipmentConditions(Math.Clamp(weather.OutdoorF, 45, 125), weather.ReturnF, wetF, install.ElevationFt);
        var faults = state.Faults(Air.Density(weather.ReturnF, weather.Ratio, barometer) / Air.StandardDensity);
        if (!EquipmentModel.Solve(conditions, install.Equipment, faults, install.Own).TryGet(out var steady))
            return false;

        var unsettled = Math.Exp(-minutes / 5.5);
        var evaporating = steady.EvaporatingF + 4 * unsettled;
        var condensing = Math.Max(conditions.OutdoorDbF + steady.CondensingOverOutdoorF * (1 - 0.45 * unsettled), evaporating + 20);
        var coilF = weather.ReturnF - steady.TemperatureSplitF * (1 - Math.Exp(-minutes / CapacityMinutes));
        var ratio = Math.Min(weather.Ratio, Air.Ratio(steady.SupplyDbF, steady.SupplyWbF, barometer) + 0.35 * unsettled * 0.002);
        running = new Running(
            coilF + install.BlowerHeatF, Math.Min(ratio, Air.SaturatedRatio(coilF, barometer)), evaporating, evaporating + steady.SuperheatF + 9 * unsettled,
            condensing, condensing - steady.SubcoolingF * (1 - 0.8 * unsettled), steady.DischargeLineF - 15 * unsettled, steady.PowerW);
        return true;
    }

    /// <summary>Capacity over nominal at 95 °F outdoors and 80/67 °F indoors; 0 where the system would cut out.</summary>
    public static double RatedCapacity(Install install, SystemState state, double barometer)
    {
        var density = Air.Density(80, Air.Ratio(80, 67, barometer), barometer) / Air.StandardDensity;
        return EquipmentModel.Solve(new EquipmentConditions(95, 80, 67, install.ElevationFt), install.Equipment, state.Faults(density), install.Own).TryGet(out var found) ? found.CapacityRatio : 0;
    }
}
