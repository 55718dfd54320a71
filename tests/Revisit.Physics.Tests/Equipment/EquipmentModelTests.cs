namespace Revisit.Physics.Tests;

/// <summary>Ranges, the rated point, size, elevation, and what comes back where there is no steady state.</summary>
public class EquipmentModelTests
{
    private static readonly EquipmentConditions Rated = EquipmentConditions.Rated;

    public static TheoryData<string, Func<double, EquipmentResult>, double, double> Ranges => new()
    {
        { "outdoor", v => EquipmentModel.Expected(Rated with { OutdoorDbF = v }, Unit()), 45, 125 },
        { "return", v => EquipmentModel.Expected(Rated with { ReturnDbF = v, ReturnWbF = 58 }, Unit()), 60, 100 },
        { "elevation", v => EquipmentModel.Expected(Rated with { ElevationFt = v }, Unit()), -300, 12_000 },
        { "tons", v => EquipmentModel.Expected(Rated, Unit() with { NominalTons = v }), 1, 6 },
        { "EER", v => EquipmentModel.Expected(Rated, Unit() with { RatedEer = v }), 6, 20 },
        { "target subcooling", v => EquipmentModel.Expected(Rated, Unit() with { TargetSubcoolingF = v }), 2, 25 },
        { "airflow", v => EquipmentModel.Expected(Rated, Unit() with { AirflowScfmPerTon = v }), 100, 1000 },
        { "airflow ratio", v => EquipmentModel.Solve(Rated, Unit() with { AirflowScfmPerTon = v < 1 ? 500 : 400 }, new Faults(AirflowRatio: v)), 0.2, 2.5 },
        { "charge", v => EquipmentModel.Solve(Rated, Unit(), new Faults(ChargeRatio: v)), 0.4, 1.6 },
        { "outdoor air", v => EquipmentModel.Solve(Rated with { OutdoorDbF = 60 }, Unit(), new Faults(OutdoorAirRatio: v)), 0.2, 1.5 },
        { "restriction", v => EquipmentModel.Solve(Rated, Unit(), new Faults(Restriction: v)), 0, 1.5 },
        { "non-condensables", v => EquipmentModel.Solve(Rated, Unit(), new Faults(NonCondensables: v)), 0, 1 },
        { "valve leak", v => EquipmentModel.Solve(Rated, Unit(), new Faults(ValveLeak: v)), 0, 0.6 },
        { "efficiency loss", v => EquipmentModel.Solve(Rated, Unit(), new Faults(EfficiencyLoss: v)), 0, 0.6 },
    };

