with visit_outcomes as (

    select * from stg_visit_outcomes

),

split as (

    select distinct
        visit_id,
        crew_id,
        visited_on,
        outcome,
        trim(unnest(string_split(correction, '+'))) as correction
    from visit_outcomes
    where correction is not null

)

select
    visit_id,
    correction,
    crew_id,
    visited_on,
    outcome
from split
where correction <> ''
