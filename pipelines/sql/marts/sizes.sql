with installs as (

    select * from int_installs_followed

),

readings as (

    select * from int_readings_counted

),

installs_counted as (

    select
        size_band,
        count(*) as installs,
        count(*) filter (where is_followed_up = 1) as follow_ups,
        count(*) filter (where is_followed_up = 1 and needed_airflow_correction = 1) as airflow_corrections,
        count(*) filter (where is_followed_up = 1 and needed_charge_correction = 1) as charge_corrections,
        count(*) filter (where is_followed_up = 1 and is_corrected = 1) as corrections
    from installs
    group by size_band

),

readings_counted as (

    select
        size_band,
        sum(readings)::integer as readings,
        sum(judged)::integer as judged,
        sum(cannot_judge)::integer as cannot_judge
    from readings
    group by size_band

),

joined as (

    select
        size_band,
        coalesce(installs, 0) as installs,
        coalesce(readings, 0) as readings,
        coalesce(judged, 0) as judged,
        coalesce(cannot_judge, 0) as cannot_judge,
        coalesce(follow_ups, 0) as follow_ups,
        coalesce(airflow_corrections, 0) as airflow_corrections,
        coalesce(charge_corrections, 0) as charge_corrections,
        coalesce(corrections, 0) as corrections
    from installs_counted
    full join readings_counted using (size_band)

)

select
    size_band,
    'all_follow_ups' as population,
    installs,
    readings,
    judged,
    cannot_judge,
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
from joined
order by size_band
