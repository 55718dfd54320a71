with totals as (

    select
        'readings joined' as detail,
        (select count(*) from int_readings_judged) as counted,
        (select count(*) from stg_readings) as expected
    union all
    select
        'findings, at most one a reading',
        (select count(*) from stg_findings),
        least((select count(*) from stg_findings), (select count(*) from stg_readings))

)

select
    detail,
    counted,
    expected
from totals
where counted <> expected
order by detail
