namespace Revisit.Physics.Tests;

/// <summary>
/// The equipment model against published curves and tables. A row says whether the model's numbers were fitted to it (then it shows only
/// that the form can bend that far), fitted loosely (it had little weight), or never seen ("unfitted": evidence of prediction).
/// </summary>
/// <remarks>
/// The bands of fitted rows were chosen before the fit; those of unfitted rows were set after their first run, a little above what came
/// out, to hold it. Not to be had, and so not here: the capacity and EIR of single units behind the Cutler curves (their envelope below is that of the
/// curves), superheat and subcooling of a split system under faults in numbers, and any measured split. Liquid restriction and
/// non-condensables are left out because the published severities cannot be turned into the model's.
/// </remarks>
internal static class EquipmentAgreements
{
    private const string Curves = "cutler_curves.csv", Airflow = "cutler_airflow.csv", Charge = "fault_charge_nist.csv";
    private static readonly double[] OutdoorF = [75, 82, 95, 105, 115];
    private static readonly Equipment Valve = Trial.Unit(Metering.Txv), Orifice = Trial.Unit(Metering.FixedOrifice);

    public static IEnumerable<Agreement> All() => [.. Capacity(), .. AirflowAndCharge(), .. Splits(), .. OrificeRows(), .. Elsewhere()];

    private static IEnumerable<Agreement> Capacity()
    {
        // Bands chosen before the fit; the curves of the sources climb away from other sources over 70 °F wet bulb.
        foreach ((double[] wet, double capacity, double eir, string mark) in new[]
        {
            (new[] { 57.0, 60, 63, 65, 67 }, 0.025, 0.04, "fitted"), ([70.0], 0.03, 0.04, "fitted"), ([72.0], 0.05, 0.06, "fitted loosely"),
        })
        {
            string range = wet.Length == 1 ? $"WB {wet[0]}" : "WB 57-67";
            yield return Curve($"valve: capacity, one speed, {range} [{mark}]", "capacity", Valve, "1", "1", wet, capacity);
            yield return Curve($"valve: EIR, one speed, {range} [{mark}]", "eir", Valve, "1", "1", wet, eir);
        }

        yield return Curve("valve: capacity, two speed full, WB 57-67 [unfitted]", "capacity", Valve, "2", "2", [57, 60, 63, 65, 67], 0.05);
        yield return Curve("valve: EIR, two speed full, WB 57-67 [unfitted]", "eir", Valve, "2", "2", [57, 60, 63, 65, 67], 0.09);
        yield return Envelope("capacity", 0.01);
        yield return Envelope("eir", 0.01);
        yield return Curve("orifice: capacity, one speed, WB 57-67 [fitted]", "capacity", Orifice, "1", "1", [57, 60, 63, 65, 67], 0.045);
        yield return Curve("orifice: EIR, one speed, WB 57-67 [fitted]", "eir", Orifice, "1", "1", [57, 60, 63, 65, 67], 0.04);
        foreach (string refrigerant in new[] { "R-32", "R-454B", "R-22", "R-407C", "R-134a" })
            yield return Curve($"valve, {refrigerant}: capacity, one speed, WB 57-67 [unfitted]", "capacity", Trial.Unit(Metering.Txv, refrigerant), "1", "1", [57, 60, 63, 65, 67], 0.05);
        yield return Curve("valve, EER 10: capacity, one speed, WB 57-67 [unfitted]", "capacity", Trial.Unit(Metering.Txv, eer: 10), "1", "1", [57, 60, 63, 65, 67], 0.05);
        yield return Curve("valve, EER 14: capacity, one speed, WB 57-67 [unfitted]", "capacity", Trial.Unit(Metering.Txv, eer: 14), "1", "1", [57, 60, 63, 65, 67], 0.05);
    }

