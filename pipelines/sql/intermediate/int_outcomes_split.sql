with visit_outcomes as (

    select * from stg_visit_outcomes

),

visits as (

    select * from stg_visits

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
    split.visit_id,
    split.correction,
    split.crew_id,
    visits.technician_id,
    split.visited_on,
    split.outcome
from split
left join visits on split.visit_id = visits.visit_id
where split.correction <> ''
