with source as (

    select * from visits

)

select
    visit_id,
    install_id,
    crew_id,
    technician_id,
    visit_kind,
    started_at,
    visited_on,
    readings
from source
