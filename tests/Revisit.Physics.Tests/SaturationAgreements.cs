using Revisit.Physics.Tests.Oracle;
using Revisit.Records;

namespace Revisit.Physics.Tests;

/// <summary>Saturation temperatures against every published table.</summary>
internal static class SaturationAgreements
{
    /// <summary>Tolerances [°F]. The bar is 0.05 °F; where published sources differ from one another by more, the band says so.</summary>
    private static readonly (string File, double ToleranceF)[] Tables =
    [
        ("saturation_papers.csv", 0.05),
        ("saturation_r410a_building_simulation.csv", 0.05),
        ("saturation_r22_r134a_building_simulation.csv", 0.05),
        ("saturation_r22_textbook.csv", 0.05),
        ("saturation_r134a_property_tables.csv", 0.05),
        ("saturation_r410a_r407c_mixture_model.csv", 0.05),

        // 0.1 % above the table of Tillner-Roth and Yokozeki themselves: 813.9 kPa at 0 °C where they print 813.10.
        ("saturation_r32_handbook.csv", 0.07),

        // Charts for installers from older formulations. R-410A: up to 0.6 % below Lemmon (2003), who gives 0.5 %. R-407C: 1.4 % below
        // both Lemmon (2003) and the mixture model, which agree; the chart is kept to show what a technician's chart may be off.
        ("saturation_r410a_equipment_manual.csv", 0.40),
        ("saturation_r407c_equipment_manual.csv", 1.10),

        // Bell (2023) gives 1 % for this blend: 0.6 °F, 0.5 °F at the upper end of the range.
        ("saturation_r454b_manufacturer.csv", 0.25),
        ("saturation_r454b_service_chart.csv", 0.65),
    ];

    public static IEnumerable<Agreement> All() => [.. FromTables(), R454BByAnotherModel(bubble: true), R454BByAnotherModel(bubble: false)];

    private static IEnumerable<Agreement> FromTables() =>
        from table in Tables
        from row in Published.Rows(table.File)
        let line = row["line"]
        group Miss(row) by (table.File, table.ToleranceF, Refrigerant: row["refrigerant"], Line: line) into rows
        select new Agreement($"T(p) {rows.Key.Refrigerant} {rows.Key.Line} [F]", rows.Key.File, [.. rows], rows.Key.ToleranceF);

    /// <summary>R-454B against the older mixture model, every 10 °F.</summary>
    private static Agreement R454BByAnotherModel(bool bubble)
    {
        Assert.True(Refrigerants.TryFind("R-454B", out var r));
        double[] kelvin = [.. Enumerable.Range(0, 17).Select(i => Units.KelvinFromFahrenheit(-15 + 10 * i))];
        var misses = kelvin.Zip(R454B.Pressures(R454B.BellLemmon2016, bubble, kelvin), (t, p) => 1.8 * Math.Abs((bubble ? r.BubbleTemperature(p) : r.DewTemperature(p)) - t));
        return new Agreement($"T(p) R-454B {(bubble ? "bubble" : "dew")} [F]", "Oracle/R454B.cs, Bell and Lemmon (2016)", [.. misses], 0.40);
    }

    /// <summary>Distance [°F] of our temperature from the published one, less what the rounding of the published pressure explains.</summary>
    private static double Miss(Published.Row row)
    {
        Assert.True(Refrigerants.TryFind(row["refrigerant"], out var refrigerant));
        double temperature = row.Number("temperature");
        double publishedF = row["temperature_unit"] switch
        {
            "F" => temperature,
            "C" => Units.FahrenheitFromCelsius(temperature),
            "K" => Units.FahrenheitFromKelvin(temperature),
            string unit => throw new ArgumentException($"Unknown temperature unit {unit}."),
        };
        bool bubble = row["line"] == "bubble";
        double Ours(double pressure)
        {
            double pascal = Pascal(pressure, row["pressure_unit"]);
            if (bubble ? refrigerant.TryBubbleTemperature(pascal, out double kelvin) : refrigerant.TryDewTemperature(pascal, out kelvin))
                return Units.FahrenheitFromKelvin(kelvin);

            // A row at an end of the range may lie just outside ours: go back from the pressure at that end along ln p.
            double end = publishedF < 65 ? refrigerant.MinTemperatureK : refrigerant.MaxTemperatureK, inner = publishedF < 65 ? end + 1 : end - 1;
            double atEnd = bubble ? refrigerant.BubblePressure(end) : refrigerant.DewPressure(end);
            double atInner = bubble ? refrigerant.BubblePressure(inner) : refrigerant.DewPressure(inner);
            double slope = Math.Log(atEnd / atInner) / (end - inner);
            return Units.FahrenheitFromKelvin(end + Math.Log(pascal / atEnd) / slope);
        }

        double pressure = row.Number("pressure"), rounding = row.Number("rounding");
        double ours = Ours(pressure);
        return Math.Max(0.0, Math.Abs(ours - publishedF) - Math.Abs(ours - Ours(pressure - rounding)));
    }

    private static double Pascal(double value, string unit) => unit switch
    {
        "Pa" => value,
        "kPa" => value * 1e3,
        "bar" => value * 1e5,
        "kPag" => value * 1e3 + 101_325.0,
        "psig" => (value + 14.696) * Units.PascalPerPsi,
        _ => throw new ArgumentException($"Unknown pressure unit {unit}."),
    };
}
