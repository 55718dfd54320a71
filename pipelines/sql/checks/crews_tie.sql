with installs as (

    select * from stg_installs

),

in_marts as (

    select coalesce(sum(installs), 0)::integer as counted from crews

),

in_lake as (

    select count(*) as expected from installs where crew_id is not null

)

select
    'installs by crew' as detail,
    counted,
    expected
from in_marts
cross join in_lake
where counted <> expected
order by detail
