with installs as (

    select * from int_installs_followed

),

alike as (

    select
        blower_motor,
        duct_location,
        indoor_unit,
        line_set_band_of(line_set_ft) as line_set_band,
        metering,
        outdoor_unit,
        refrigerant,
        count(*) as installs,
        count(*) filter (where is_followed_up = 1) as follow_ups,
        count(*) filter (where is_followed_up = 1 and needed_airflow_correction = 1) as airflow_corrections,
        count(*) filter (where is_followed_up = 1 and needed_charge_correction = 1) as charge_corrections,
        count(*) filter (where is_followed_up = 1 and is_corrected = 1) as corrections
    from installs
    group by all

),

named as (

    select * replace (
        coalesce(blower_motor, 'unknown') as blower_motor,
        coalesce(duct_location, 'unknown') as duct_location,
        coalesce(indoor_unit, 'unknown') as indoor_unit,
        coalesce(metering, 'unknown') as metering,
        coalesce(outdoor_unit, 'unknown') as outdoor_unit,
        coalesce(refrigerant, 'unknown') as refrigerant
    )
    from alike

),

by_context as (

    unpivot named
    on blower_motor, duct_location, indoor_unit, line_set_band, metering, outdoor_unit, refrigerant
    into name context value context_value

),

counted as (

    select
        context,
        context_value,
        sum(installs)::integer as installs,
        sum(follow_ups)::integer as follow_ups,
        sum(airflow_corrections)::integer as airflow_corrections,
        sum(charge_corrections)::integer as charge_corrections,
        sum(corrections)::integer as corrections
    from by_context
    group by all

)

select
    context,
    context_value,
    'all_follow_ups' as population,
    installs,
    follow_ups,
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
from counted
order by context, context_value
