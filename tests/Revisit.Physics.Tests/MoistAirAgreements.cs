using Revisit.Records;

namespace Revisit.Physics.Tests;

/// <summary>Moist air against PsychroLib and the tables of the Handbook.</summary>
internal static class MoistAirAgreements
{
    private const string GridIp = "psychrolib_grid_ip.csv", GridSi = "psychrolib_grid_si.csv";

    public static IEnumerable<Agreement> All() => [.. Ip(), .. Si(), .. Handbook()];

    private static IEnumerable<Agreement> Ip()
    {
        yield return Of("humidity ratio from RH [share]", GridIp, 1e-4, r => Relative(
            MoistAir.HumidityRatioFromRelativeHumidity(C(r.Number("dry_f")), r.Number("rh"), Pa(r.Number("psia"))), r.Number("w")));
        yield return Of("wet bulb [F]", GridIp, 0.05, r => Absolute(
            Units.FahrenheitFromCelsius(MoistAir.WetBulb(C(r.Number("dry_f")), SaturationCapped(r), Pa(r.Number("psia")))), r.Number("wet_f")));
        yield return Of("dew point [F]", GridIp, 0.05, r => Absolute(
            Units.FahrenheitFromCelsius(MoistAir.DewPoint(C(r.Number("dry_f")), SaturationCapped(r), Pa(r.Number("psia")))), r.Number("dew_f")));
        yield return Of("enthalpy, IP edition [share, 10 Btu/lb floor]", GridIp, 1e-3, r => OfEnthalpy(MoistAir.EnthalpyBtuLb(r.Number("dry_f"), r.Number("w")), r));
        // The Handbook rounds its IP coefficients: 0.240 Btu/(lb F) is 0.12 % less than 1.006 kJ/(kg K), and no equation meets both
        // editions closer. The zeros differ (dry air at 0 °F, at 0 °C): compared as the distance from dry air at 0 °F.
        yield return Of("enthalpy, SI edition [share, 10 Btu/lb floor]", GridIp, 1.3e-3, r =>
            OfEnthalpy((MoistAir.Enthalpy(C(r.Number("dry_f")), r.Number("w")) - MoistAir.Enthalpy(C(0), 0)) / Units.JoulePerKilogramPerBtuLb, r));
        yield return Of("specific volume [share]", GridIp, 1e-4, r => Relative(
            MoistAir.SpecificVolume(C(r.Number("dry_f")), r.Number("w"), Pa(r.Number("psia"))) * Units.KilogramPerCubicMetrePerLbFt3, r.Number("volume_ft3_lb")));
        yield return Of("density [share]", GridIp, 1e-4, r => Relative(
            MoistAir.Density(C(r.Number("dry_f")), r.Number("w"), Pa(r.Number("psia"))) / Units.KilogramPerCubicMetrePerLbFt3, r.Number("density_lb_ft3")));
        // The rounding of the IP coefficients again: 0.240 (t − t*) against 1.006 (t − t*).
        yield return Of("humidity ratio from wet bulb [lb/lb]", "psychrolib_wet_bulb_ip.csv", 2e-5, r => Absolute(
            MoistAir.HumidityRatioFromWetBulb(C(r.Number("dry_f")), C(r.Number("wet_f")), Pa(r.Number("psia"))), r.Number("w")));
        yield return Of("pressure of the standard atmosphere [share]", "psychrolib_elevation_ip.csv", 1e-4, r => Relative(
            MoistAir.StandardPressure(r.Number("elevation_ft") * Units.MetrePerFoot), Pa(r.Number("psia"))));
    }

