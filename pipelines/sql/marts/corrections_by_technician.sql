with outcomes as (

    select * from int_outcomes_split

),

counted as (

    select
        crew_id,
        coalesce(technician_id, 'unknown') as technician_id,
        correction,
        count(*) as visits,
        count(*) filter (where outcome = 'cured') as cured,
        count(*) filter (where outcome = 'better') as better,
        count(*) filter (where outcome = 'no_change') as no_change,
        count(*) filter (where outcome = 'worse') as worse,
        count(*) filter (where coalesce(outcome, 'cannot_judge') = 'cannot_judge') as cannot_judge
    from outcomes
    where crew_id is not null
    group by all

)

select
    crew_id,
    technician_id,
    correction,
    visits,
    cured,
    better,
    no_change,
    worse,
    cannot_judge,
    visits - cannot_judge as judged,
    (visits - cannot_judge >= 20)::integer as enough,
    share(cured + better, visits - cannot_judge) as rate,
    wilson_low(cured + better, visits - cannot_judge) as rate_low,
    wilson_high(cured + better, visits - cannot_judge) as rate_high
from counted
order by crew_id, technician_id, correction
