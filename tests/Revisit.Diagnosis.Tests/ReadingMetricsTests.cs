using Revisit.Physics;
using Revisit.Records;

namespace Revisit.Diagnosis.Tests;

public sealed class ReadingMetricsTests
{
    [Fact]
    public void The_identifiers_follow_the_contract()
    {
        // Each identifier is spelt differently from its column; count and a few corner stones hold the order.
        Assert.Equal(Tables.MetricColumns.Count, Enum.GetValues<MetricId>().Length);
        foreach (var (id, name) in ((MetricId, string)[])
            [(MetricId.Evaporating, "evaporating_f"), (MetricId.TargetSuperheat, "target_superheat_f"), (MetricId.SubcoolingError, "subcooling_error_f"),
             (MetricId.ReturnWetBulb, "return_wb_f"), (MetricId.SplitError, "split_error_f"), (MetricId.CompressionRatio, "compression_ratio"),
             (MetricId.AirDensity, "air_density_lb_ft3"), (MetricId.ImpliedAirflow, "implied_airflow_cfm_per_ton"), (MetricId.FreezeMargin, "freeze_margin_f")])
        {
            Assert.Equal(name, Tables.MetricColumns[(int)id]);
        }
    }

    [Fact]
    public void Every_metric_of_a_full_reading_has_a_value_and_an_uncertainty()
    {
        var m = Worked.Metrics(Worked.Reading(airflow: 1200));
        foreach (var id in Enum.GetValues<MetricId>())
        {
            Assert.True(m[id].Has, $"{id}: {m[id].Missing}");
            Assert.True(double.IsFinite(m[id].Sd) && m[id].Sd >= 0, $"{id}: {m[id].Sd}");
            Assert.Null(m[id].Missing);
        }
    }

    [Fact]
    public void Every_metric_of_an_empty_reading_says_why_it_is_missing()
    {
        var m = Worked.Metrics(new ReadingInputs());
        foreach (var id in Enum.GetValues<MetricId>())
        {
            Assert.False(m[id].Has, id.ToString());
            Assert.False(string.IsNullOrEmpty(m[id].Missing), id.ToString());
        }
    }

    [Fact]
    public void Subcooling_uses_bubble_and_superheat_dew()
    {
        // R-407C glides by about 9 °F: using one line for both would show.
        var m = Worked.Metrics(Worked.Reading(refrigerant: "R-407C", superheat: 12, subcooling: 8));
        Assert.Equal(12, m[MetricId.Superheat].Value, 3);
        Assert.Equal(8, m[MetricId.Subcooling].Value, 3);
        Assert.Equal(48 - 32, m[MetricId.FreezeMargin].Value, 3);
    }

    [Fact]
    public void Gauge_pressure_is_over_the_local_barometer()
    {
        var high = Worked.Reading(elevation: 5000);
        Assert.Equal(10, Worked.Metrics(high)[MetricId.Superheat].Value, 3);
        high.Elevation = double.NaN;
        var unknown = Worked.Metrics(high);
        Assert.True(unknown[MetricId.Superheat].Value < 9.5, "the same gauge reading taken for sea level must evaporate warmer");
        Assert.True(unknown[MetricId.Evaporating].Sd > 1.3 * Worked.Metrics(Worked.Reading())[MetricId.Evaporating].Sd);
        Assert.InRange(Math.Abs(unknown[MetricId.Superheat].Value - 10), 0, 3 * unknown[MetricId.Superheat].Sd);
    }

    [Fact]
    public void Wet_bulb_and_humidity_stand_for_each_other()
    {
        var wet = Worked.Metrics(Worked.Reading());
        var x = Worked.Reading();
        x.ReturnRh = wet[MetricId.ReturnHumidity].Value;
        x.ReturnWb = double.NaN;
        var humid = Worked.Metrics(x);
        Assert.Equal(67, humid[MetricId.ReturnWetBulb].Value, 3);
        Assert.Equal(wet[MetricId.Enthalpy].Value, humid[MetricId.Enthalpy].Value, 3);
        Assert.Equal(wet[MetricId.DewPoint].Value, humid[MetricId.DewPoint].Value, 3);
        Assert.Equal(wet[MetricId.ExpectedSplit].Value, humid[MetricId.ExpectedSplit].Value, 3);
    }

    [Fact]
    public void Return_air_at_80_67_is_the_textbook_state()
    {
        // 51 % humidity, 0.0112 lb/lb, 31.5 Btu/lb, dew point about 60 °F: any psychrometric chart at sea level.
        var m = Worked.Metrics(Worked.Reading());
        Assert.InRange(m[MetricId.ReturnHumidity].Value, 50, 52);
        Assert.InRange(m[MetricId.HumidityRatio].Value, 0.0110, 0.0114);
        Assert.InRange(m[MetricId.Enthalpy].Value, 31.2, 31.8);
        Assert.InRange(m[MetricId.DewPoint].Value, 59.5, 61);
        Assert.InRange(m[MetricId.AirDensity].Value, 0.072, 0.0740);
    }

