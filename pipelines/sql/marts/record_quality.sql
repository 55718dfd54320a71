with readings as (

    select * from int_readings_judged

),

counted as (

    select
        crew_id,
        month,
        count(*) as readings,
        count(*) filter (where is_judged = 1) as judged,
        sum(values_set_aside)::integer as values_set_aside,
        count(*) filter (where lacks_wet_bulb = 1) as without_wet_bulb,
        count(*) filter (where lacks_pressures = 1) as without_pressures,
        count(*) filter (where lacks_run_time = 1) as without_run_time,
        count(*) filter (where is_too_early = 1) as too_early
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
