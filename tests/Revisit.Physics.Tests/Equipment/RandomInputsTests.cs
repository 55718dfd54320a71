using System.Diagnostics;
using Xunit.Abstractions;

namespace Revisit.Physics.Tests;

/// <summary>Random physical inputs: the model answers each with a state or a reason, and moves as physics says.</summary>
public class RandomInputsTests(ITestOutputHelper output)
{
    private const int Count = 100_000, Seed = 20_240;

    [Theory]
    [InlineData(Metering.Txv)]
    [InlineData(Metering.FixedOrifice)]
    public void A_hundred_thousand_inputs_are_answered(Metering metering)
    {
        var draw = new Draw(Seed);
        var outcomes = new int[Enum.GetValues<EquipmentOutcome>().Length];
        int freezing = 0, flooded = 0, overCutOut = 0;
        double lowestLast = double.MaxValue;
        var unsolved = new SortedDictionary<string, int>(StringComparer.Ordinal);
        var time = Stopwatch.StartNew();
        for (int i = 0; i < Count; i++)
        {
            (EquipmentConditions conditions, Equipment unit, Faults faults) = draw.Input(metering);
            EquipmentResult result = EquipmentModel.Solve(conditions, unit, faults);
            outcomes[(int)result.Outcome]++;
            if (!result.TryGet(out EquipmentState s))
            {
                string designation = unit.Refrigerant.Designation;
                unsolved[designation] = unsolved.GetValueOrDefault(designation) + 1;
                lowestLast = Math.Min(lowestLast, LastCondensingF(conditions, unit, faults));
                continue;
            }

            if (s.Flags.HasFlag(EquipmentFlags.CoilBelowFreezing)) freezing++;
            if (s.Flags.HasFlag(EquipmentFlags.FloodedSuction)) flooded++;
            if (s.Flags.HasFlag(EquipmentFlags.OverCutOut)) overCutOut++;
            double sum = s.EvaporatingF + s.CondensingF + s.SuperheatF + s.SubcoolingF + s.DischargeLineF + s.SupplyDbF + s.SupplyWbF + s.SuctionPressurePsig + s.LiquidPressurePsig
                + s.TotalCapacityBtuh + s.SensibleCapacityBtuh + s.PowerW + s.CapacityRatio + s.PowerRatio + s.SensibleHeatRatio + s.LiquidOverOutdoorF;
            bool possible = double.IsFinite(sum) && s.TotalCapacityBtuh > 0 && s.PowerW > 0 && s.SensibleHeatRatio is > 0 and <= 1 && s.SupplyWbF <= s.SupplyDbF + 1e-9
                && s.SuperheatF >= 0 && s.SuctionPressurePsig < s.LiquidPressurePsig && s.CondensingOverOutdoorF > 0 && s.SupplyDbF < conditions.ReturnDbF;
            Assert.True(possible, $"{conditions} {unit} {faults}: {s}");
        }

        double micros = time.Elapsed.TotalMicroseconds / Count;
        string shares = string.Join(", ", Enum.GetValues<EquipmentOutcome>().Select(o => FormattableString.Invariant($"{o} {outcomes[(int)o] / (double)Count:P3}")));
        output.WriteLine(FormattableString.Invariant($"{metering}: {shares}; of all freezing {freezing / (double)Count:P1}, flooded {flooded / (double)Count:P1}, solved over the cut-out {overCutOut / (double)Count:P2}; {micros:F1} us a solve"));
        output.WriteLine(FormattableString.Invariant($"  unsolved: {string.Join(", ", unsolved.Select(u => $"{u.Key} {u.Value}"))}; as their faults grew the last state condensed at {lowestLast:F0} F or more"));

        // What is not solved is so by physics: its pressure passed a cut-out's before the faults were all there.
        Assert.Equal(0, outcomes[(int)EquipmentOutcome.NotFound] + outcomes[(int)EquipmentOutcome.BeyondLowPressureLimit]);
        Assert.True(outcomes[(int)EquipmentOutcome.Solved] >= 0.997 * Count);
        Assert.True(lowestLast >= CutOutF, $"A path ended at {lowestLast} F.");
    }

    /// <summary>Condensing temperature [°F] at which a high-pressure cut-out has tripped: R-410A 613 psig, set at 610…650 (common practice, no source).</summary>
    private const double CutOutF = 150.0;

    /// <summary>Condensing temperature [°F] of the last steady state as the faults grow from nothing.</summary>
    private static double LastCondensingF(in EquipmentConditions conditions, Equipment unit, Faults f)
    {
        double solved = 0.0, not = 1.0, last = double.NaN;
        for (int i = 0; i < 24; i++)
        {
            double s = i == 0 ? 0.0 : 0.5 * (solved + not);
            var part = new Faults(1.0, 1.0 + s * (f.ChargeRatio - 1.0), 1.0 + s * (f.OutdoorAirRatio - 1.0), s * f.Restriction, s * f.NonCondensables, s * f.ValveLeak, s * f.EfficiencyLoss);
            if (EquipmentModel.Solve(conditions, unit, part).TryGet(out EquipmentState state)) (solved, last) = (s, state.CondensingF);
            else not = s;
        }

        return last;
    }

