with sources as (

    select * from stg_sources

)

select
    source_id,
    source_name,
    rows_accepted + rows_duplicate + rows_superseded + rows_rejected as counted,
    rows_read as expected
from sources
where counted <> expected
order by source_id
