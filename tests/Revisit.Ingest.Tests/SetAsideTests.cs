namespace Revisit.Ingest.Tests;

/// <summary>A value that cannot be right is NULL in readings and stands, as written, in set_aside_values; its row is kept.</summary>
public class SetAsideTests
{
    private static List<string> Measured { get; } = [.. Records.Tables.MeasuredColumns.Concat(Records.Tables.CorrectionColumns)];

    /// <summary>Takes one row in; gives "column=raw:reason" of what was set aside, having held that it is NULL and all else is as sound.</summary>
    private static List<string> SetAside(params (string Column, string Value)[] changes)
    {
        using var lake = new SampleLake();
        var summary = lake.IngestText(PlainRows.Csv(PlainRows.Row(changes)));
        Assert.Equal((1, 0), (summary.Accepted, summary.Rejected));
        var aside = lake.Query("SELECT column_name, raw_value, set_aside_reason, source_line, visit_id, detail FROM set_aside_values ORDER BY column_name");
        Assert.Equal(summary.SetAside, aside.Count);
        Assert.All(aside, a => Assert.Equal(("2", "V1"), (a[3], a[4])));
        Assert.All(aside, a => Assert.NotEqual("NULL", a[5]));
        Assert.Equal(aside.Count, aside.Select(a => a[0]).Distinct().Count());
        foreach (var column in Measured.Where(c => changes.Any(x => x.Column == c && x.Value.Length > 0) || aside.Any(a => a[0] == c)))
        {
            Assert.True((lake.One($"SELECT {column} FROM readings") == "NULL") == aside.Any(a => a[0] == column), column);
        }

        return [.. aside.Select(a => $"{a[0]}={a[1]}:{a[2]}")];
    }

    [Fact]
    public void A_sound_row_sets_nothing_aside() => Assert.Empty(SetAside());

    [Theory]
    [InlineData("outdoor_db_f", "warm", "not_a_number")]
    [InlineData("outdoor_db_f", "NaN", "not_a_number")]
    [InlineData("outdoor_db_f", "Infinity", "not_a_number")]
    [InlineData("outdoor_db_f", "9O", "not_a_number")]
    [InlineData("outdoor_db_f", "88 F", "not_a_number")]
    [InlineData("metering", "bean can", "unknown_code")]
    [InlineData("filter_state", "so so", "unknown_code")]
    [InlineData("refrigerant", "brine", "unknown_code")]
    [InlineData("correction", "charge_added+prayer", "unknown_code")]
    [InlineData("external_static_inwc", "-0.4", "out_of_range")]
    [InlineData("minutes_running", "-5", "out_of_range")]
    [InlineData("airflow_cfm", "-5", "out_of_range")]
    [InlineData("return_rh_pct", "101", "out_of_range")]
    [InlineData("external_static_inwc", "150", "unit_slip")]
    [InlineData("system_power_w", "3.4", "unit_slip")]
    [InlineData("suction_line_f", "285.5", "unit_slip")]
    [InlineData("supply_db_f", "14", "unit_slip")]
    [InlineData("liquid_line_f", "950", "decimal_slip")]
    [InlineData("supply_db_f", "571", "decimal_slip")]
    [InlineData("external_static_inwc", "6.1", "decimal_slip")]
    public void One_value_and_its_reason(string column, string value, string reason) => Assert.Equal([$"{column}={value}:{reason}"], SetAside((column, value)));

    [Fact]
    public void Both_pressures_in_kilopascal_are_unit_slips() => Assert.Equal(
        ["liquid_pressure_psig=2344:unit_slip", "suction_pressure_psig=862:unit_slip"], SetAside(("suction_pressure_psig", "862"), ("liquid_pressure_psig", "2344")));

    [Fact]
    public void A_unit_slip_says_what_it_reads_like()
    {
        using var lake = new SampleLake();
        _ = lake.IngestText(PlainRows.Csv(PlainRows.Row(("suction_pressure_psig", "862"), ("liquid_pressure_psig", "2344"))));
        Assert.All(lake.Query("SELECT suggestion FROM set_aside_values"), s => Assert.Contains("kPa", s[0], StringComparison.Ordinal));
    }

