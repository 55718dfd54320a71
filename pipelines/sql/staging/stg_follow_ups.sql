with source as (

    select * from follow_ups

)

select
    install_id,
    crew_id,
    installed_on,
    commissioning_visit_id,
    follow_up_state,
    follow_up_visit_id,
    follow_up_kind,
    followed_up_on,
    days_to_follow_up,
    as_found_finding,
    needed_airflow_correction,
    needed_charge_correction
from source
