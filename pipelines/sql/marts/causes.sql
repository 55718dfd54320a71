with readings as (

    select * from int_readings_judged

),

as_found as (

    select * from readings where is_as_found = 1

),

counted as (

    select
        finding,
        count(*) as readings,
        count(distinct install_id) as installs
    from as_found
    group by finding

),

totalled as (

    select
        *,
        sum(readings) over ()::integer as of_readings
    from counted

)

select
    finding,
    finding_group_of(finding) as finding_group,
    readings,
    installs,
    of_readings,
    share(readings, of_readings) as rate,
    wilson_low(readings, of_readings) as rate_low,
    wilson_high(readings, of_readings) as rate_high
from totalled
order by finding