    /// <summary>
    /// Name, step, reading, the sign its change must have, and how far against it still passes. A starved
    /// system cools a little better when it is hotter outside (more pressure on the valve): hence the slack of capacity.
    /// </summary>
    [Theory]
    [InlineData(Metering.Txv)]
    [InlineData(Metering.FixedOrifice)]
    public void Readings_move_as_physics_says(Metering metering)
    {
        (string Name, Func<EquipmentConditions, Equipment, Faults, (EquipmentConditions, Equipment, Faults)> Step, Func<EquipmentState, double> Reading, int Sign, double Slack)[] trends =
        [
            ("capacity with outdoor temperature", (c, u, f) => (c with { OutdoorDbF = c.OutdoorDbF + 3 }, u, f), s => s.CapacityRatio, -1, 0.025),
            ("power with outdoor temperature", (c, u, f) => (c with { OutdoorDbF = c.OutdoorDbF + 3 }, u, f), s => s.PowerRatio, 1, 1e-6),
            ("condensing with outdoor temperature", (c, u, f) => (c with { OutdoorDbF = c.OutdoorDbF + 3 }, u, f), s => s.CondensingF, 1, 1e-6),
            ("capacity with wet bulb", (c, u, f) => (c with { ReturnWbF = c.ReturnWbF + 1 }, u, f), s => s.CapacityRatio, 1, 1e-6),
            ("split with airflow", (c, u, f) => (c, u with { AirflowScfmPerTon = u.AirflowScfmPerTon * 1.05 }, f), s => s.TemperatureSplitF, -1, 1e-6),
            ("evaporating with airflow", (c, u, f) => (c, u with { AirflowScfmPerTon = u.AirflowScfmPerTon * 1.05 }, f), s => s.EvaporatingF, 1, 1e-6),
            ("capacity with airflow", (c, u, f) => (c, u with { AirflowScfmPerTon = u.AirflowScfmPerTon * 1.05 }, f), s => s.CapacityRatio, 1, 1e-6),
            ("subcooling with charge", (c, u, f) => (c, u, f with { ChargeRatio = f.ChargeRatio + 0.02 }), s => s.SubcoolingF, 1, 0.06),
            ("superheat with charge", (c, u, f) => (c, u, f with { ChargeRatio = f.ChargeRatio + 0.02 }), s => s.SuperheatF, -1, 1e-6),
            ("condensing with outdoor air", (c, u, f) => (c, u, f with { OutdoorAirRatio = f.OutdoorAirRatio * 0.95 }), s => s.CondensingF, 1, 1e-6),
            ("evaporating with restriction", (c, u, f) => (c, u, f with { Restriction = f.Restriction + 0.05 }), s => s.EvaporatingF, -1, 1e-6),
            ("condensing with non-condensables", (c, u, f) => (c, u, f with { NonCondensables = f.NonCondensables + 0.05 }), s => s.CondensingF, 1, 1e-6),
            ("capacity with valve leak", (c, u, f) => (c, u, f with { ValveLeak = f.ValveLeak + 0.02 }), s => s.CapacityRatio, -1, 1e-6),
            ("power with efficiency loss", (c, u, f) => (c, u, f with { EfficiencyLoss = f.EfficiencyLoss + 0.02 }), s => s.PowerRatio, 1, 1e-6),
        ];
        foreach (var trend in trends)
        {
            var draw = new Draw(Seed + 1);
            int right = 0, tried = 0;
            double worst = 0.0;
            for (int i = 0; i < 2_000; i++)
            {
                (EquipmentConditions conditions, Equipment unit, Faults faults) = draw.Input(metering);
                (EquipmentConditions stepped, Equipment other, Faults worse) = trend.Step(conditions, unit, faults);
                if (stepped.ReturnWbF >= stepped.ReturnDbF) continue;
                if (!EquipmentModel.Solve(conditions, unit, faults).TryGet(out EquipmentState before) || !EquipmentModel.Solve(stepped, other, worse).TryGet(out EquipmentState after)) continue;
                tried++;
                double miss = -trend.Sign * (trend.Reading(after) - trend.Reading(before));
                if (miss <= trend.Slack) right++;
                worst = Math.Max(worst, miss);
            }

            string said = FormattableString.Invariant($"{metering}: {trend.Name}: {right / (double)tried:P1} of {tried}, worst against it {worst:G2}");
            output.WriteLine(said);
            Assert.True(tried > 1_500 && right == tried, said);
        }
    }

    /// <summary>Inputs over the whole range that the model is to serve; each fault in half of the draws.</summary>
    private sealed class Draw(int seed)
    {
        private static readonly Refrigerant[] All = [.. Refrigerants.All];
        private readonly Random _random = new(seed);

        public (EquipmentConditions, Equipment, Faults) Input(Metering metering)
        {
            double elevation = Sometimes(6_000), dry = Between(65, 90);
            var conditions = new EquipmentConditions(Between(55, 115), dry, Trial.WetBulbF(dry, Between(25, 75), elevation), elevation);
            var unit = new Equipment(All[_random.Next(All.Length)], metering, Between(1.5, 5), Between(10, 16), Between(6, 14), Between(200, 650));
            return (conditions, unit, new Faults(1.0, Between(0.6, 1.35), Between(0.4, 1.1), Sometimes(1.0), Sometimes(0.6), Sometimes(0.3), Sometimes(0.3)));
        }

        private double Between(double low, double high) => low + (high - low) * _random.NextDouble();

        private double Sometimes(double high) => _random.Next(2) == 0 ? 0.0 : Between(0.0, high);
    }
}
