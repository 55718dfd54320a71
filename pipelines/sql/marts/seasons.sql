with installs as not materialized (

    select * from int_installs_followed

),

readings as (

    select * from int_readings_counted

),

visits as not materialized (

    select * from int_visits_seen

),

-- Counting each visit once is the dear part: visits of one day, nearly all, need no second look.
visits_placed as (

    select season_of(visited_on) as season, count(*) as visits
    from visits
    where visited_on = last_visited_on
    group by visited_on
    union all
    select season, count(*)
    from (select distinct visit_id, season_of(visited_on) as season from int_readings_judged where visit_id in (select visit_id from visits where visited_on <> last_visited_on))
    group by season

),

visited as (

    select
        season,
        sum(visits)::integer as visits
    from visits_placed
    group by season

),

installs_placed as (

    select season_of(installed_on) as season, count(*) as installs
    from installs
    where installed_on is not null
    group by installed_on

),

started as (

    select
        season,
        sum(installs)::integer as installs
    from installs_placed
    group by season

),

followed as (

    select
        season,
        count(*) filter (where is_followed_up = 1) as follow_ups,
        count(*) filter (where is_followed_up = 1 and needed_airflow_correction = 1) as airflow_corrections,
        count(*) filter (where is_followed_up = 1 and needed_charge_correction = 1) as charge_corrections,
        count(*) filter (where is_followed_up = 1 and is_corrected = 1) as corrections
    from installs
    where is_followed_up = 1 and season is not null
    group by season

),

read as (

    select
        season,
        sum(readings)::integer as readings,
        sum(judged)::integer as judged,
        sum(cannot_judge)::integer as cannot_judge,
        sum_where(readings, finding_group not in ('in_line', 'cannot_judge')) as findings
    from readings
    group by season

),

joined as (

    select
        season,
        coalesce(installs, 0) as installs,
        coalesce(visits, 0) as visits,
        coalesce(readings, 0) as readings,
        coalesce(judged, 0) as judged,
        coalesce(cannot_judge, 0) as cannot_judge,
        coalesce(findings, 0) as findings,
        coalesce(follow_ups, 0) as follow_ups,
        coalesce(airflow_corrections, 0) as airflow_corrections,
        coalesce(charge_corrections, 0) as charge_corrections,
        coalesce(corrections, 0) as corrections
    from read
    left join visited using (season)
    full join started using (season)
    full join followed using (season)

)

select
    season,
    'all_follow_ups' as population,
    installs,
    visits,
    readings,
    judged,
    cannot_judge,
    findings,
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
order by season