    private static IEnumerable<Agreement> AirflowAndCharge()
    {
        // One-speed curves; the heat pump's EIR was the target, the air conditioner's differs from it by 0.015.
        yield return new("valve: capacity at 75 % airflow [fitted]", Airflow, [.. AirflowMisses("capacity", Valve, 0.75, "1")], 0.005);
        yield return new("valve: EIR at 75 % airflow, heat pump [fitted]", Airflow, [AirflowMisses("eir", Valve, 0.75, "1").Last()], 0.005);
        yield return new("valve: EIR at 75 % airflow, air conditioner [unfitted]", Airflow, [AirflowMisses("eir", Valve, 0.75, "1").First()], 0.02);
        yield return new("valve: capacity at 75 % airflow, two speed full [unfitted]", Airflow, [.. AirflowMisses("capacity", Valve, 0.75, "2")], 0.02);
        yield return new("valve: capacity at 50 % airflow, beyond the source [fitted loosely]", Airflow, [.. AirflowMisses("capacity", Valve, 0.5, "1")], 0.02);
        yield return new("orifice: capacity at 75 % airflow [fitted loosely]", Airflow, [.. AirflowMisses("capacity", Orifice, 0.75, "1")], 0.012);

        foreach ((double deviation, double tolerance) in new[] { (-0.1, 0.01), (-0.2, 0.01), (-0.3, 0.015) })
            yield return new($"valve: capacity at charge {deviation:P0}, 95 F [fitted]", Charge, [ChargeMiss("capacity", deviation, 95, 80)], tolerance);
        yield return new("valve: power at charge -10, -20, -30 %, 95 F [fitted]", Charge, [.. Three(f => ChargeMiss("power", f, 95, 80))], 0.01);
        yield return new("valve: capacity at charge -10, -20, -30 %, 82 F [fitted loosely]", Charge, [.. Three(f => ChargeMiss("capacity", f, 82, 80))], 0.04);
        yield return new("valve: capacity at charge -10, -20, -30 %, return 75 F [unfitted]", Charge, [.. Three(f => ChargeMiss("capacity", f, 95, 75))], 0.04);
        yield return new("valve: power at charge -10, -20, -30 %, 82 F [fitted loosely]", Charge, [.. Three(f => ChargeMiss("power", f, 82, 80))], 0.02);
        yield return new("valve: capacity at charge +10, +20 % [fitted]", Charge, [ChargeMiss("capacity", 0.1, 95, 80), ChargeMiss("capacity", 0.2, 95, 80)], 0.01);
        yield return new("valve: power at charge +10, +20 % [fitted]", Charge, [ChargeMiss("power", 0.1, 95, 80), ChargeMiss("power", 0.2, 95, 80)], 0.01);
    }

    private static IEnumerable<Agreement> Splits()
    {
        // Both are models; they differ from each other by up to 1.1 °F, and the airflow of the second is known to 6 %: one common factor
        // is taken out of its splits and held to that.
        var map = MapSplits(80, 105).ToArray();
        double factor = Math.Sqrt(map.Sum(r => r.Ours * r.Ours) / map.Sum(r => r.Theirs * r.Theirs));
        const string file = "hpdm_two_stage_r410a.csv";
        yield return new("valve: common factor on splits, airflow known to 6 % [unfitted]", file, [Math.Abs(factor - 1.0)], 0.06);
        yield return new("valve: split [F], 80, 105 F outdoors [fitted loosely]", file, [.. map.Where(r => r.Fitted).Select(r => Math.Abs(r.Ours - factor * r.Theirs))], 1.5, 0.95);
        yield return new("valve: split [F], 80, 105 F outdoors [unfitted]", file, [.. map.Where(r => !r.Fitted).Select(r => Math.Abs(r.Ours - factor * r.Theirs))], 1.5, 0.95);
        yield return new("valve: split [F], 55, 125 F outdoors [unfitted]", file, [.. MapSplits(55, 125).Select(r => Math.Abs(r.Ours - factor * r.Theirs))], 2.5, 0.90);

        // Its rated capacity is not stored either: 62,000 Btu/h is about right, a second common factor says by how much.
        var capacities = MapRows(80, 105).Select(r => (Ours: r.State.CapacityRatio, Theirs: r.Row.Number("capacity_btuh") / MapRatedBtuh)).ToArray();
        double size = capacities.Sum(r => r.Ours) / capacities.Sum(r => r.Theirs);
        yield return new("valve: common factor on capacities, rated one not stored [unfitted]", file, [Math.Abs(size - 1.0)], 0.06);
        yield return new("valve: capacity ratio, 80, 105 F outdoors [unfitted]", file, [.. capacities.Select(r => Math.Abs(r.Ours - size * r.Theirs))], 0.03, 0.95);
        yield return new("valve: sensible heat ratio, 80, 105 F outdoors [unfitted]", file, [.. MapRows(80, 105).Select(r => Math.Abs(r.State.SensibleHeatRatio - Math.Min(1.0, r.Row.Number("sensible_btuh") / r.Row.Number("capacity_btuh"))))], 0.06, 0.95);
        yield return new("valve: split [F] of a correlation [fitted loosely]", "cooling_acm.csv", [.. CorrelationSplits().Select(Math.Abs)], 2.5);

        // Net of a blower of 0.365 W/cfm, 1.15 °F (common practice, no source). Ours lie 2 °F above this table, mostly; the procedure
        // it serves allows 3 °F (installer) and 4 °F (rater).
        yield return new("valve: target split [F], 400 scfm/ton, 85 F outdoors [unfitted]", "rule_target_split.csv",
            [.. TargetSplits()], 4.0, 0.95);
    }

