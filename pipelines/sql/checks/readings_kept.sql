with totals as (

    select
        'readings joined' as detail,
        (select coalesce(sum(readings), 0) from int_readings_counted) as counted,
        (select count(*) from stg_readings) as expected
    union all
    select
        'findings, at most one a reading',
        (select count(*) from stg_findings),
        least((select count(*) from stg_findings), (select count(*) from stg_readings))

)

select
    detail,
    counted::integer as counted,
    expected::integer as expected
from totals
where counted <> expected
order by detail