    [Fact]
    public void Outdoor_air_typed_in_celsius_is_a_unit_slip_though_it_could_be_a_cold_day() =>
        Assert.Equal(["outdoor_db_f=31:unit_slip"], SetAside(("outdoor_db_f", "31")));

    [Fact]
    public void On_a_cold_day_a_liquid_line_may_stand_far_over_the_outdoor_air() =>
        Assert.Empty(SetAside(("visited_at", "2026-01-14T15:00:00Z"), ("outdoor_db_f", "31")));

    [Fact]
    public void A_thermometer_switched_to_celsius_takes_all_it_reads_along() => Assert.Equal(
        ["liquid_line_f=35:unit_slip", "outdoor_db_f=31:unit_slip", "return_db_f=24.4:unit_slip", "return_wb_f=17.2:unit_slip", "suction_line_f=12.2:unit_slip", "supply_db_f=13.9:unit_slip"],
        SetAside(("outdoor_db_f", "31"), ("return_db_f", "24.4"), ("return_wb_f", "17.2"), ("supply_db_f", "13.9"), ("suction_line_f", "12.2"), ("liquid_line_f", "35")));

    [Fact]
    public void A_gauge_set_switched_to_bar_takes_the_suction_pressure_along() => Assert.Equal(
        ["liquid_pressure_psig=23.4:unit_slip", "suction_pressure_psig=8.6:unit_slip"], SetAside(("suction_pressure_psig", "8.6"), ("liquid_pressure_psig", "23.4")));

    /// <summary>A coil that should have iced: two impossible supply temperatures that would be usual in °C, beside a return that is usual as it stands.</summary>
    [Fact]
    public void A_value_that_is_usual_as_written_keeps_its_neighbours() => Assert.Equal(
        ["supply_db_f=18.1:unit_slip", "supply_wb_f=17.4:unit_slip"], SetAside(("supply_db_f", "18.1"), ("supply_wb_f", "17.4"), ("suction_line_f", "12.8")));

    [Fact]
    public void A_dry_bulb_too_warm_for_a_wet_bulb_stays() => Assert.Equal(["return_wb_f=84:wet_bulb_over_dry_bulb"], SetAside(("return_wb_f", "84")));

    [Fact]
    public void A_wet_bulb_over_its_dry_bulb() => Assert.Contains("return_wb_f=79:wet_bulb_over_dry_bulb", SetAside(("return_wb_f", "79")));

    [Fact]
    public void A_supply_wet_bulb_over_its_dry_bulb() => Assert.Contains("supply_wb_f=61:wet_bulb_over_dry_bulb", SetAside(("supply_wb_f", "61")));

    [Fact]
    public void Crossed_pressures() => Assert.Equal(
        ["liquid_pressure_psig=125:pressures_crossed", "suction_pressure_psig=260:pressures_crossed"], SetAside(("suction_pressure_psig", "260"), ("liquid_pressure_psig", "125")));

    [Fact]
    public void Crossed_pressures_too_high_for_a_suction_gauge_are_still_crossed() => Assert.Equal(
        ["liquid_pressure_psig=125:pressures_crossed", "suction_pressure_psig=340:pressures_crossed"], SetAside(("suction_pressure_psig", "340"), ("liquid_pressure_psig", "125")));

    [Fact]
    public void Crossed_supply_and_return() => Assert.Equal(
        ["return_db_f=57:supply_return_crossed", "supply_db_f=76:supply_return_crossed"], SetAside(("supply_db_f", "76"), ("return_db_f", "57"), ("return_wb_f", "")));

    [Fact]
    public void Crossed_suction_and_liquid_line() => Assert.Equal(
        ["liquid_line_f=54:lines_crossed", "suction_line_f=95:lines_crossed"], SetAside(("suction_line_f", "95"), ("liquid_line_f", "54")));

