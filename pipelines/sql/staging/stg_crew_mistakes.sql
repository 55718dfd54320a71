with source as (

    select * from crew_mistakes

)

select
    crew_id,
    habit,
    judged,
    observed
from source
