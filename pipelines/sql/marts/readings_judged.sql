with readings as (

    select * from int_readings_counted

),

sources as (

    select * from stg_sources

),

counted as (

    select
        crew_id,
        month,
        coalesce(source_id, 'unknown') as source_id,
        sum(readings)::integer as readings,
        sum(judged)::integer as judged
    from readings
    group by all

)

select
    counted.crew_id,
    counted.month,
    counted.source_id,
    sources.source_name,
    sources.profile,
    counted.readings,
    counted.judged,
    counted.readings - counted.judged as cannot_judge,
    share(counted.judged, counted.readings) as rate,
    wilson_low(counted.judged, counted.readings) as rate_low,
    wilson_high(counted.judged, counted.readings) as rate_high
from counted
left join sources on counted.source_id = sources.source_id
order by crew_id, month, source_id