    private static IEnumerable<Agreement> OrificeRows()
    {
        const string file = "rule_target_superheat.csv", faults = "fault_cheung_braun.csv";
        var cells = Published.Rows(file).Where(r => r.Number("outdoor_db_f") is >= 75 and <= 110 && r.Number("return_wb_f") is >= 58 and <= 74).ToArray();
        double Superheat(Published.Row r) => Trial.Run(Orifice, r.Number("outdoor_db_f"), r.Number("return_wb_f")).SuperheatF;
        yield return new("orifice: superheat [F], 75-110 F outdoors, WB 58-74 [fitted]", file, [.. cells.Select(r => Math.Abs(Superheat(r) - r.Number("target_superheat_f")))], 4.0, 0.90);
        yield return new("orifice: the same against (3 WB - 80 - OD)/2, no source [fitted]", file, [.. cells.Select(r => Math.Abs(Superheat(r) - r.Number("linear_rule_f")))], 4.0, 0.90);
        var mild = Published.Rows(file).Where(r => r.Number("outdoor_db_f") is >= 55 and <= 70 && r.Number("return_wb_f") is >= 58 and <= 74).ToArray();
        yield return new("orifice: superheat [F], 55-70 F outdoors [unfitted]: not to be trusted", file, [.. mild.Select(r => Math.Abs(Superheat(r) - r.Number("target_superheat_f")))], 9.0, 0.90);

        double Undercharged(string quantity, double f)
        {
            var row = Published.Rows(faults).Single(r => r["unit"] == "rooftop" && r["fault"] == "undercharge" && r["quantity"] == quantity);
            EquipmentState sound = Trial.Run(Orifice, 95), faulty = Trial.Run(Orifice, 95, faults: new Faults(ChargeRatio: 1 - f));
            double ours = quantity == "capacity" ? faulty.CapacityRatio / sound.CapacityRatio : Trial.Eir(faulty) / Trial.Eir(sound);
            return Math.Abs(ours - FaultRatio(row, f, 95));
        }

        yield return new("orifice: capacity at charge -10, -20, -30 % [fitted]", faults, [.. Three(f => Undercharged("capacity", -f))], 0.025);
        yield return new("orifice: EIR at charge -10, -20, -30 % [fitted loosely]", faults, [.. Three(f => Undercharged("eir", -f))], 0.04);
        EquipmentState low = Trial.Run(Orifice, 95, faults: new Faults(ChargeRatio: 0.85));
        yield return new("orifice: EER loss at charge -15 %: other laboratories [unfitted]", "fault_charge_ranges.csv", [Math.Abs(1.0 - 1.0 / Trial.Eir(low) - 0.11)], 0.06);
    }

