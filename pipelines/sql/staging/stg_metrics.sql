with source as (

    select * from metrics

)

select
    visit_id,
    reading_no,
    install_id,
    crew_id,
    visited_on,
    split_error_f,
    superheat_error_f,
    subcooling_error_f,
    temperature_split_f,
    capacity_ratio,
    freeze_margin_f
from source
