with follow_ups as (

    select * from stg_follow_ups

)

select
    install_id,
    follow_up_state,
    needed_airflow_correction,
    needed_charge_correction
from follow_ups
where (follow_up_state = 'observed') <> (needed_airflow_correction is not null)
    or (follow_up_state = 'observed') <> (needed_charge_correction is not null)
order by install_id