    private static IEnumerable<Agreement> Elsewhere()
    {
        const string file = "fault_cheung_braun.csv";
        foreach (string quantity in new[] { "capacity", "eir" })
        {
            var row = Published.Rows(file).Single(r => r["unit"] == "split" && r["fault"] == "condenser_airflow_low" && r["quantity"] == quantity);
            yield return new($"valve: {quantity} at outdoor air -10 to -40 % [unfitted]", file, [.. new[] { 0.1, 0.2, 0.3, 0.4 }.Select(f =>
            {
                EquipmentState sound = Trial.Run(Valve, 95), faulty = Trial.Run(Valve, 95, faults: new Faults(OutdoorAirRatio: 1 - f));
                double ours = quantity == "capacity" ? faulty.CapacityRatio : Trial.Eir(faulty) / Trial.Eir(sound);
                return Math.Abs(ours - FaultRatio(row, f, 95));
            })], 0.05);
        }
    }

    private static Agreement Curve(string quantity, string column, Equipment unit, string speeds, string speed, double[] wet, double tolerance)
    {
        var rows = CurveRows(column).Where(r => r["speeds"] == speeds && r["speed"] == speed).ToArray();
        return new(quantity, Curves, [.. from w in wet from o in OutdoorF from row in rows select Math.Abs(Ours(column, unit, o, w) - CurveValue(row, w, o))], tolerance);
    }

    /// <summary>Distance from the band of all curves of one- and two-speed units: the two-speed rows were never fitted.</summary>
    private static Agreement Envelope(string column, double tolerance)
    {
        var rows = CurveRows(column).ToArray();
        var misses = from w in new[] { 59.0, 63, 67, 71 }
                     from o in OutdoorF
                     let values = rows.Select(r => CurveValue(r, w, o)).ToArray()
                     let ours = Ours(column, Valve, o, w)
                     select Math.Max(0.0, Math.Max(values.Min() - ours, ours - values.Max()));
        return new($"valve: {column} outside the curves' envelope, WB 59-71", Curves, [.. misses], tolerance, 0.85);
    }

    private static IEnumerable<Published.Row> CurveRows(string column) => Published.Rows(Curves).Where(r => r["quantity"] == column && r["unit"] == "F");

    private static double Ours(string column, Equipment unit, double outdoorF, double wetBulbF)
    {
        EquipmentState state = Trial.Run(unit, outdoorF, wetBulbF);
        return column == "capacity" ? state.CapacityRatio : Trial.Eir(state);
    }

    private static double CurveValue(Published.Row r, double x, double y)
    {
        double At(double w, double o) => r.Number("a") + r.Number("b") * w + r.Number("c") * w * w + r.Number("d") * o + r.Number("e") * o * o + r.Number("f") * w * o;
        return At(x, y) / At(67.0, 95.0);
    }

    /// <summary>Misses of the air conditioner's and the heat pump's row.</summary>
    private static IEnumerable<double> AirflowMisses(string quantity, Equipment unit, double ratio, string speeds)
    {
        EquipmentState state = Trial.Run(unit, 95, faults: new Faults(AirflowRatio: ratio));
        double ours = quantity == "capacity" ? state.CapacityRatio : Trial.Eir(state);
        return Published.Rows(Airflow).Where(r => r["quantity"] == quantity && r["speeds"] == speeds && r["speed"] == speeds)
            .Select(r => Math.Abs(ours - (r.Number("a") + r.Number("b") * ratio + r.Number("c") * ratio * ratio) / r.Number("at_rated")));
    }

    private static double ChargeMiss(string quantity, double deviation, double outdoorF, double returnF)
    {
        var row = Published.Rows(Charge).Single(r => r["charge"] == (deviation < 0 ? "under" : "over") && r["quantity"] == quantity);
        double indoorC = Records.Units.CelsiusFromFahrenheit(returnF), outdoorC = Records.Units.CelsiusFromFahrenheit(outdoorF);
        double published = 1.0 + (row.Number("a1") + row.Number("a2") * indoorC + row.Number("a3") * outdoorC + row.Number("a4") * deviation) * deviation;
        double wet = Trial.WetBulbF(returnF, 51);
        EquipmentState sound = Trial.Run(Valve, outdoorF, wet, returnF), faulty = Trial.Run(Valve, outdoorF, wet, returnF, new Faults(ChargeRatio: 1 + deviation));
        double ours = quantity == "capacity" ? faulty.CapacityRatio / sound.CapacityRatio : faulty.PowerRatio / sound.PowerRatio;
        return Math.Abs(ours - published);
    }

