with readings as (

    select * from stg_readings

),

in_marts as (

    select coalesce(sum(readings), 0)::integer as counted from months

),

in_lake as (

    select count(*) as expected from readings

)

select
    'readings by month' as detail,
    counted,
    expected
from in_marts
cross join in_lake
where counted <> expected
order by detail
