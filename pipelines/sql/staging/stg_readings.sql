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
    blower_tap,
    filter_state,
    outdoor_db_f,
    return_db_f,
    return_wb_f,
    return_rh_pct,
    supply_db_f,
    supply_wb_f,
    supply_rh_pct,
    suction_pressure_psig,
    liquid_pressure_psig,
    suction_line_f,
    liquid_line_f,
    discharge_line_f,
    external_static_inwc,
    return_static_inwc,
    supply_static_inwc,
    airflow_cfm,
    airflow_method,
    system_power_w,
    blower_power_w,
    correction,
    source_id
from source