    [Fact]
    public void Expected_split_meets_the_rated_point_and_falls_in_wetter_air()
    {
        double At(double outdoor, double dry, double wet) => Worked.Metrics(Worked.Reading(outdoor: outdoor, returnDb: dry, returnWb: wet))[MetricId.ExpectedSplit].Value;
        Assert.InRange(At(95, 80, 67), 19.4, 20.4); // 19.9 by the California ACM correlation kept with the physics tests
        Assert.InRange(At(82, 80, 67), 20.1, 21.3);
        var last = double.PositiveInfinity;
        for (var wet = 57.0; wet <= 74; wet += 0.5)
        {
            var split = At(95, 80, wet);
            Assert.True(split <= last + 0.15, $"wet bulb {wet} °F: {split} after {last}"); // flat while the coil is dry, to the fit's 0.15 °F
            last = split;
        }

        Assert.InRange(At(95, 80, 73), 10, 17);
        Assert.InRange(At(95, 75, 57), 20, 27);
    }

    [Fact]
    public void Target_superheat_is_the_linear_rule()
    {
        Assert.Equal(13, Worked.Metrics(Worked.Reading("fixed_orifice"))[MetricId.TargetSuperheat].Value, 9); // (201 − 80 − 95)/2
        Assert.Equal(10, Worked.Metrics(Worked.Reading())[MetricId.TargetSuperheat].Value, 9);
        var own = Worked.Reading("eev");
        own.TargetSuperheat = 7;
        Assert.Equal(7, Worked.Metrics(own)[MetricId.TargetSuperheat].Value, 9);
        Assert.Equal(3, Worked.Metrics(own)[MetricId.SuperheatError].Value, 3);
    }

    [Fact]
    public void Implied_airflow_agrees_with_the_expected_split_at_400()
    {
        // The split a 400 cfm a ton system should show must imply 400 cfm a ton.
        var x = Worked.Reading();
        x.SupplyDb = x.ReturnDb - Worked.Metrics(x)[MetricId.ExpectedSplit].Value;
        Assert.InRange(Worked.Metrics(x)[MetricId.ImpliedAirflow].Value, 388, 412); // the coil's leaving humidity is assumed, not modelled
        x.SupplyDb += 5;
        Assert.True(Worked.Metrics(x)[MetricId.ImpliedAirflow].Value > 500);
    }

    [Fact]
    public void Capacity_is_air_mass_times_enthalpy()
    {
        var m = Worked.Metrics(Worked.Reading(airflow: 1200));
        Assert.InRange(m[MetricId.CapacityRatio].Value, 0.95, 1.05);
        Assert.InRange(m[MetricId.SensibleCapacity].Value, 25_500, 27_500); // 1.08 · 1200 · 20.6 at standard air
        Assert.True(m[MetricId.SensibleCapacity].Value < m[MetricId.TotalCapacity].Value);
        Assert.Equal(400, m[MetricId.MeasuredAirflow].Value, 9);
    }

    [Theory]
    [InlineData("suction", MetricId.Superheat, "suction_pressure_psig missing")]
    [InlineData("liquid", MetricId.Subcooling, "liquid_pressure_psig missing")]
    [InlineData("refrigerant", MetricId.CondensingOverOutdoor, "refrigerant R-999 unknown")]
    [InlineData("target", MetricId.SubcoolingError, "target_subcooling_f missing")]
    [InlineData("airflow", MetricId.TotalCapacity, "airflow_cfm missing")]
    [InlineData("wet", MetricId.ExpectedSplit, "return wet bulb and dry bulb do not go together")]
    public void A_missing_value_is_named_where_it_is_missed(string gone, MetricId id, string reason)
    {
        var x = Worked.Reading(airflow: 1200);
        Assert.True(Worked.Metrics(x)[id].Has);
        switch (gone)
        {
            case "suction": x.SuctionPressure = double.NaN; break;
            case "liquid": x.LiquidPressure = double.NaN; break;
            case "refrigerant": x.Refrigerant = "R-999"; break;
            case "target": x.TargetSubcooling = double.NaN; break;
            case "airflow": x.Airflow = double.NaN; break;
            case "wet": x.ReturnWb = 85; break;
        }

        var m = Worked.Metrics(x);
        Assert.Equal(reason, m[id].Missing);
        Assert.True(double.IsNaN(m[id].Value) && double.IsNaN(m[id].Sd));
    }

