with readings as (

    select * from int_readings_judged

),

by_visit as (

    select
        visit_id,
        min(visited_on) as visited_on,
        max(visited_on) as last_visited_on,
        arg_min(outdoor_db_f, reading_no) as outdoor_db_f,
        arg_min(minutes_running, reading_no) as minutes_running,
        arg_max(filter_state, reading_no) as filter_state,
        1 - min(lacks_wet_bulb) as has_humidity,
        min(charge_touched_from) as charge_touched_from,
        min(reading_no) filter (where finding not in ('airflow_high', 'airflow_low', 'cannot_judge')) as airflow_in_line_from,
        arg_min(finding, reading_no) filter (where finding not in ('airflow_high', 'airflow_low', 'cannot_judge')) as finding
    from readings
    group by visit_id

)

select
    visit_id,
    visited_on,
    last_visited_on,
    outdoor_db_f,
    minutes_running,
    filter_state,
    has_humidity,
    -- Charge is judged where airflow is in line: at the visit's first reading that finds nothing wrong with airflow, before anyone has touched the charge.
    case when charge_touched_from is null or airflow_in_line_from < charge_touched_from then finding end as charge_found
from by_visit
