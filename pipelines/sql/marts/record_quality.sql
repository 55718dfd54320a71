with readings as (

    select * from int_readings_counted

),

counted as (

    select
        crew_id,
        month,
        sum(readings)::integer as readings,
        sum(judged)::integer as judged,
        sum(values_set_aside)::integer as values_set_aside,
        sum(without_wet_bulb)::integer as without_wet_bulb,
        sum(without_pressures)::integer as without_pressures,
        sum(without_run_time)::integer as without_run_time,
        sum(too_early)::integer as too_early
    from readings
    group by crew_id, month

)

select
    crew_id,
    month,
    readings,
    judged,
    share(judged, readings) as rate,
    wilson_low(judged, readings) as rate_low,
    wilson_high(judged, readings) as rate_high,
    values_set_aside,
    without_wet_bulb,
    without_pressures,
    without_run_time,
    too_early
from counted
order by crew_id, month
