using Xunit.Abstractions;

namespace Revisit.Physics.Tests;

/// <summary>How far the tables are from the model itself; printed. How long they take is in the benchmarks.</summary>
public class FastTablesTests(ITestOutputHelper output)
{
    /// <summary>
    /// Errors of expected values at random ratings and conditions: the bar is a tenth of an instrument's 1 °F. The 99th percentile keeps
    /// it; the worst, to 1 °F, are a valve just fully open and a suction just wet.
    /// </summary>
    [Theory]
    [InlineData(Metering.Txv, false)]
    [InlineData(Metering.FixedOrifice, false)]
    [InlineData(Metering.Txv, true)]
    [InlineData(Metering.FixedOrifice, true)]
    public void Expected_values_are_the_models(Metering metering, bool wide)
    {
        var draw = new Draw(7, wide);
        var errors = Enumerable.Range(0, 8).Select(_ => new List<double>()).ToArray();
        int differ = 0, count = 8_000;
        for (int i = 0; i < count; i++)
        {
            (EquipmentConditions conditions, Equipment unit) = draw.Next(metering);
            ExpectedReading table = ExpectedTable.For(unit).Expected(conditions, unit.AirflowScfmPerTon);
            if (EquipmentModel.Expected(conditions, unit).TryGet(out EquipmentState s) != table.Known) differ++;
            else if (table.Known) Add(errors, s, table);
        }

        string range = wide ? "45-125 F outdoors, 62-95 F return, 20-80 % RH, 150-800 scfm/ton, to 8000 ft" : "60-110 F outdoors, 68-86 F return, 30-70 % RH, 250-550 scfm/ton, to 6000 ft";
        output.WriteLine($"{metering}, {range}: {errors[0].Count} readings, {differ} known to one only");
        double[] allowed = [0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.001, 0.001];
        string[] names = ["evaporating F", "condensing over outdoor F", "superheat F", "subcooling F", "discharge F", "split F", "capacity ratio", "power ratio"];
        for (int j = 0; j < 8; j++)
        {
            double[] sorted = [.. errors[j].Order()];
            output.WriteLine(FormattableString.Invariant($"  {names[j],-26} p50 {sorted[sorted.Length / 2]:F4} p99 {sorted[sorted.Length * 99 / 100]:F4} max {sorted[^1]:F4}"));
            Assert.True(sorted[sorted.Length * 99 / 100] <= allowed[j], names[j]);
            Assert.True(sorted[^1] <= (j is 2 or 4 ? 1.5 : j >= 6 ? 0.006 : 3.0 * allowed[j]), names[j]);
        }

        // At the edge of the pressure limit one may know a state and the other not.
        Assert.True(differ <= 0.001 * count);
    }

    [Theory]
    [InlineData(Metering.Txv)]
    [InlineData(Metering.FixedOrifice)]
    public void Signatures_are_near_the_models(Metering metering)
    {
        var draw = new Draw(5, wide: false);
        float[] shifts = new float[SignatureTable.Levels.Count * SignatureTable.Values];
        var errors = new Dictionary<string, List<double>[]>();
        for (int i = 0; i < 300; i++)
        {
            (EquipmentConditions conditions, Equipment unit) = draw.Next(metering);
            ExpectedReading expected = ExpectedTable.For(unit).Expected(conditions, unit.AirflowScfmPerTon);
            if (!SignatureTable.For(unit).Shifts(conditions, unit.AirflowScfmPerTon, expected, shifts)) continue;
            for (int level = 0; level < SignatureTable.Levels.Count; level++)
            {
                FaultLevel fault = SignatureTable.Levels[level];
                if (!EquipmentModel.WhatIf(conditions, unit, Faults.None, fault.Faults, out EquipmentShift s)) continue;
                string kind = fault.With is null ? $"{fault.Kind}" : $"{fault.Kind}+{fault.With}";
                double[] theirs = [s.EvaporatingF, s.CondensingF, s.SuperheatF, s.SubcoolingF, s.DischargeLineF, s.TemperatureSplitF, s.CapacityRatio, s.PowerRatio];
                if (!errors.TryGetValue(kind, out var list)) errors[kind] = list = [.. Enumerable.Range(0, 8).Select(_ => new List<double>())];
                for (int j = 0; j < 8; j++) list[j].Add(Math.Abs(theirs[j] - shifts[SignatureTable.Values * level + j]));
            }
        }

        Assert.Equal(9 + 4, errors.Count);
        output.WriteLine($"{metering}, errors of the change, median/95 %/worst: evaporating, condensing, superheat, subcooling, discharge, split [F], capacity, power [ratio]");
        double[] allowed = [1.2, 1.0, 4.5, 1.5, 5.0, 1.0, 0.02, 0.02];
        foreach ((string kind, List<double>[] list) in errors)
        {
            double[][] sorted = [.. list.Select(l => l.Order().ToArray())];
            output.WriteLine($"  {kind,-24} {string.Join("  ", sorted.Select((l, j) => FormattableString.Invariant($"{l[l.Length / 2]:G2}/{l[l.Length * 95 / 100]:G2}/{l[^1]:G2}")))}");
            for (int j = 0; j < 8; j++) Assert.True(sorted[j][sorted[j].Length * 95 / 100] <= allowed[j], $"{kind} {j}");
        }
    }