    [Theory]
    [MemberData(nameof(Ranges))]
    public void Just_inside_works_and_just_outside_is_refused_with_value_and_range(string what, Func<double, EquipmentResult> solve, double low, double high)
    {
        double step = 1e-9 * Math.Max(1.0, Math.Abs(high));
        foreach (double inside in new[] { low, low + step, high - step, high })
        {
            EquipmentResult result = solve(inside);
            Assert.True(result.Solved || result.Outcome == EquipmentOutcome.BeyondHighPressureLimit, $"{what} {inside}: {result.Outcome}");
        }

        foreach (double outside in new[] { low - step, high + step, double.NaN, double.PositiveInfinity })
        {
            var error = Assert.Throws<ArgumentOutOfRangeException>(() => solve(outside));
            Assert.Contains("allowed:", error.Message, StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData(80.001)]
    [InlineData(45.0)] // drier than dry air: at 80 °F its wet bulb is about 48 °F
    [InlineData(double.NaN)]
    public void An_impossible_wet_bulb_is_refused(double wetBulbF)
    {
        var error = Assert.Throws<ArgumentOutOfRangeException>(() => EquipmentModel.Expected(Rated with { ReturnWbF = wetBulbF }, Unit()));
        Assert.Contains("allowed:", error.Message, StringComparison.Ordinal);
        Assert.True(EquipmentModel.Expected(Rated with { ReturnWbF = 80.0 }, Unit()).Outcome is EquipmentOutcome.Solved or EquipmentOutcome.BeyondHighPressureLimit);
        Assert.True(EquipmentModel.Expected(Rated with { ReturnWbF = 48.6 }, Unit()).Solved);
    }

    [Theory]
    [InlineData(Metering.Txv, 12.0, 10.0)]
    [InlineData(Metering.Txv, 10.0, 12.0)]
    [InlineData(Metering.Eev, 15.0, 8.0)]
    [InlineData(Metering.FixedOrifice, 12.0, 10.0)]
    public void At_the_rated_point_a_sound_system_is_as_rated(Metering metering, double eer, double target)
    {
        Assert.All(Refrigerants.All, refrigerant =>
        {
            EquipmentState state = Trial.Run(Trial.Unit(metering, refrigerant.Designation, eer, target), 95);
            Assert.Equal(1.0, state.CapacityRatio, 1e-5);
            Assert.Equal(36_000.0, state.TotalCapacityBtuh, 1.0);
            Assert.Equal(36_000.0 / eer, state.PowerW, 0.1);
            Assert.Equal(48.0, state.EvaporatingF, 0.01);
            Assert.Equal(metering == Metering.FixedOrifice ? 8.0 : target, state.SubcoolingF, 0.02);
            Assert.Equal(metering == Metering.FixedOrifice ? 12.0 : 10.0, state.SuperheatF, 0.02);
            Assert.Equal(EquipmentFlags.None, state.Flags);
            Assert.InRange(state.SensibleHeatRatio, 0.68, 0.80);
        });
    }

    [Fact]
    public void Size_scales_capacity_and_power_and_nothing_else()
    {
        EquipmentState small = Trial.Run(Trial.Unit(Metering.Txv) with { NominalTons = 1.5 }, 88, 65), large = Trial.Run(Trial.Unit(Metering.Txv) with { NominalTons = 4.5 }, 88, 65);
        Assert.Equal(3.0 * small.TotalCapacityBtuh, large.TotalCapacityBtuh, 1e-6);
        Assert.Equal(3.0 * small.SensibleCapacityBtuh, large.SensibleCapacityBtuh, 1e-6);
        Assert.Equal(3.0 * small.PowerW, large.PowerW, 1e-6);
        Assert.Equal(small with { TotalCapacityBtuh = 0, SensibleCapacityBtuh = 0, PowerW = 0 }, large with { TotalCapacityBtuh = 0, SensibleCapacityBtuh = 0, PowerW = 0 });
    }

    [Theory]
    [InlineData(Metering.Txv)]
    [InlineData(Metering.FixedOrifice)]
    public void Readings_fit_each_other_at_any_elevation(Metering metering)
    {
        foreach (double elevation in new[] { -300.0, 0, 2_500, 7_000 })
        {
            Equipment unit = Trial.Unit(metering, "R-407C");
            EquipmentState s = Trial.Run(unit, 90, 66, 79, new Faults(NonCondensables: 0.2), elevation);
            double pa = MoistAir.StandardPressure(elevation * Records.Units.MetrePerFoot);
            Assert.Equal(s.EvaporatingF, Records.Units.FahrenheitFromKelvin(unit.Refrigerant.DewTemperature(Records.Units.AbsolutePascal(s.SuctionPressurePsig, pa))), 0.001);
            Assert.Equal(s.CondensingF, Records.Units.FahrenheitFromKelvin(unit.Refrigerant.BubbleTemperature(Records.Units.AbsolutePascal(s.LiquidPressurePsig, pa))), 0.001);
            Assert.Equal(s.SuctionLineF - s.EvaporatingF, s.SuperheatF, 1e-9);
            Assert.Equal(s.CondensingF - s.LiquidLineF, s.SubcoolingF, 1e-9);
            Assert.Equal(79 - s.SupplyDbF, s.TemperatureSplitF, 1e-9);
            Assert.Equal(s.CondensingF - 90, s.CondensingOverOutdoorF, 1e-9);
            Assert.True(s.SupplyWbF <= s.SupplyDbF);

            // Air-side heat from the readings alone equals the capacity.
            double airflow = 400 * 3 * 0.075 * 60;
            double Enthalpy(double dryF, double wetF) => MoistAir.Enthalpy(Records.Units.CelsiusFromFahrenheit(dryF),
                MoistAir.HumidityRatioFromWetBulb(Records.Units.CelsiusFromFahrenheit(dryF), Records.Units.CelsiusFromFahrenheit(wetF), pa)) / Records.Units.JoulePerKilogramPerBtuLb;
            Assert.Equal(s.TotalCapacityBtuh, airflow * (Enthalpy(79, 66) - Enthalpy(s.SupplyDbF, s.SupplyWbF)), 0.01 * s.TotalCapacityBtuh);
        }
    }

    [Fact]
    public void Beyond_the_high_pressure_limit_the_result_says_so_and_gives_no_state()
    {
        EquipmentResult result = EquipmentModel.Solve(Rated with { OutdoorDbF = 118 }, Unit(), new Faults(OutdoorAirRatio: 0.4, NonCondensables: 0.8));
        Assert.Equal(EquipmentOutcome.BeyondHighPressureLimit, result.Outcome);
        Assert.False(result.TryGet(out _));
        Assert.Throws<InvalidOperationException>(() => result.State);
    }

    [Theory]
    [InlineData("R-410A")]
    [InlineData("R-32")]
    [InlineData("R-454B")]
    [InlineData("R-22")]
    [InlineData("R-407C")]
    [InlineData("R-134a")]
    public void From_150_F_to_the_limit_states_are_flagged_and_go_on_smoothly(string designation)
    {
        Equipment unit = Trial.Unit(Metering.Txv, designation);
        double endPa = ShippedNodes.Of("saturation.csv", designation).Values.Last()[1], lastF = 0.0, lastStepF = 0.0, lastPa = 0.0;
        int flagged = 0;
        EquipmentResult result = default;
        for (double air = 0.6; air > 0.2; air -= 0.001)
        {
            result = EquipmentModel.Solve(Rated with { OutdoorDbF = 120 }, unit, new Faults(OutdoorAirRatio: air, NonCondensables: 0.3));
            if (!result.TryGet(out EquipmentState s)) break;
            double pa = Records.Units.AbsolutePascal(s.LiquidPressurePsig, 101_325.0);
            Assert.Equal(s.CondensingF > 150.0, s.Flags.HasFlag(EquipmentFlags.OverCutOut));
            Assert.True(s.CondensingF > lastF && pa > lastPa && pa <= endPa);
            if (flagged > 1) Assert.InRange((s.CondensingF - lastF) / lastStepF, 0.95, 1.15);
            if (s.CondensingF > 150.0) flagged++;
            (lastF, lastStepF, lastPa) = (s.CondensingF, s.CondensingF - lastF, pa);
        }

        Assert.Equal(EquipmentOutcome.BeyondHighPressureLimit, result.Outcome);
        Assert.True(flagged > 5 && lastPa > 0.985 * endPa, $"{flagged} flagged, last {lastF} F, {lastPa} of {endPa} Pa");
    }

    [Fact]
    public void Freezing_flooding_and_vapour_in_the_liquid_are_flagged()
    {
        Assert.Equal(EquipmentFlags.CoilBelowFreezing, Trial.Run(Unit(), 70, 58, 70, new Faults(AirflowRatio: 0.5)).Flags);
        EquipmentState flooded = Trial.Run(Trial.Unit(Metering.FixedOrifice), 105, 60, faults: new Faults(ChargeRatio: 1.2));
        Assert.Equal(EquipmentFlags.FloodedSuction, flooded.Flags);
        Assert.Equal(0.0, flooded.SuperheatF);
        EquipmentState starved = Trial.Run(Unit(), 95, faults: new Faults(ChargeRatio: 0.75));
        Assert.True(starved.Flags.HasFlag(EquipmentFlags.VapourInLiquid));
        Assert.InRange(starved.SubcoolingF, -0.05, 0.0); // R-410A glides a tenth of a degree
    }

    [Fact]
    public void A_signature_is_the_difference_to_sound_and_a_correction_the_difference_to_now()
    {
        EquipmentState sound = Trial.Run(Unit(), 92, 65), low = Trial.Run(Unit(), 92, 65, faults: new Faults(ChargeRatio: 0.85));
        var conditions = new EquipmentConditions(92, 80, 65);
        Assert.True(EquipmentModel.Signature(conditions, Unit(), FaultKind.ChargeLow, 0.15, out EquipmentShift signature));
        Assert.Equal(low.SubcoolingF - sound.SubcoolingF, signature.SubcoolingF, 1e-12);
        Assert.Equal(low.LiquidLineF - sound.LiquidLineF, signature.LiquidLineF, 1e-9);
        Assert.True(EquipmentModel.WhatIf(conditions, Unit(), new Faults(ChargeRatio: 0.85), Faults.None, out EquipmentShift cure));
        Assert.Equal(-signature.CapacityRatio, cure.CapacityRatio, 1e-12);
        Assert.False(EquipmentModel.WhatIf(conditions with { OutdoorDbF = 120 }, Unit(), Faults.None, new Faults(OutdoorAirRatio: 0.3, NonCondensables: 1), out _));
        Assert.Equal(1.0, new Faults(ChargeRatio: 0.9).WithChargeAdded(12, 120).ChargeRatio, 1e-12);
        Assert.Throws<ArgumentOutOfRangeException>(() => Faults.None.WithChargeAdded(801, 120));
        Assert.Throws<ArgumentOutOfRangeException>(() => Faults.None.WithChargeAdded(8, 19.9));
        Assert.False(default(EquipmentResult).Solved);
        Assert.Equal(new Faults(OutdoorAirRatio: 0.7), Faults.Of(FaultKind.CondenserAirflowLow, 0.3));
        Assert.Throws<ArgumentOutOfRangeException>(() => Faults.Of((FaultKind)99, 0.1));
    }

    private static Equipment Unit() => Trial.Unit(Metering.Txv);
}