    [Theory]
    [InlineData("suction_line_f=95", "liquid_line_f=95")] // both over the airs
    [InlineData("suction_line_f=90", "liquid_line_f=54")] // not over the outdoor air by more than the thermometers are off
    [InlineData("suction_line_f=95", "liquid_line_f=81")] // rain on the condenser
    [InlineData("suction_line_f=84;outdoor_db_f=70;return_db_f=82", "liquid_line_f=60")] // a hot house warms the suction line
    [InlineData("suction_line_f=95;outdoor_db_f=", "liquid_line_f=54")]
    [InlineData("suction_line_f=95;return_db_f=;return_wb_f=", "liquid_line_f=54")]
    public void Lines_that_may_be_right_stay(string one, string other) =>
        Assert.Empty(SetAside([.. $"{one};{other}".Split(';').Select(v => v.Split('=')).Select(v => (v[0], v[1]))]));

    [Fact]
    public void A_wild_suction_line_does_not_cost_the_liquid_line() => Assert.Equal(["suction_line_f=540:decimal_slip"], SetAside(("suction_line_f", "540"), ("outdoor_db_f", "110")));

    [Fact]
    public void Crossed_wet_bulbs() => Assert.Equal(
        ["return_wb_f=55.5:wet_bulbs_crossed", "supply_wb_f=63:wet_bulbs_crossed"], SetAside(("return_wb_f", "55.5"), ("supply_wb_f", "63")));

    [Fact]
    public void A_return_dry_bulb_in_the_place_of_the_supply_wet_bulb_does_not_cost_the_return_wet_bulb() => Assert.Equal(
        ["supply_wb_f=76:wet_bulb_over_dry_bulb"], SetAside(("supply_wb_f", "76")));

    [Fact]
    public void Wet_bulbs_apart_by_no_more_than_the_instruments_stay() =>
        Assert.Empty(SetAside(("return_wb_f", "63"), ("supply_wb_f", "66"), ("supply_db_f", "74")));

    [Fact]
    public void Several_reasons_in_one_row() => Assert.Equal(
        ["filter_state=so so:unknown_code", "liquid_line_f=950:decimal_slip", "outdoor_db_f=warm:not_a_number"],
        SetAside(("outdoor_db_f", "warm"), ("filter_state", "so so"), ("liquid_line_f", "950")));

    public static TheoryData<string, string> Unusual => new()
    {
        { "a cool morning", "outdoor_db_f=46;liquid_pressure_psig=210;liquid_line_f=62;suction_pressure_psig=112" },
        { "a dry room with a split of 30 °F", "return_db_f=80;return_wb_f=57;supply_db_f=50" },
        { "little air", "airflow_cfm=729;supply_db_f=48;return_db_f=75" },
        { "R-22 at 60 psig", "refrigerant=R-22;suction_pressure_psig=60;liquid_pressure_psig=210;liquid_line_f=92;suction_line_f=45" },
        { "a loaded filter", "filter_state=loaded;external_static_inwc=1.1" },
        { "starved of refrigerant", "suction_pressure_psig=48;suction_line_f=78;supply_db_f=68" },
        { "a hot afternoon", "outdoor_db_f=117;liquid_pressure_psig=545;liquid_line_f=126" },
        { "saturated supply air", "supply_db_f=57;supply_wb_f=57.4" },
        { "no split at all", "supply_db_f=76;return_db_f=76" },
        { "recovered charge", "correction=charge_removed;charge_change_oz=-40" },
    };

    [Theory]
    [MemberData(nameof(Unusual))]
    public void What_is_unusual_but_possible_stays(string what, string values) =>
        Assert.True(SetAside([.. values.Split(';').Select(v => v.Split('=')).Select(v => (v[0], v[1]))]) is { Count: 0 }, what);

    [Theory]
    [InlineData("88°", "88")]
    [InlineData(" 88 ", "88")]
    [InlineData("88.50", "88.5")]
    [InlineData("+88", "88")]
    [InlineData("−5", "-5")]
    [InlineData("8.8e1", "88")]
    public void A_number_as_people_write_it(string written, string read)
    {
        using var lake = new SampleLake();
        _ = lake.IngestText(PlainRows.Csv(PlainRows.Row(("outdoor_db_f", written), ("liquid_line_f", ""))));
        Assert.Equal(read, lake.One("SELECT outdoor_db_f FROM readings"));
    }
}
