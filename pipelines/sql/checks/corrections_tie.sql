with outcomes as (

    select * from stg_visit_outcomes

),

by_kind as (

    select * from corrections_worked

),

by_technician as (

    select * from corrections_by_technician

),

pieces as (

    select
        crew_id,
        outcome,
        len(list_distinct(list_filter(list_transform(string_split(correction, '+'), lambda c: trim(c)), lambda c: c <> ''))) as corrections
    from outcomes
    where correction is not null

),

totals as (

    select
        'corrections by kind' as detail,
        (select coalesce(sum(visits), 0) from by_kind) as counted,
        (select coalesce(sum(corrections), 0) from pieces) as expected
    union all
    select
        'corrections by technician',
        (select coalesce(sum(visits), 0) from by_technician),
        (select coalesce(sum(corrections), 0) from pieces where crew_id is not null)
    union all
    select
        'corrections by technician that cured or bettered',
        (select coalesce(sum(cured + better), 0) from by_technician),
        (select coalesce(sum(corrections), 0) from pieces where crew_id is not null and outcome in ('cured', 'better'))

)

select
    detail,
    counted::integer as counted,
    expected::integer as expected
from totals
where counted <> expected
order by detail
