with source as (

    select * from rejected_rows

)

select
    source_id,
    source_name,
    source_line,
    rejected_reason
from source
