with judged as (

    select count(*) as counted from int_readings_judged

),

staged as (

    select count(*) as expected from stg_readings

)

select
    'readings joined' as detail,
    counted,
    expected
from judged
cross join staged
where counted <> expected
order by detail
