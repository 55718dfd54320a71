using Xunit.Abstractions;

namespace Revisit.Physics.Tests;

/// <summary>Which way each fault moves each reading.</summary>
public class SignatureSignsTests(ITestOutputHelper output)
{
    private static readonly Dictionary<string, (FaultKind Kind, double Severity)> Causes = new()
    {
        ["charge_low"] = (FaultKind.ChargeLow, 0.1),
        ["compressor_weak"] = (FaultKind.ValveLeak, 0.1),
        ["liquid_restriction"] = (FaultKind.LiquidRestriction, 0.3),
        ["airflow_low"] = (FaultKind.AirflowLow, 0.25),
    };

    /// <summary>
    /// The rule table of Rossi and Braun (1997), fixed orifice, from memory (see the file): no row was fitted to. Under a dirty outdoor
    /// coil subcooling hardly moves, and the split moves as published once the fault is large or the day hot.
    /// </summary>
    [Theory]
    [InlineData(82.0, 0.3, 33)]
    [InlineData(82.0, 0.4, 34)]
    [InlineData(95.0, 0.3, 34)]
    [InlineData(95.0, 0.4, 34)]
    public void With_an_orifice_35_signs_are_as_published_but_for_two_near_zero_under_a_dirty_outdoor_coil(double outdoorF, double dirt, int agree)
    {
        var dirty = (FaultKind.CondenserAirflowLow, dirt);
        var rows = Published.Rows("fault_signs.csv").Where(r => r["set"] == "a" && r["metering"] == "fixed_orifice").ToArray();
        Assert.Equal(35, rows.Length);
        var wrong = new List<string>();
        foreach (var row in rows)
        {
            double change = Change(Trial.Unit(Metering.FixedOrifice), outdoorF, row["cause"] == "condenser_airflow_low" ? dirty : Causes[row["cause"]], row["reading"]);
            if (Math.Sign(change) != (row["sign"] == "+" ? 1 : -1)) wrong.Add(FormattableString.Invariant($"{row["cause"]} {row["reading"]}: {change:+0.00;-0.00}, published {row["sign"]}"));
        }

        output.WriteLine(FormattableString.Invariant($"{outdoorF} F outdoors, outdoor air -{100 * dirt} %: {rows.Length - wrong.Count} of {rows.Length} signs; {string.Join("; ", wrong)}"));
        Assert.Equal(agree, rows.Length - wrong.Count);
        Assert.All(wrong, miss => Assert.True(miss.StartsWith("condenser_airflow_low subcooling", StringComparison.Ordinal) || miss.StartsWith("condenser_airflow_low split", StringComparison.Ordinal), miss));
        Assert.InRange(Change(Trial.Unit(Metering.FixedOrifice), outdoorF, dirty, "subcooling"), -0.5, 0.5);
        Assert.InRange(Change(Trial.Unit(Metering.FixedOrifice), outdoorF, dirty, "split"), -1.0, 0.1);
    }

    /// <summary>A valve has its own signs: it holds superheat while it can. Common practice, no source.</summary>
    [Theory]
    [InlineData(82.0)]
    [InlineData(95.0)]
    public void With_a_valve_each_fault_moves_what_tells_it(double outdoorF)
    {
        EquipmentState sound = Trial.Run(Valve, outdoorF);
        EquipmentShift air = Of(FaultKind.AirflowHigh, 0.25);
        Assert.InRange(air.TemperatureSplitF, -3.0, -2.0);
        Assert.InRange(air.EvaporatingF, 1.0, 2.0);
        Assert.InRange(air.SubcoolingF, -0.5, 0.5);

        EquipmentShift choked = Of(FaultKind.CondenserAirflowLow, 0.5);
        Assert.InRange(choked.CondensingF, 12.0, 18.0);
        Assert.True(choked.LiquidLineF > 8.0 && choked.DischargeLineF > 8.0 && choked.PowerRatio > 0.1);

        EquipmentShift low = Of(FaultKind.ChargeLow, 0.15), restricted = Of(FaultKind.LiquidRestriction, 0.3);
        Assert.True(low.SubcoolingF < -7.0 && low.LiquidLineF > 5.0 && low.TemperatureSplitF < 0.0 && low.SuperheatF > 2.0);
        Assert.True(restricted.SubcoolingF > 0.5 && restricted.LiquidLineF < 0.0 && restricted.SuperheatF > 5.0);
        Assert.True(Of(FaultKind.ChargeHigh, 0.15).SubcoolingF > 4.0);
        Assert.True(Of(FaultKind.AirflowLow, 0.25).TemperatureSplitF > 2.0);

        EquipmentShift gas = Of(FaultKind.NonCondensables, 0.5), leak = Of(FaultKind.ValveLeak, 0.2), worn = Of(FaultKind.EfficiencyLoss, 0.2);
        Assert.True(gas.CondensingF > 3.0 && gas.SubcoolingF > 3.0 && Math.Abs(gas.LiquidLineF) < 1.0);
        Assert.True(leak.EvaporatingF > 1.0 && leak.CondensingF < -1.0 && leak.CapacityRatio < -0.1);
        Assert.True(worn.DischargeLineF > 5.0 && worn.PowerRatio > 0.1 && Math.Abs(worn.CapacityRatio) < 0.02);
        Assert.InRange(sound.SuperheatF, 9.0, 12.0);

        EquipmentShift Of(FaultKind kind, double severity)
        {
            Assert.True(EquipmentModel.Signature(new EquipmentConditions(outdoorF, 80, 67), Valve, kind, severity, out EquipmentShift shift));
            return shift;
        }
    }

    private static Equipment Valve => Trial.Unit(Metering.Txv);

    private static double Change(Equipment unit, double outdoorF, (FaultKind Kind, double Severity) fault, string reading)
    {
        Assert.True(EquipmentModel.Signature(new EquipmentConditions(outdoorF, 80, 67), unit, fault.Kind, fault.Severity, out EquipmentShift shift));
        if (reading != "condenser_air_rise")
        {
            return reading switch
            {
                "evaporating" => shift.EvaporatingF,
                "superheat" => shift.SuperheatF,
                "condensing" => shift.CondensingF,
                "subcooling" => shift.SubcoolingF,
                "discharge" => shift.DischargeLineF,
                "split" => shift.TemperatureSplitF,
                _ => throw new ArgumentException($"Unknown reading {reading}."),
            };
        }

        // Heat rejected over outdoor air: cooling and power together, in units of rated capacity.
        EquipmentState sound = Trial.Run(unit, outdoorF);
        double Rise(double capacity, double power, double air) => (capacity + power * 3.412 / 12.0) / air;
        double air = Faults.Of(fault.Kind, fault.Severity).OutdoorAirRatio;
        return Rise(sound.CapacityRatio + shift.CapacityRatio, sound.PowerRatio + shift.PowerRatio, air) - Rise(sound.CapacityRatio, sound.PowerRatio, 1.0);
    }
}
