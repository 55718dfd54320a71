with sources as (

    select * from stg_sources

),

rejected_rows as (

    select * from stg_rejected_rows

),

rejected_counted as (

    select
        source_id,
        count(*) as counted
    from rejected_rows
    group by source_id

)

select
    coalesce(sources.source_id, rejected_counted.source_id) as source_id,
    sources.source_name,
    coalesce(rejected_counted.counted, 0) as counted,
    coalesce(sources.rows_rejected, 0) as expected
from sources
full join rejected_counted on sources.source_id = rejected_counted.source_id
where coalesce(rejected_counted.counted, 0) <> coalesce(sources.rows_rejected, 0)
order by 1
