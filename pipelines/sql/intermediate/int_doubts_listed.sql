with readings as (

    select * from stg_readings

),

findings as (

    select * from stg_findings

),

doubted as (

    select
        readings.visit_id,
        readings.reading_no,
        readings.crew_id,
        month_of(readings.visited_on) as month,
        findings.finding is null as lacks_finding,
        string_split(coalesce(findings.cannot_judge_because, ''), '; ') as doubts
    from readings
    left join findings using (visit_id, reading_no)
    where coalesce(findings.finding, 'cannot_judge') = 'cannot_judge'

),

listed as (

    select
        * exclude (doubts),
        unnest(doubts) as because,
        unnest(range(len(doubts))) as place
    from doubted

),

named as (

    select
        visit_id,
        reading_no,
        crew_id,
        month,
        place,
        case
            when lacks_finding then 'not_diagnosed'
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
        end as cannot_judge_reason
    from listed

)

select
    visit_id,
    reading_no,
    cannot_judge_reason,
    crew_id,
    month,
    (min(place) = 0)::integer as is_first_named
from named
group by visit_id, reading_no, cannot_judge_reason, crew_id, month
