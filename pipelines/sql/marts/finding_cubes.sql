with findings as (

    select * from int_findings_classed

),

placed as (

    -- Errors in thousandths of a degree, whole: their sums are the same in any order.
    select
        blower_motor,
        crew_id,
        duct_location,
        install_month,
        metering,
        outdoor_band,
        refrigerant,
        season,
        size_band,
        (finding_group = 'in_line')::integer as is_in_line,
        (finding_group = 'airflow')::integer as is_airflow,
        (finding_group = 'charge')::integer as is_charge,
        (finding_group = 'other')::integer as is_other,
        round(split_error_f * 1000)::bigint as split_error,
        round(superheat_error_f * 1000)::bigint as superheat_error,
        round(subcooling_error_f * 1000)::bigint as subcooling_error
    from findings

),

alike as (

    -- There are few kinds of work and weather, and all pairs come from these. What was not written is named once a group.
    select
        case when grouping(blower_motor) = 0 then coalesce(blower_motor, 'unknown') end as blower_motor,
        case when grouping(crew_id) = 0 then coalesce(crew_id, 'unknown') end as crew_id,
        case when grouping(duct_location) = 0 then coalesce(duct_location, 'unknown') end as duct_location,
        case when grouping(install_month) = 0 then coalesce(install_month, 'unknown') end as install_month,
        case when grouping(metering) = 0 then coalesce(metering, 'unknown') end as metering,
        case when grouping(outdoor_band) = 0 then coalesce(outdoor_band, 'unknown') end as outdoor_band,
        case when grouping(refrigerant) = 0 then coalesce(refrigerant, 'unknown') end as refrigerant,
        case when grouping(season) = 0 then coalesce(season, 'unknown') end as season,
        case when grouping(size_band) = 0 then coalesce(size_band, 'unknown') end as size_band,
        count(*) as judged_as_found,
        sum(is_in_line) as in_line_findings,
        sum(is_airflow) as airflow_findings,
        sum(is_charge) as charge_findings,
        sum(is_other) as other_findings,
        count(split_error) as split_errors,
        sum(split_error) as split_sum,
        sum(split_error * split_error) as split_squares,
        count(superheat_error) as superheat_errors,
        sum(superheat_error) as superheat_sum,
        sum(superheat_error * superheat_error) as superheat_squares,
        count(subcooling_error) as subcooling_errors,
        sum(subcooling_error) as subcooling_sum,
        sum(subcooling_error * subcooling_error) as subcooling_squares
    from placed
    group by grouping sets (
        (crew_id, install_month),
        (crew_id, blower_motor, duct_location, metering, refrigerant), (crew_id, outdoor_band, season, size_band),
        (install_month, blower_motor, duct_location, metering, refrigerant), (install_month, outdoor_band, season, size_band),
        (blower_motor, duct_location, metering, outdoor_band, refrigerant, season, size_band)
    )

),

counted as (

    select
        crew_id, install_month,
        sum(columns(* exclude (blower_motor, crew_id, duct_location, install_month, metering, outdoor_band, refrigerant, season, size_band)))::bigint
    from alike
    where crew_id is not null and install_month is not null
    group by grouping sets ((crew_id), (crew_id, install_month), (install_month))
    union all by name
    -- Here each row is of a crew or of a month.
    select
        crew_id, install_month, blower_motor, duct_location, metering, refrigerant,
        sum(columns(* exclude (blower_motor, crew_id, duct_location, install_month, metering, outdoor_band, refrigerant, season, size_band)))::bigint
    from alike
    where (crew_id is null) <> (install_month is null) and blower_motor is not null
    group by grouping sets ((crew_id, install_month, blower_motor), (crew_id, install_month, duct_location), (crew_id, install_month, metering), (crew_id, install_month, refrigerant))
    union all by name
    select
        crew_id, install_month, outdoor_band, season, size_band,
        sum(columns(* exclude (blower_motor, crew_id, duct_location, install_month, metering, outdoor_band, refrigerant, season, size_band)))::bigint
    from alike
    where (crew_id is null) <> (install_month is null) and outdoor_band is not null
    group by grouping sets ((crew_id, install_month, outdoor_band), (crew_id, install_month, season), (crew_id, install_month, size_band))
    union all by name
    select
        blower_motor, duct_location, metering, outdoor_band, refrigerant, season, size_band,
        sum(columns(* exclude (blower_motor, crew_id, duct_location, install_month, metering, outdoor_band, refrigerant, season, size_band)))::bigint
    from alike
    where crew_id is null and install_month is null
    group by grouping sets (
        (blower_motor), (blower_motor, duct_location), (blower_motor, metering), (blower_motor, outdoor_band), (blower_motor, refrigerant), (blower_motor, season), (blower_motor, size_band),
        (duct_location), (duct_location, metering), (duct_location, outdoor_band), (duct_location, refrigerant), (duct_location, season), (duct_location, size_band),
        (metering), (metering, outdoor_band), (metering, refrigerant), (metering, season), (metering, size_band),
        (outdoor_band), (outdoor_band, refrigerant), (outdoor_band, season), (outdoor_band, size_band),
        (refrigerant), (refrigerant, season), (refrigerant, size_band),
        (season), (season, size_band),
        (size_band)
    )

),

named as (

    select
        *,
        dimensions_grouped(blower_motor, crew_id, duct_location, install_month, metering, outdoor_band, refrigerant, season, size_band) as dimensions
    from counted

)

select
    dimensions[1].name as dimension,
    dimensions[1].value as dimension_value,
    coalesce(dimensions[2].name, 'none') as second_dimension,
    coalesce(dimensions[2].value, 'all') as second_value,
    judged_as_found,
    in_line_findings,
    share(in_line_findings, judged_as_found) as in_line_share,
    wilson_low(in_line_findings, judged_as_found) as in_line_share_low,
    wilson_high(in_line_findings, judged_as_found) as in_line_share_high,
    airflow_findings,
    share(airflow_findings, judged_as_found) as airflow_share,
    wilson_low(airflow_findings, judged_as_found) as airflow_share_low,
    wilson_high(airflow_findings, judged_as_found) as airflow_share_high,
    charge_findings,
    share(charge_findings, judged_as_found) as charge_share,
    wilson_low(charge_findings, judged_as_found) as charge_share_low,
    wilson_high(charge_findings, judged_as_found) as charge_share_high,
    other_findings,
    share(other_findings, judged_as_found) as other_share,
    wilson_low(other_findings, judged_as_found) as other_share_low,
    wilson_high(other_findings, judged_as_found) as other_share_high,
    split_errors,
    mean_of(split_errors, split_sum) as split_error_mean_f,
    sd_of(split_errors, split_sum, split_squares) as split_error_sd_f,
    superheat_errors,
    mean_of(superheat_errors, superheat_sum) as superheat_error_mean_f,
    sd_of(superheat_errors, superheat_sum, superheat_squares) as superheat_error_sd_f,
    subcooling_errors,
    mean_of(subcooling_errors, subcooling_sum) as subcooling_error_mean_f,
    sd_of(subcooling_errors, subcooling_sum, subcooling_squares) as subcooling_error_sd_f
from named
order by dimension, dimension_value, second_dimension, second_value
