with installs as (

    select * from int_installs_followed

),

by_context as (

    select
        unnest([
            {'context': 'blower_motor', 'context_value': coalesce(blower_motor, 'unknown')},
            {'context': 'duct_location', 'context_value': coalesce(duct_location, 'unknown')},
            {'context': 'indoor_unit', 'context_value': coalesce(indoor_unit, 'unknown')},
            {'context': 'line_set_band', 'context_value': coalesce(line_set_band, 'unknown')},
            {'context': 'metering', 'context_value': coalesce(metering, 'unknown')},
            {'context': 'outdoor_unit', 'context_value': coalesce(outdoor_unit, 'unknown')},
            {'context': 'refrigerant', 'context_value': coalesce(refrigerant, 'unknown')}
        ], recursive := true),
        is_followed_up,
        needed_airflow_correction,
        needed_charge_correction,
        is_corrected
    from installs

),

counted as (

    select
        context,
        context_value,
        count(*) as installs,
        count(*) filter (where is_followed_up = 1) as follow_ups,
        count(*) filter (where is_followed_up = 1 and needed_airflow_correction = 1) as airflow_corrections,
        count(*) filter (where is_followed_up = 1 and needed_charge_correction = 1) as charge_corrections,
        count(*) filter (where is_followed_up = 1 and is_corrected = 1) as corrections
    from by_context
    group by context, context_value

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
