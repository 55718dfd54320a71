with source as (

    select * from sources

)

select
    source_id,
    source_name,
    profile,
    rows_read,
    rows_accepted,
    rows_duplicate,
    rows_superseded,
    rows_rejected,
    values_set_aside
from source
