with findings as (

    select * from stg_findings

),

readings as (

    select * from int_readings_counted

),

said as (

    select
        crew_id,
        last_day(visited_on) as month_end,
        case when coalesce(finding, 'cannot_judge') = 'cannot_judge' then coalesce(cannot_judge_because, '') end as doubts,
        count(*) as readings
    from findings
    group by all

),

made as (

    select
        crew_id,
        month,
        sum(readings) as readings
    from readings
    group by all

),

diagnosed as (

    select
        crew_id,
        month_of(month_end) as month,
        sum(readings) as readings
    from said
    group by all

),

texts as (

    -- A text is read once, however many readings bear it.
    select distinct doubts from said where doubts is not null

),

listed as (

    select
        doubts,
        unnest(string_split(doubts, '; ')) as because,
        unnest(range(len(string_split(doubts, '; ')))) as place
    from texts

),

named as (

    select
        doubts,
        case
            when because like 'ran only %' then 'read_too_early'
            when because like 'outdoor % is below %' then 'too_cold_outdoors'
            when because like 'return air % is below %' then 'return_too_cool'
            when because like 'outdoor_db_f missing%' then 'outdoor_missing'
            when because like '%: measure return and supply dry bulb' then 'split_missing'
            when because like '%: measure return wet bulb or humidity' then 'humidity_missing'
            when because like '%: charge on a valve is judged by %' then 'subcooling_missing'
            when because like '%: charge on a fixed orifice is judged by %' then 'superheat_missing'
            when because like 'metering missing%' then 'metering_missing'
            when because like '%fixed-orifice target%' then 'no_orifice_target'
            when because like 'the readings fit no cause%' then 'fits_no_cause'
            when because like 'cannot tell %' then 'causes_alike'
            else 'other'
        end as cannot_judge_reason,
        min(place) = 0 as is_first
    from listed
    group by all

),

counted as (

    select
        said.crew_id,
        month_of(said.month_end) as month,
        named.cannot_judge_reason,
        said.readings,
        case when named.is_first then said.readings else 0 end as first_named
    from said
    join named using (doubts)
    union all
    select
        made.crew_id,
        made.month,
        case when made.readings > coalesce(diagnosed.readings, 0) then 'not_diagnosed' end,
        made.readings - coalesce(diagnosed.readings, 0),
        made.readings - coalesce(diagnosed.readings, 0)
    from made
    left join diagnosed on made.crew_id is not distinct from diagnosed.crew_id and made.month is not distinct from diagnosed.month

)

select
    crew_id,
    month,
    cannot_judge_reason,
    sum(readings)::integer as readings,
    sum(first_named)::integer as first_named
from counted
where cannot_judge_reason is not null
group by all
