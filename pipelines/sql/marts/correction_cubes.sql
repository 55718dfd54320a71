with installs as (

    select * from int_installs_followed

),

placed as (

    select
        blower_motor,
        crew_id,
        duct_location,
        last_day(installed_on) as install_month,
        metering,
        outdoor_band_of(follow_up_outdoor_f) as outdoor_band,
        refrigerant,
        season,
        size_band,
        is_judged,
        coalesce(needed_airflow_correction, 0) as needed_airflow_correction,
        coalesce(needed_charge_correction, 0) as needed_charge_correction,
        coalesce(is_corrected, 0) as is_corrected
    from installs
    where is_followed_up = 1

),

alike as (

    -- There are few kinds of work and weather, and all pairs come from these. What was not written is named once a group.
    select
        case when grouping(blower_motor) = 0 then coalesce(blower_motor, 'unknown') end as blower_motor,
        case when grouping(crew_id) = 0 then coalesce(crew_id, 'unknown') end as crew_id,
        case when grouping(duct_location) = 0 then coalesce(duct_location, 'unknown') end as duct_location,
        case when grouping(install_month) = 0 then coalesce(month_of(install_month), 'unknown') end as install_month,
        case when grouping(metering) = 0 then coalesce(metering, 'unknown') end as metering,
        case when grouping(outdoor_band) = 0 then coalesce(outdoor_band, 'unknown') end as outdoor_band,
        case when grouping(refrigerant) = 0 then coalesce(refrigerant, 'unknown') end as refrigerant,
        case when grouping(season) = 0 then coalesce(season, 'unknown') end as season,
        case when grouping(size_band) = 0 then coalesce(size_band, 'unknown') end as size_band,
        count(*) as follow_ups,
        sum(is_judged) as judged,
        sum(needed_airflow_correction) as airflow_corrections,
        sum(needed_charge_correction) as charge_corrections,
        sum(is_corrected) as corrections
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
    'all_follow_ups' as population,
    'raw' as adjustment,
    follow_ups,
    judged,
    follow_ups - judged as cannot_judge,
    (judged >= 20)::integer as enough,
    airflow_corrections,
    charge_corrections,
    corrections,
    share(corrections, follow_ups) as rate,
    wilson_low(corrections, follow_ups) as rate_low,
    wilson_high(corrections, follow_ups) as rate_high,
    share(airflow_corrections, follow_ups) as airflow_rate,
    wilson_low(airflow_corrections, follow_ups) as airflow_rate_low,
    wilson_high(airflow_corrections, follow_ups) as airflow_rate_high,
    share(charge_corrections, follow_ups) as charge_rate,
    wilson_low(charge_corrections, follow_ups) as charge_rate_low,
    wilson_high(charge_corrections, follow_ups) as charge_rate_high
from named
order by dimension, dimension_value, second_dimension, second_value
