with source as (

    select * from visit_outcomes

)

select
    visit_id,
    install_id,
    crew_id,
    visited_on,
    as_found_finding,
    as_left_finding,
    correction,
    outcome
from source