    [Fact]
    public void Columns_equal_single_readings_whatever_was_asked_before_and_by_how_many_threads()
    {
        var draw = new Draw(3, wide: true);
        Equipment unit = Trial.Unit(Metering.FixedOrifice, "R-134a", 11.3);
        EquipmentConditions[] conditions = [.. Enumerable.Range(0, 2_000).Select(_ => draw.Next(Metering.FixedOrifice).Item1)];
        double[] airflow = [.. Enumerable.Range(0, 2_000).Select(_ => draw.Next(Metering.FixedOrifice).Item2.AirflowScfmPerTon)];
        var forward = new ExpectedReading[2_000];
        ExpectedTable.For(unit).Expected(conditions, airflow, forward);

        // The same class of ratings in another refrigerant's fresh table would be no test; a neighbour in the band shares the map.
        var backward = new ExpectedReading[2_000];
        Parallel.For(0, 2_000, i => backward[1_999 - i] = ExpectedTable.For(Trial.Unit(Metering.FixedOrifice, "R-134a", 11.3)).Expected(conditions[1_999 - i], airflow[1_999 - i]));
        Assert.Equal(forward, backward);
        Assert.Throws<ArgumentException>(() => ExpectedTable.For(unit).Expected(conditions, airflow.AsSpan(1), forward));
        Assert.Throws<ArgumentException>(() => SignatureTable.For(unit).Shifts(conditions[0], 400, forward[0], new float[3]));
    }

    [Fact]
    public void Impossible_readings_are_not_known_and_do_not_throw()
    {
        ExpectedTable table = ExpectedTable.For(Trial.Unit(Metering.Txv));
        EquipmentConditions good = EquipmentConditions.Rated;
        Assert.True(table.Expected(good, 400).Known);
        EquipmentConditions[] bad = [good with { OutdoorDbF = double.NaN }, good with { OutdoorDbF = 44.9 }, good with { ReturnDbF = 101 }, good with { ReturnWbF = 81 }, good with { ReturnWbF = 40 }, good with { ElevationFt = 12_001 }];
        Assert.All(bad, c => Assert.Equal(ExpectedReading.None, table.Expected(c, 400)));
        Assert.False(table.Expected(good, 99).Known);
        Assert.False(table.Expected(good, double.NaN).Known);
        float[] shifts = [.. Enumerable.Repeat(1f, SignatureTable.Levels.Count * SignatureTable.Values)];
        Assert.False(SignatureTable.For(Trial.Unit(Metering.Txv)).Shifts(bad[0], 400, ExpectedReading.None, shifts));
        Assert.All(shifts, s => Assert.Equal(0f, s));
        Assert.Throws<ArgumentOutOfRangeException>(() => ExpectedTable.For(Trial.Unit(Metering.Txv) with { RatedEer = 21 }));
    }

    private static void Add(List<double>[] errors, in EquipmentState s, in ExpectedReading t)
    {
        double[] both =
        [
            s.EvaporatingF - t.EvaporatingF, s.CondensingOverOutdoorF - t.CondensingOverOutdoorF, s.SuperheatF - t.SuperheatF, s.SubcoolingF - t.SubcoolingF,
            s.DischargeLineF - t.DischargeLineF, s.TemperatureSplitF - t.TemperatureSplitF, s.CapacityRatio - t.CapacityRatio, s.PowerRatio - t.PowerRatio,
        ];
        for (int j = 0; j < 8; j++) errors[j].Add(Math.Abs(both[j]));
    }

    private sealed class Draw(int seed, bool wide)
    {
        private static readonly string[] Fluids = ["R-410A", "R-454B", "R-22"];
        private readonly Random _random = new(seed);

        public (EquipmentConditions, Equipment) Next(Metering metering)
        {
            double elevation = _random.Next(2) == 0 ? 0.0 : Between(0, wide ? 8_000 : 6_000), dry = wide ? Between(62, 95) : Between(68, 86);
            double wet = Trial.WetBulbF(dry, wide ? Between(20, 80) : Between(30, 70), elevation);
            var unit = Trial.Unit(metering, Fluids[_random.Next(Fluids.Length)], Between(10, 15), Between(7, 14), wide ? Between(150, 800) : Between(250, 550));
            return (new EquipmentConditions(wide ? Between(45, 125) : Between(60, 110), dry, wet, elevation), unit);
        }

        private double Between(double low, double high) => low + (high - low) * _random.NextDouble();
    }
}