    [Fact]
    public void Uncertainties_are_what_shifting_the_instruments_gives()
    {
        // Monte Carlo with the same limits, uniform: the oracle of the propagation.
        var random = new Random(7);
        double Off(double limit) => (2 * random.NextDouble() - 1) * limit;
        var x = Worked.Reading();
        var claimed = Worked.Metrics(x);
        var superheat = new List<double>();
        var subcooling = new List<double>();
        var expected = new List<double>();
        MetricId[] ofAir = [MetricId.HumidityRatio, MetricId.Enthalpy, MetricId.DewPoint];
        var air = ofAir.Select(_ => new List<double>()).ToArray();
        for (var i = 0; i < 4000; i++)
        {
            var y = x;
            var barometer = Off(InstrumentAccuracy.BarometerLimitPsi);
            y.SuctionPressure += barometer + Off(Math.Max(1, 0.01 * x.SuctionPressure));
            y.LiquidPressure += barometer + Off(Math.Max(1, 0.01 * x.LiquidPressure));
            y.SuctionLine += Off(1);
            y.LiquidLine += Off(1);
            y.ReturnDb += Off(1);
            y.ReturnWb += Off(1);
            var m = Worked.Metrics(y);
            superheat.Add(m[MetricId.Superheat].Value);
            subcooling.Add(m[MetricId.Subcooling].Value);
            expected.Add(m[MetricId.ExpectedSplit].Value);
            for (var k = 0; k < ofAir.Length; k++)
            {
                air[k].Add(m[ofAir[k]].Value);
            }
        }

        static double Sd(List<double> v)
        {
            var mean = v.Average();
            return Math.Sqrt(v.Sum(a => (a - mean) * (a - mean)) / (v.Count - 1));
        }

        Assert.InRange(claimed[MetricId.Superheat].Sd / Sd(superheat), 0.93, 1.07);
        Assert.InRange(claimed[MetricId.Subcooling].Sd / Sd(subcooling), 0.93, 1.07);
        for (var k = 0; k < ofAir.Length; k++)
        {
            Assert.InRange(claimed[ofAir[k]].Sd / Sd(air[k]), 0.93, 1.07);
        }

        var spread = new double[ResidualSet.Count];
        SoundSpread.Of(x, spread);
        var instruments = Math.Sqrt(Math.Pow(claimed[MetricId.ExpectedSplit].Sd, 2) - Math.Pow(spread[(int)Residual.Split], 2));
        Assert.InRange(instruments / Sd(expected), 0.8, 1.25);
    }

    [Fact]
    public void Nothing_but_finite_numbers_and_reasons_for_any_reading_in_range()
    {
        var random = new Random(11);
        var m = new MetricSet();
        var rules = new FindingRules();
        var judged = new Judgement();
        string?[] refrigerants = [.. Refrigerants.All.Select(r => r.Designation), "R-999", null];
        string?[] metering = ["txv", "eev", "fixed_orifice", null];
        double Any(string name) => random.NextDouble() < 0.15 ? double.NaN
            : Nomenclature.Of(name).Low!.Value + random.NextDouble() * (Nomenclature.Of(name).High!.Value - Nomenclature.Of(name).Low!.Value);
        for (var i = 0; i < 50_000; i++)
        {
            var x = new ReadingInputs
            {
                Refrigerant = refrigerants[random.Next(refrigerants.Length)],
                Metering = metering[random.Next(4)],
                Elevation = Any("elevation_ft"),
                NominalTons = Any("nominal_tons"),
                RatedCooling = Any("rated_cooling_btuh"),
                RatedEer = Any("rated_eer"),
                TargetSubcooling = Any("target_subcooling_f"),
                TargetSuperheat = Any("target_superheat_f"),
                DesignAirflow = Any("design_airflow_cfm"),
                MinutesRunning = Any("minutes_running"),
                OutdoorDb = Any("outdoor_db_f"),
                ReturnDb = Any("return_db_f"),
                ReturnWb = Any("return_wb_f"),
                ReturnRh = Any("return_rh_pct"),
                SupplyDb = Any("supply_db_f"),
                SupplyWb = Any("supply_wb_f"),
                SupplyRh = Any("supply_rh_pct"),
                SuctionPressure = Any("suction_pressure_psig"),
                LiquidPressure = Any("liquid_pressure_psig"),
                SuctionLine = Any("suction_line_f"),
                LiquidLine = Any("liquid_line_f"),
                Airflow = Any("airflow_cfm"),
            };
            ReadingMetrics.Compute(x, m);
            foreach (var id in Enum.GetValues<MetricId>())
            {
                var metric = m[id];
                Assert.True(
                    metric.Has ? double.IsFinite(metric.Value) && double.IsFinite(metric.Sd) && metric.Sd >= 0 && metric.Missing is null : metric.Missing is { Length: > 0 },
                    $"{id}: {metric}");
            }

            rules.Judge(x, m, judged);
            Assert.True(judged.Finding == "cannot_judge" ? judged.CannotJudgeBecause is { Length: > 0 } : judged.CannotJudgeBecause is null);
            Assert.True(!judged.Usable || Math.Abs(judged.Probabilities.Sum() - 1) < 1e-9);
        }
    }
}
