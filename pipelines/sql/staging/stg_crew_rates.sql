with source as (

    select * from crew_rates

)

select
    crew_id,
    compared,
    judged,
    observed
from source
