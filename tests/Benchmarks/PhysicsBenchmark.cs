using System.Globalization;
using System.Runtime.InteropServices;
using System.Text;
using Revisit.Diagnosis;
using Revisit.Physics;
using Revisit.Records;

namespace Benchmarks;

/// <summary>The formulas on one thread, each against the printed saturation equation solved once (<see cref="LiteralSaturation"/>).</summary>
internal static class PhysicsBenchmark
{
    public static int Run(int pressures, int readings, int solves, int runs, bool record)
    {
        var systems = new RandomSystems();
        Refrigerant fluid = RandomSystems.Refrigerant;
        double[] pascal = [.. Enumerable.Range(0, pressures).Select(_ => systems.Between(fluid.MinDewPressurePa, fluid.MaxDewPressurePa))], kelvin = new double[pressures], literal = new double[pressures];
        int yardItems = Math.Max(1, pressures / 5);
        void Yardstick()
        {
            for (int i = 0; i < yardItems; i++) literal[i] = LiteralSaturation.DewTemperature(pascal[i]);
        }

        var rows = new StringBuilder();
        void Row(string task, int items, Action work, double? targetNs)
        {
            Timing t = Timing.Of(runs, items, work, yardItems, Yardstick);
            double ns = Timing.Median(t.Nanoseconds);
            rows.Append(CultureInfo.InvariantCulture, $"| {task} | {items:N0} | {Ns(t.Nanoseconds.Min())}, **{Ns(ns)}**, {Ns(t.Nanoseconds.Max())} | {Three(1e3 / ns)} | {Three(t.Ratios.Min())}, **{Three(Timing.Median(t.Ratios))}**, {Three(t.Ratios.Max())} | {t.Bytes:0.##} | {(targetNs is { } most ? $"{Ns(most)} {(ns <= most ? "met" : "not met")}" : "")} |\n");
            Console.Error.WriteLine(task);
        }

        void LiteralAll()
        {
            for (int i = 0; i < pressures; i++) literal[i] = LiteralSaturation.DewTemperature(pascal[i]);
        }

        Row("T(p): printed equation, secant method", pressures, LiteralAll, null);
        Row("T(p): `Refrigerant.DewTemperatures`", pressures, () => fluid.DewTemperatures(pascal, kelvin), null);
        LiteralAll();
        double apart = kelvin.Zip(literal, (a, b) => Math.Abs(a - b)).Max();
        if (!(apart < 1e-5)) throw new InvalidOperationException(string.Create(CultureInfo.InvariantCulture, $"the two saturation temperatures are {apart} K apart"));

        ReadingInputs[] whole = [.. Enumerable.Range(0, readings).Select(_ => systems.Reading())];
        ReadingInputs[] dry = [.. whole.Select(r => r with { SupplyWb = double.NaN })], alone = [.. whole.Select(r => r with { OutdoorDb = double.NaN })];
        var metrics = new MetricSet();
        double sum = 0;
        void Metrics(ReadingInputs[] of)
        {
            for (int i = 0; i < of.Length; i++)
            {
                ReadingMetrics.Compute(of[i], metrics);
                sum += metrics[MetricId.FreezeMargin].Value;
            }
        }

        int given = 0;
        foreach (ReadingInputs reading in whole)
        {
            ReadingMetrics.Compute(reading, metrics);
            given += Enumerable.Range(0, MetricSet.Count).Count(i => metrics[(MetricId)i].Has);
        }

        Row("metrics: the formulas alone, without uncertainty", readings, () => sum += Formulas(whole), null);
        Row("metrics: `ReadingMetrics.Compute` without outdoor temperature, so without expected values", readings, () => Metrics(alone), 1_000);
        Row("metrics: `ReadingMetrics.Compute`, everything measured, expected values with it", readings, () => Metrics(whole), 1_000);
        Row("metrics: the same, supply wet bulb not measured", readings, () => Metrics(dry), 1_000);

        EquipmentConditions[] conditions = [.. Enumerable.Range(0, readings).Select(_ => systems.Conditions())];
        double[] airflow = [.. conditions.Select(_ => systems.Airflow())];
        Faults[] faults = [.. Enumerable.Range(0, solves).Select(_ => systems.Faults())];
        var expected = new ExpectedReading[readings];
        float[] shifts = new float[SignatureTable.Levels.Count * SignatureTable.Values];
        StringBuilder first = new(), steady = new();
        foreach ((Metering metering, string name) in new[] { (Metering.Txv, "valve"), (Metering.FixedOrifice, "orifice") })
        {
            Equipment unit = RandomSystems.Unit(metering);
            Row($"model, {name}: `EquipmentModel.Solve`, random faults", solves, Solves, 100_000);
            ExpectedTable table = ExpectedTable.For(unit);
            SignatureTable signatures = SignatureTable.For(unit);
            double made = Timing.Once(Expected), madeToo = Timing.Once(Shifts);
            int solved = Enumerable.Range(0, solves).Count(i => EquipmentModel.Solve(conditions[i % readings], unit, faults[i]).Solved);
            steady.Append(CultureInfo.InvariantCulture, $" {100.0 * solved / solves:0.0} % ({name}),");
            first.Append(CultureInfo.InvariantCulture, $" {name} {made / 1e6:0} ms and {madeToo / 1e6:0} ms;");
            Row($"model, {name}: `ExpectedTable.Expected`, nodes made before", readings, Expected, 2_000);
            Row($"model, {name}: `SignatureTable.Shifts`, {SignatureTable.Levels.Count} levels, nodes made before", readings, Shifts, null);

            void Solves()
            {
                for (int i = 0; i < solves; i++)
                    if (EquipmentModel.Solve(conditions[i % readings], unit, faults[i]).TryGet(out EquipmentState s)) sum += s.SuperheatF;
            }

            void Expected() => table.Expected(conditions, airflow, expected);

            void Shifts()
            {
                for (int i = 0; i < readings; i++)
                    if (signatures.Shifts(conditions[i], airflow[i], expected[i], shifts)) sum += shifts[0];
            }
        }

        if (!double.IsFinite(sum)) throw new InvalidOperationException("a result is not a number");
        FormattableString text = $"""
            # Physics on one thread

            {runs} runs after one warm-up, each in turn with the yardstick: the printed dew equation of R-410A solved by the secant method, one pressure at a time. Cells: min, **median**, max.
            Machine: {Environment.ProcessorCount} cores, {RuntimeInformation.OSArchitecture}, {RuntimeInformation.FrameworkDescription}, {RuntimeInformation.OSDescription}; full compilation at once, no profile guidance.

            | task | items | time an item | million/s | over the yardstick | bytes allocated an item | target |
            |---|---|---|---|---|---|---|
            {rows.ToString().TrimEnd('\n')}

            The two saturation temperatures differ by at most {apart:0.0e+0} K. The metrics are those of {readings:N0} random readings, {given / (double)readings:0.0} of {MetricSet.Count} given a reading. Of the random faults,{steady.ToString().TrimEnd(',')} had a steady state.
            The first pass of `ExpectedTable` and `SignatureTable` over {readings:N0} readings, which makes the nodes they touch, took{first.ToString().TrimEnd(';')}.
            Errors of the two tables are not measured here but by `FastTablesTests`, which printed for ordinary visits: 99 % of expected superheats within 0.02 °F (valve) and 0.04 °F (orifice) of the
            model, worst 0.42; of splits within 0.01, worst 0.03; 95 % of changes of superheat under a fault within 3.5 °F for the worst kind (little air with low charge, valve), worst of all 8.8.

            """;
        string report = text.ToString(CultureInfo.InvariantCulture);
        Console.Write(report);
        if (record) File.WriteAllText(Path.Combine("tests", "Benchmarks", "results", $"physics-{Environment.ProcessorCount}-cores.md"), report.ReplaceLineEndings("\n"));
        return 0;
    }

