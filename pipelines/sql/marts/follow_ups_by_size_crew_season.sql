with installs as (

    select * from int_installs_followed

),

counted as (

    select
        size_band,
        crew_id,
        season,
        count(*) filter (where is_judged = 1) as judged,
        count(*) filter (where is_judged = 0) as cannot_judge,
        count(*) filter (where is_followed_up = 1) as follow_ups,
        count(*) filter (where is_followed_up = 1 and needed_airflow_correction = 1) as airflow_corrections,
        count(*) filter (where is_followed_up = 1 and needed_charge_correction = 1) as charge_corrections,
        count(*) filter (where is_followed_up = 1 and is_corrected = 1) as corrections
    from installs
    where is_followed_up = 1 and crew_id is not null and season is not null
    group by size_band, crew_id, season

)

select
    size_band,
    crew_id,
    season,
    'all_follow_ups' as population,
    'raw' as adjustment,
    follow_ups,
    judged,
    cannot_judge,
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
from counted
order by size_band, crew_id, season
