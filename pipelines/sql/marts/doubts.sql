with doubts as (

    select * from int_doubts_listed

),

totalled as (

    select
        *,
        sum(first_named) over (partition by crew_id, month)::integer as cannot_judge
    from doubts

)

select
    crew_id,
    month,
    cannot_judge_reason,
    readings,
    first_named,
    cannot_judge,
    share(readings, cannot_judge) as rate,
    wilson_low(readings, cannot_judge) as rate_low,
    wilson_high(readings, cannot_judge) as rate_high
from totalled
order by crew_id, month, cannot_judge_reason
