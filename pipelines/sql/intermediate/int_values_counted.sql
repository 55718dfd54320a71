with set_aside_values as (

    select * from stg_set_aside_values

)

select
    visit_id,
    reading_no,
    count(*) as values_set_aside
from set_aside_values
where visit_id is not null and reading_no is not null
group by visit_id, reading_no