    private static double Formulas(ReadingInputs[] readings)
    {
        double sum = 0;
        foreach (ref readonly ReadingInputs x in readings.AsSpan())
        {
            double pa = MoistAir.StandardPressure(x.Elevation * Units.MetrePerFoot), back = Units.CelsiusFromFahrenheit(x.ReturnDb), supply = Units.CelsiusFromFahrenheit(x.SupplyDb);
            x.Fluid!.TryDewTemperature(Units.AbsolutePascal(x.SuctionPressure, pa), out double evaporating);
            x.Fluid.TryBubbleTemperature(Units.AbsolutePascal(x.LiquidPressure, pa), out double condensing);
            MoistAir.TryHumidityRatioFromWetBulb(back, Units.CelsiusFromFahrenheit(x.ReturnWb), pa, out double w);
            MoistAir.TryHumidityRatioFromWetBulb(supply, Units.CelsiusFromFahrenheit(x.SupplyWb), pa, out double ws);
            double density = MoistAir.Density(back, w, pa), drop = MoistAir.Enthalpy(back, w) - MoistAir.Enthalpy(supply, double.IsNaN(ws) ? w : ws);
            sum += x.SuctionLine - Units.FahrenheitFromKelvin(evaporating) + Units.FahrenheitFromKelvin(condensing) - x.LiquidLine + density * drop
                + MoistAir.DewPoint(back, w, pa) + MoistAir.RelativeHumidity(back, w, pa);
        }

        return sum;
    }

    private static string Ns(double ns) => ns < 10_000 ? $"{Three(ns)} ns" : $"{Three(ns / 1e3)} µs";

    /// <summary>About three digits, without an exponent.</summary>
    private static string Three(double value) => value.ToString(value < 1 ? "0.000" : value < 10 ? "0.00" : value < 100 ? "0.0" : "0", CultureInfo.InvariantCulture);
}