    private static IEnumerable<Agreement> Si()
    {
        yield return Of("saturation pressure [share]", "psychrolib_saturation_si.csv", 1e-10, r => Relative(MoistAir.SaturationPressure(r.Number("celsius")), r.Number("pascal")));
        yield return Of("humidity ratio from RH [share]", GridSi, 1e-8, r => Relative(MoistAir.HumidityRatioFromRelativeHumidity(r.Number("dry_c"), r.Number("rh"), r.Number("pa")), r.Number("w")));
        yield return Of("humidity ratio from wet bulb [share]", "psychrolib_wet_bulb_si.csv", 1e-8, r => Relative(MoistAir.HumidityRatioFromWetBulb(r.Number("dry_c"), r.Number("wet_c"), r.Number("pa")), r.Number("w")));
        yield return Of("relative humidity [share]", GridSi, 1e-8, r => Absolute(MoistAir.RelativeHumidity(r.Number("dry_c"), r.Number("w"), r.Number("pa")), r.Number("rh")));
        yield return Of("wet bulb [F]", GridSi, 0.05, r => 1.8 * Absolute(MoistAir.WetBulb(r.Number("dry_c"), r.Number("w"), r.Number("pa")), r.Number("wet_c")));
        yield return Of("dew point [F]", GridSi, 0.05, r => 1.8 * Absolute(MoistAir.DewPoint(r.Number("dry_c"), r.Number("w"), r.Number("pa")), r.Number("dew_c")));
        yield return Of("enthalpy [share, 1 kJ/kg floor]", GridSi, 1e-6, r =>
            Math.Abs(MoistAir.Enthalpy(r.Number("dry_c"), r.Number("w")) - r.Number("enthalpy_j_kg")) / Math.Max(1e3, Math.Abs(r.Number("enthalpy_j_kg"))));
        yield return Of("specific volume [share]", GridSi, 1e-6, r => Relative(MoistAir.SpecificVolume(r.Number("dry_c"), r.Number("w"), r.Number("pa")), r.Number("volume_m3_kg")));
        yield return Of("density [share]", GridSi, 1e-6, r => Relative(MoistAir.Density(r.Number("dry_c"), r.Number("w"), r.Number("pa")), r.Number("density_kg_m3")));
    }

    /// <summary>Each row with its own tolerance: the errors are in shares of it.</summary>
    private static IEnumerable<Agreement> Handbook() =>
        from row in Published.Rows("ashrae_tables_ip.csv")
        group HandbookMiss(row) by row["quantity"] into rows
        select new Agreement($"{rows.Key} [of row's tolerance]", "ashrae_tables_ip.csv", [.. rows], 1.0);

    private static double HandbookMiss(Published.Row row)
    {
        double x = row.Number("x"), pa = Pa(14.696);
        double Saturated() => MoistAir.HumidityRatioFromRelativeHumidity(C(x), 1.0, pa);
        double ours = row["quantity"] switch
        {
            "standard_pressure_psia" => MoistAir.StandardPressure(x * Units.MetrePerFoot) / Units.PascalPerPsi,
            "saturation_pressure_psia" => MoistAir.SaturationPressure(C(x)) / Units.PascalPerPsi,
            "saturated_humidity_ratio" => Saturated(),
            "saturated_enthalpy_btu_lb" => MoistAir.EnthalpyBtuLb(x, Saturated()),
            "dry_air_volume_ft3_lb" => MoistAir.SpecificVolume(C(x), 0, pa) * Units.KilogramPerCubicMetrePerLbFt3,
            _ => throw new ArgumentException($"Unknown quantity {row["quantity"]}."),
        };
        double published = row.Number("value");
        return (row["kind"] == "relative" ? Relative(ours, published) : Absolute(ours, published)) / row.Number("tolerance");
    }

    /// <summary>The IP humidity ratio, held to our SI saturation where it lies above it by rounding of the coefficients.</summary>
    private static double SaturationCapped(Published.Row r) =>
        Math.Min(r.Number("w"), MoistAir.HumidityRatioFromRelativeHumidity(C(r.Number("dry_f")), 1.0, Pa(r.Number("psia"))));

    private static Agreement Of(string quantity, string file, double tolerance, Func<Published.Row, double> miss) =>
        new(quantity, file, [.. Published.Rows(file).Select(miss)], tolerance);

    private static double OfEnthalpy(double btuLb, Published.Row r) => Absolute(btuLb, r.Number("enthalpy_btu_lb")) / Math.Max(10.0, Math.Abs(r.Number("enthalpy_btu_lb")));

    private static double C(double fahrenheit) => Units.CelsiusFromFahrenheit(fahrenheit);

    private static double Pa(double psia) => psia * Units.PascalPerPsi;

    private static double Absolute(double ours, double published) => Math.Abs(ours - published);

    private static double Relative(double ours, double published) => Math.Abs(ours - published) / Math.Abs(published);
}