    private static IEnumerable<double> Three(Func<double, double> of) => new[] { -0.1, -0.2, -0.3 }.Select(of);

    private static double FaultRatio(Published.Row r, double f, double outdoorF)
    {
        double wet = 19.4 / 273.15 + 1.0, outdoor = Records.Units.CelsiusFromFahrenheit(outdoorF) / 273.15 + 1.0;
        double cop = 0.5 * (r.Number("min_cop") + r.Number("max_cop"));
        return 1.0 + f * (r.Number("c1") + r.Number("c2") * wet + r.Number("c3") * outdoor + r.Number("c4") * f + r.Number("c5") * f * f + r.Number("c6") * cop);
    }

    private const double MapRatedBtuh = 62_000.0;

    private static IEnumerable<(Published.Row Row, EquipmentState State)> MapRows(double first, double second) =>
        from row in Published.Rows("hpdm_two_stage_r410a.csv")
        let outdoor = row.Number("outdoor_db_f")
        let dry = row.Number("return_db_f")
        where (outdoor == first || outdoor == second) && dry - row.Number("split_f") > 32.0
        let unit = Trial.Unit(Metering.Txv, airflow: row.Number("airflow_scfm") / (MapRatedBtuh / 12_000.0))
        select (row, Trial.Run(unit, outdoor, Trial.WetBulbF(dry, row.Number("return_rh_pct")), dry));

    private static IEnumerable<(double Ours, double Theirs, bool Fitted)> MapSplits(double first, double second) =>
        from r in MapRows(first, second)
        select (r.State.TemperatureSplitF, r.Row.Number("split_f"), r.Row.Number("return_db_f") >= 70 && r.Row.Number("return_rh_pct") is 25 or 45 or 65);

    private static IEnumerable<double> CorrelationSplits()
    {
        var rows = Published.Rows("cooling_acm.csv").ToDictionary(r => r["quantity"] + r["coil"]);
        return from dry in new[] { 75.0, 80, 85 }
               from rh in new[] { 40.0, 50, 60 }
               from outdoor in new[] { 80.0, 105 }
               from airflow in new[] { 300.0, 400, 500 }
               let wet = Trial.WetBulbF(dry, rh)
               let shr = Of(rows["shrany"], dry, wet, outdoor, airflow)
               where shr < 1.0
               let split = Math.Max(0.5, shr) * Of(rows["capacitywet"], dry, wet, outdoor, airflow) * 12_000.0 / (1.08 * airflow)
               select Trial.Run(Trial.Unit(Metering.Txv, airflow: airflow), outdoor, wet, dry).TemperatureSplitF - split;

        static double Of(Published.Row r, double dry, double wet, double outdoor, double v) =>
            r.Number("db") * dry + r.Number("wb") * wet + r.Number("od") * outdoor + r.Number("v") * v + r.Number("db_od") * dry * outdoor + r.Number("db_v") * dry * v
            + r.Number("wb_od") * wet * outdoor + r.Number("wb_v") * wet * v + r.Number("od_v") * outdoor * v + r.Number("wb2") * wet * wet + r.Number("inv_v") / v + r.Number("one");
    }

    private static IEnumerable<double> TargetSplits() =>
        from row in Published.Rows("rule_target_split.csv")
        let dry = row.Number("return_db_f")
        let wet = row.Number("return_wb_f")
        where wet <= Trial.WetBulbF(dry, 75) && wet >= Trial.WetBulbF(dry, 25)
        select Math.Abs(Trial.Run(Valve, 85, wet, dry).TemperatureSplitF - 1.15 - row.Number("target_split_f"));
}
