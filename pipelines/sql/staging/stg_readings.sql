with source as (

    select * from readings

)

select
    visit_id,
    reading_no,
    install_id,
    crew_id,
    technician_id,
    visit_kind,
    visited_at,
    visited_on,
    phase,
    minutes_running,
    filter_state,
    outdoor_db_f,
    return_db_f,
    return_wb_f,
    return_rh_pct,
    supply_db_f,
    suction_pressure_psig,
    liquid_pressure_psig,
    correction
from source
