with visits as (

    select * from stg_visits

)

select
    install_id,
    min(visited_on) as planned_on
from visits
where visit_kind in ('quality_check', 'maintenance')
group by install_id
