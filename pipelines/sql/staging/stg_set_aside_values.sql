with source as (

    select * from set_aside_values

)

select
    source_id,
    source_line,
    visit_id,
    reading_no,
    column_name,
    set_aside_reason,
    suggestion
from source
