with findings as (

    select * from stg_findings

),

readings as (

    select * from stg_readings

),

follow_ups as (

    select * from stg_follow_ups where follow_up_state = 'observed'

),

as_found as (

    select findings.finding
    from findings
    join readings using (visit_id, reading_no)
    where findings.finding <> 'cannot_judge' and coalesce(readings.phase = 'as_found', true)

),

lake as (

    select
        (select count(*) from follow_ups) as follow_ups,
        (select count(*) from follow_ups where needed_airflow_correction = 1) as airflow_corrections,
        (select count(*) from follow_ups where needed_charge_correction = 1) as charge_corrections,
        (select count(*) from as_found) as judged,
        (select count(*) from as_found where finding = 'in_line') as in_line

),

counted as (

    select
        dimension || ' ' || second_dimension as name,
        sum(follow_ups) as follow_ups,
        sum(airflow_corrections) as airflow_corrections,
        sum(charge_corrections) as charge_corrections
    from correction_cubes
    group by all

),

found as (

    select
        dimension || ' ' || second_dimension as name,
        sum(judged_as_found) as judged,
        sum(in_line_findings) as in_line
    from finding_cubes
    group by all

),

-- Nine dimensions and their 36 pairs.
totals as (

    select 'dimensions of follow-ups' as detail, (select count(*) from counted) as counted, case when follow_ups > 0 then 45 else 0 end as expected from lake
    union all
    select 'dimensions of findings', (select count(*) from found), case when judged > 0 then 45 else 0 end from lake
    union all
    select 'follow-ups by ' || name, counted.follow_ups, lake.follow_ups from counted cross join lake
    union all
    select 'airflow corrections by ' || name, counted.airflow_corrections, lake.airflow_corrections from counted cross join lake
    union all
    select 'charge corrections by ' || name, counted.charge_corrections, lake.charge_corrections from counted cross join lake
    union all
    select 'findings by ' || name, found.judged, lake.judged from found cross join lake
    union all
    select 'in line by ' || name, found.in_line, lake.in_line from found cross join lake

)

select
    detail,
    counted::integer as counted,
    expected::integer as expected
from totals
where counted <> expected
order by detail
