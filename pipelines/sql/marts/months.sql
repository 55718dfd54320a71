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

    select last_day(visited_on) as month_end
    from visits
    where visited_on = last_visited_on
    union all
    select month_end
    from (select distinct visit_id, last_day(visited_on) as month_end from int_readings_judged where visit_id in (select visit_id from visits where visited_on <> last_visited_on))

),

visited as (

    select
        month_of(month_end) as month,
        count(*) as visits
    from visits_placed
    group by month_end

),

started as (

    select
        month_of(last_day(installed_on)) as month,
        count(*) as installs
    from installs
    where installed_on is not null
    group by last_day(installed_on)

),

followed as (

    select
        month_of(last_day(followed_up_on)) as month,
        count(*) filter (where is_followed_up = 1) as follow_ups,
        count(*) filter (where is_followed_up = 1 and needed_airflow_correction = 1) as airflow_corrections,
        count(*) filter (where is_followed_up = 1 and needed_charge_correction = 1) as charge_corrections,
        count(*) filter (where is_followed_up = 1 and is_corrected = 1) as corrections
    from installs
    where is_followed_up = 1 and followed_up_on is not null
    group by last_day(followed_up_on)

),

read as (

    select
        month,
        sum(readings)::integer as readings,
        sum(judged)::integer as judged,
        sum(cannot_judge)::integer as cannot_judge,
        sum_where(readings, finding_group not in ('in_line', 'cannot_judge')) as findings
    from readings
    group by month

),

joined as (

    select
        month,
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
    left join visited using (month)
    full join started using (month)
    full join followed using (month)

)

select
    month,
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
order by month
