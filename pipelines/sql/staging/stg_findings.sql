with source as (

    select * from findings

)

select
    visit_id,
    reading_no,
    install_id,
    crew_id,
    visited_on,
    finding,
    probability,
    severity,
    cannot_judge_because,
    capacity_loss_pct,
    extra_energy_pct
from source
